"""Every picture of the gallery, flown from the demo demonstrations, is drawn as when somebody last looked."""

from __future__ import annotations

from pathlib import Path

import pytest

from gyrochalk.figures import DARK, GREY, LIGHT, PAGE, PROJECTOR, FigureOptions, Theme
from gyrochalk.figures.examples import EXAMPLES, Example
from gyrochalk.figures.options import kinds
from gyrochalk.lesson import Flights, Workspace
from gyrochalk.lesson.address import parse_address
from gyrochalk.lesson.drawing import draw_link
from tests.golden.comparing import KEPT, check

THEMES = (PAGE, LIGHT, DARK, GREY, PROJECTOR)
FLIGHTS = Flights(Workspace(Path(__file__).parents[2] / "course"))


@pytest.mark.parametrize("theme", THEMES, ids=lambda t: t.name)
@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: e.name)
def test_example_is_drawn_as_kept(example: Example, theme: Theme) -> None:
    drawn = draw_link(example.link, FLIGHTS, theme)
    check(f"gallery-{example.name}-{theme.name}", drawn.svg if theme is PAGE else drawn.standalone())


def test_no_picture_is_kept_that_is_not_drawn() -> None:
    ours = {f"gallery-{example.name}-{theme.name}" for example in EXAMPLES for theme in THEMES}
    assert {path.stem for path in KEPT.glob("gallery-*.svg")} == ours


def test_every_kind_of_picture_is_an_example() -> None:
    options = (parse_address(example.link, measured=False, example="").options for example in EXAMPLES)
    assert {FigureOptions.parse(each).kind for each in options} == set(kinds())
