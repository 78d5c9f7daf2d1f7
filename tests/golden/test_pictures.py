"""Every picture in every theme is drawn as it was when somebody last looked at it."""

from __future__ import annotations

import pytest

from gyrochalk.figures import DARK, GREY, LIGHT, PAGE, PROJECTOR, Theme
from tests.figures.pictures import PICTURES, picture
from tests.golden.comparing import KEPT, check, difference, normalised

THEMES = (PAGE, LIGHT, DARK, GREY, PROJECTOR)


@pytest.mark.parametrize("theme", THEMES, ids=lambda t: t.name)
@pytest.mark.parametrize("name", PICTURES)
def test_picture_is_drawn_as_kept(name: str, theme: Theme) -> None:
    drawn = picture(name, theme)
    check(f"{name}-{theme.name}", drawn.svg if theme is PAGE else drawn.standalone())


def test_no_picture_is_kept_that_is_not_drawn() -> None:
    ours = {f"{name}-{theme.name}" for name in PICTURES for theme in THEMES}
    known = {path.stem for path in KEPT.glob("*.svg") if path.stem.rsplit("-", 1)[0] in PICTURES}
    assert known == ours


def test_a_moved_line_is_seen() -> None:
    svg = picture("ribbon-turn", PAGE).svg
    moved = svg.replace(' cx="', ' cx="1', 1)
    assert moved != svg
    assert difference(normalised(svg), normalised(moved)) is not None


def test_a_changed_word_is_seen() -> None:
    svg = picture("ribbon-turn", PAGE).svg
    assert difference(normalised(svg), normalised(svg.replace("reads low", "reads high"))) is not None


def test_rounding_is_no_change() -> None:
    svg = picture("ribbon-turn", PAGE).svg
    assert difference(normalised(svg), normalised(svg)) is None
    assert difference('<a x="1.0"/>', '<a x="1.1"/>') is None
    assert difference('<a x="1.0"/>', '<a x="1.2"/>') is not None
