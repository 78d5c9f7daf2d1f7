"""The loop, the Earth's field, the compass round, two runs and strips are drawn as when somebody last looked."""

from __future__ import annotations

import pytest

from gyrochalk.figures import DARK, GREY, LIGHT, PAGE, PROJECTOR, Theme
from tests.figures.loop_pictures import LOOP_PICTURES, loop_picture
from tests.figures.read_back import parse
from tests.golden.comparing import KEPT, check

THEMES = (PAGE, LIGHT, DARK, GREY, PROJECTOR)


@pytest.mark.parametrize("theme", THEMES, ids=lambda t: t.name)
@pytest.mark.parametrize("name", LOOP_PICTURES)
def test_picture_is_drawn_as_kept(name: str, theme: Theme) -> None:
    drawn = loop_picture(name, theme)
    check(f"{name}-{theme.name}", drawn.svg if theme is PAGE else drawn.standalone())


def test_no_picture_is_kept_that_is_not_drawn() -> None:
    ours = {f"{name}-{theme.name}" for name in LOOP_PICTURES for theme in THEMES}
    beginnings = tuple({name.split("-", maxsplit=1)[0] + "-" for name in LOOP_PICTURES})
    assert {path.stem for path in KEPT.glob("*.svg") if path.stem.startswith(beginnings)} == ours


@pytest.mark.parametrize("theme", THEMES, ids=lambda t: t.name)
@pytest.mark.parametrize("name", LOOP_PICTURES)
def test_picture_is_well_formed_and_needs_no_stylesheet(name: str, theme: Theme) -> None:
    svg = loop_picture(name, theme).standalone()
    assert parse(svg).tag == "{http://www.w3.org/2000/svg}svg"
    assert ' class="' not in svg.replace(' class="picture"', "")
