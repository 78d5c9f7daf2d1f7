"""Numbers as a person states them in a lesson."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.errors import MaterialError
from gyrochalk.quantities import Stated, parse_stated
from gyrochalk.units import UNITS, format_quantity

BOUND = "a bound is less than, more than, or between two numbers of one unit"


@pytest.mark.parametrize(
    ("text", "number", "unit", "decimals"),
    [
        ("30 min", "30", "min", 0),
        ("30.0 min", "30.0", "min", 1),
        ("3.0 deg/min", "3.0", "deg/min", 1),
        ("−7.9 °/h", "-7.9", "deg/h", 1),
        ("1 h 30 min", "90", "min", 0),
        ("0.7", "0.7", None, 1),
        ("20 %", "20", "%", 0),
        ("52.5 N", "52.5", "deg", 1),
        ("12° W", "-12", "deg", 0),
    ],
)
def test_every_digit_counts(text: str, number: str, unit: str | None, decimals: int) -> None:
    stated = parse_stated(text)
    assert (stated.number, stated.unit, stated.decimals) == (Decimal(number), unit, decimals)
    assert (stated.about, stated.heading, stated.bound) == (False, False, None)


@pytest.mark.parametrize("word", ["about ", "About ", "around ", "roughly ", "approximately ", "nearly ", "≈ ", "~"])
def test_about(word: str) -> None:
    stated = parse_stated(word + "2°")
    assert stated == Stated(word.strip() + (" " if word[-1] == " " else "") + "2°", Decimal(2), "deg", 0, about=True)


@pytest.mark.parametrize(
    ("text", "heading", "figures", "north"),
    [
        ("045° M", True, True, "magnetic"),
        ("120T", True, True, "true"),
        ("045", True, True, None),
        ("000°", True, True, None),
        ("120°", False, True, None),
        ("120", False, True, None),
        ("45°", False, False, None),
        ("100 m", False, False, None),
    ],
)
def test_what_can_be_a_heading(text: str, heading: bool, figures: bool, north: str | None) -> None:
    stated = parse_stated(text)
    assert (stated.heading, stated.figures, stated.north) == (heading, figures, north)


@pytest.mark.parametrize(
    ("text", "bound", "number", "upper", "unit"),
    [
        ("less than 3°", "below", "3", None, "deg"),
        ("at most 3°", "below", "3", None, "deg"),
        ("< 3°", "below", "3", None, "deg"),
        ("more than 3 min", "above", "3", None, "min"),
        ("at least 3 min", "above", "3", None, "min"),
        ("between 2 and 3°", "between", "2", "3", "deg"),
        ("2 to 3 min", "between", "2", "3", "min"),
        ("from 2 min to 3 min", "between", "2", "3", "min"),
        ("2–3°", "between", "2", "3", "deg"),
        ("2-3°", "between", "2", "3", "deg"),
        ("−3 to −2 deg", "between", "-3", "-2", "deg"),
        ("350 to 010", "between", "350", "10", "deg"),
    ],
)
def test_bounds_in_words(text: str, bound: str, number: str, upper: str | None, unit: str) -> None:
    stated = parse_stated(text)
    assert (stated.bound, stated.number, stated.unit) == (bound, Decimal(number), unit)
    assert stated.upper == (None if upper is None else Decimal(upper))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "two minutes",
            "two minutes does not begin with a number; allowed is a number with its unit; "
            "write for example 30 min  [number-unreadable]",
        ),
        (
            "45M",
            "45M is not a three-figure heading; a heading is three figures from 000 to 360, with T, M or C after it "
            "for the north it is from; write 045M  [heading-unreadable]",
        ),
        (
            "about less than 2°",
            f"about less than 2° says about and below at once; {BOUND}; write one of them  [bound-unclear]",
        ),
        (
            "1e1°",
            "1e1° is written with a power of ten; a number in plain figures; write 10°  [number-unreadable]",
        ),
        (
            "about −1.5E-3 deg",
            "−1.5E-3 deg is written with a power of ten; a number in plain figures; write -0.0015 deg  "
            "[number-unreadable]",
        ),
        ("3 to 2 deg", f"3 to 2 deg begins with its greater end; {BOUND}; write the lesser end first  [bound-unclear]"),
        (
            "between 2 deg and 3 kt",
            f"between 2 deg and 3 kt has two units; {BOUND}; write both ends in the same unit  [bound-unclear]",
        ),
    ],
)
def test_what_cannot_be_read(text: str, message: str) -> None:
    with pytest.raises(MaterialError) as refusal:
        parse_stated(text)
    assert str(refusal.value) == message


@given(st.floats(-1e4, 1e4), st.sampled_from([name for name in UNITS if name != "1"]), st.integers(0, 4))
def test_what_is_shown_can_be_stated(number: float, unit: str, decimals: int) -> None:
    stated = parse_stated(format_quantity(number, unit, decimals))
    if not stated.heading:
        assert (stated.unit, stated.decimals) == (unit, decimals)
    assert float(stated.number) == float(format_quantity(number, "1", decimals).replace("−", "-"))


def test_half_a_unit_of_the_last_digit() -> None:
    assert [parse_stated(text).half_unit for text in ("30 min", "30.0 min")] == [
        Decimal("0.5"),
        Decimal("0.05"),
    ]
