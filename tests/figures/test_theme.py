"""A quantity keeps its sign, and everyone can tell it: contrast, colour vision, grey print."""

from __future__ import annotations

import itertools

import pytest

from gyrochalk.figures.contrast import (
    DEFICIENCIES,
    MARK_CONTRAST,
    TEXT_CONTRAST,
    contrast,
    linear_rgb,
    luminance,
    seen_with,
)
from gyrochalk.figures.theme import DARK, GREY, LIGHT, LINES, THEMES, Theme
from gyrochalk.figures.words import INSTRUMENTS

LETTERS = tuple(INSTRUMENTS.values())
EVERY = pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)


def test_contrast_of_black_and_white_is_21() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == pytest.approx(1.0)


def test_contrast_of_a_known_pair() -> None:
    """#767676 on white is the lightest grey that passes 4.5:1 (common practice in accessibility guides)."""
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)
    assert contrast("#777777", "#FFFFFF") < TEXT_CONTRAST


@EVERY
def test_text_can_be_read(theme: Theme) -> None:
    """Quantities are written on the ground only (their letters too: a badge has the ground inside)."""
    for role in ("ink", "quiet", "alert", "acting", *LETTERS):
        assert contrast(theme.colours[role], theme.colours["ground"]) >= TEXT_CONTRAST, role
    for role in ("ink", "quiet"):
        assert contrast(theme.colours[role], theme.colours["shade"]) >= TEXT_CONTRAST, role


@EVERY
@pytest.mark.parametrize("ground", ["ground", "shade"])
def test_marks_can_be_seen(theme: Theme, ground: str) -> None:
    for role in ("axis", "acting", *LETTERS):
        assert contrast(theme.colours[role], theme.colours[ground]) >= MARK_CONTRAST, role


@EVERY
@pytest.mark.parametrize("deficiency", DEFICIENCIES)
def test_marks_can_be_seen_with_a_colour_vision_deficiency(theme: Theme, deficiency: str) -> None:
    ground = seen_with(deficiency, theme.colours["ground"])
    for letter in (*LETTERS, "acting"):
        assert contrast(seen_with(deficiency, theme.colours[letter]), ground) >= MARK_CONTRAST


@pytest.mark.parametrize("deficiency", DEFICIENCIES)
def test_white_stays_white(deficiency: str) -> None:
    assert all(sum(row) == pytest.approx(1.0, abs=1e-4) for row in DEFICIENCIES[deficiency])
    assert seen_with(deficiency, "#FFFFFF") == "#FFFFFF"


def test_red_and_green_of_one_luminance_become_alike_without_the_green_cone() -> None:
    red, green = (linear_rgb(seen_with("deuteranopia", colour)) for colour in ("#D00000", "#007400"))
    before = sum(abs(a - b) for a, b in zip(linear_rgb("#D00000"), linear_rgb("#007400"), strict=True))
    assert sum(abs(a - b) for a, b in zip(red, green, strict=True)) < 0.35 * before


def test_no_two_quantities_share_a_line() -> None:
    """Letter and line alone must tell them apart: no two have the same dash and nearly the same width."""
    for one, other in itertools.combinations(LETTERS, 2):
        a, b = LINES[one], LINES[other]
        assert a.dash != b.dash or abs(a.width - b.width) >= 1.5, (one, other)


def test_in_grey_print_each_quantity_differs_in_luminance_or_dash() -> None:
    for one, other in itertools.combinations(LETTERS, 2):
        apart = abs(luminance(GREY.colours[one]) - luminance(GREY.colours[other]))
        dashes = LINES[one].dash != LINES[other].dash
        assert dashes or apart > 0.1 or abs(LINES[one].width - LINES[other].width) >= 1.5, (one, other)


def test_grey_is_grey() -> None:
    assert all(c[1:3] == c[3:5] == c[5:7] for c in GREY.colours.values())


def test_every_theme_dresses_the_same_roles() -> None:
    assert {frozenset(theme.colours) for theme in THEMES.values()} == {frozenset(LIGHT.colours)}


def test_dark_is_dark() -> None:
    assert luminance(DARK.colours["ground"]) < 0.02
