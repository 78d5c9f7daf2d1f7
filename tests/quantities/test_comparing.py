"""When a stated number holds."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.errors import MaterialError
from gyrochalk.quantities import Value, compare, parse_stated
from gyrochalk.quantities.comparing import Bound
from gyrochalk.units import North, format_heading, format_quantity

ERROR = Value(2.3, "deg", measure="slaved.end_error")
HEADING = Value(45.4, "deg", "magnetic", measure="slaved.end_heading")
BOUND = "a bound is less than, more than, or between two numbers of one unit"
FIGURES = "a heading is three figures from 000 to 360"


def holds(text: str, number: float, unit: str, north: North | None = None, within: str | None = None) -> bool:
    """Whether a statement about a value holds."""
    return compare(parse_stated(text), Value(number, unit, north), within).holds


@pytest.mark.parametrize(
    ("text", "number", "unit", "agrees"),
    [
        ("30 min", 1829.9, "s", True),
        ("30 min", 1830.0, "s", True),
        ("30 min", 1770.0, "s", True),
        ("30 min", 1830.000001, "s", False),
        ("30 min", 1769.999999, "s", False),
        ("30.0 min", 1803.0, "s", True),
        ("30.0 min", 1803.1, "s", False),
        ("0.5 h", 31.0, "min", True),
        ("2.05°", 2.055, "deg", True),
        ("2.05°", 2.0451, "deg", True),
        ("2.05°", 2.0449, "deg", False),
        ("0.1 deg/min", 6.0, "deg/h", True),
        ("2°", -2.0, "deg", False),
        ("−2°", -2.0, "deg", True),
        ("12° W", -12.4, "deg", True),
    ],
)
def test_half_a_unit_of_the_last_written_digit(text: str, number: float, unit: str, agrees: bool) -> None:
    assert holds(text, number, unit) is agrees


@pytest.mark.parametrize(
    ("text", "number", "agrees"),
    [
        ("360°", 0.4, True),
        ("000", 359.6, True),
        ("360", 359.4, False),
        ("045° M", 45.5, True),
        ("120°", 119.5, True),
        ("120", 119.4, False),
        ("359.9", 0.0, False),
        ("359.9", 359.94, True),
    ],
)
def test_headings_differ_the_short_way_round(text: str, number: float, agrees: bool) -> None:
    assert holds(text, number, "deg", "magnetic") is agrees


@pytest.mark.parametrize(
    ("text", "within", "number", "agrees"),
    [
        ("about 2°", "20%", 2.4, True),
        ("about 2°", "20 %", 1.6, True),
        ("about 2°", "20%", 2.41, False),
        ("about −2°", "20%", -2.4, True),
        ("about 2°", "0.5 deg", 2.5, True),
        ("about 2°", "0,5 deg", 2.51, False),
        ("2°", "1 deg", 2.9, True),
    ],
)
def test_a_stated_tolerance(text: str, within: str, number: float, agrees: bool) -> None:
    assert holds(text, number, "deg", within=within) is agrees


def test_a_tolerance_in_another_unit_and_about_a_heading() -> None:
    assert holds("about 30 min", 1850.0, "s", within="1 min")
    assert holds("about 045°", 47.9, "deg", "compass", within="3 deg")


@pytest.mark.parametrize(
    ("text", "bound", "number", "margin"),
    [
        ("less than 3°", None, 2.5, 0.5),
        ("less than 3°", None, 3.0, 0.0),
        ("less than 3°", None, -5.0, -2.0),
        ("less than −3°", None, -5.0, 2.0),
        ("3°", "below", 2.5, 0.5),
        ("more than 3°", None, 3.5, 0.5),
        ("more than 3°", "above", -5.0, -8.0),
        ("between 2 and 3°", None, 2.25, 0.25),
        ("between 2 and 3°", "between", 3.25, -0.25),
        ("−3 to −2 deg", None, -2.5, 0.5),
        ("2°", ("between", "2 deg", "3 deg"), 2.75, 0.25),
    ],
)
def test_bounds(text: str, bound: Bound | None, number: float, margin: float) -> None:
    comparison = compare(parse_stated(text), Value(number, "deg"), bound=bound)
    assert comparison.margin == margin
    assert comparison.holds is (margin >= 0)


@pytest.mark.parametrize(
    ("number", "agrees"), [(0.0, True), (355.0, True), (10.0, True), (11.0, False), (180.0, False)]
)
def test_a_range_of_headings_runs_clockwise(number: float, agrees: bool) -> None:
    assert holds("350 to 010", number, "deg", "magnetic") is agrees


def test_what_a_comparison_tells() -> None:
    comparison = compare(parse_stated("30.0 min"), Value(1804.0, "s", None, 1804.0, "slaved.time_to_align"))
    assert (comparison.holds, comparison.unit, comparison.computed) == (False, "min", "30.07 min")
    assert comparison.tolerance == 0.05
    assert comparison.difference == pytest.approx(4 / 60)
    assert comparison.margin == pytest.approx(0.05 - 4 / 60)
    assert compare(parse_stated("045°"), HEADING).computed == "045.4° M"
    assert compare(parse_stated("12° W"), Value(-12.83, "deg")).computed == "12.8° W"
    assert compare(parse_stated("1° W"), Value(0.3, "deg")).computed == "0.3° E"
    assert compare(parse_stated("52.1 N"), Value(-52.0, "deg")).computed == "52.00° S"


@pytest.mark.parametrize(
    ("text", "value", "within", "bound", "message"),
    [
        ("3", ERROR, None, None, "3 has no unit; allowed are deg, rad; write for example 3 deg  [unit-missing]"),
        (
            "3 kt",
            ERROR,
            None,
            None,
            "3 kt is a speed, and slaved.end_error is an angle; allowed are deg, rad; "
            "write it in one of these, or choose another measure  [unit-wrong]",
        ),
        (
            "045M",
            ERROR,
            None,
            None,
            "045M is a heading, and slaved.end_error is an angle; allowed are deg, rad; write 45°  [unit-wrong]",
        ),
        (
            "3 min",
            HEADING,
            None,
            None,
            f"3 min is a time, and slaved.end_heading is a heading; {FIGURES}; write for example 045°  [unit-wrong]",
        ),
        (
            "45°",
            HEADING,
            None,
            None,
            f"45° is stated about slaved.end_heading, which is a heading; {FIGURES}; "
            "write 045° M  [heading-unreadable]",
        ),
        (
            "045T",
            HEADING,
            None,
            None,
            "045T is from true north, and slaved.end_heading is from magnetic north; "
            "a heading is compared with its own north; leave the letter out, or write 045° M  [north-wrong]",
        ),
        (
            "about 2°",
            ERROR,
            None,
            None,
            "about 2° says about, and nothing says how far off it may be; about needs within, a percentage or a "
            "quantity; add ?within=20% or ?within=0.5 and its unit to the link  [tolerance-missing]",
        ),
        (
            "about 2°",
            ERROR,
            "much",
            None,
            "within=much cannot be read; within is a percentage such as 20% or a quantity such as 0.5 deg; "
            "write for example within=20%, or a quantity with its unit  [tolerance-unreadable]",
        ),
        (
            "about 2°",
            ERROR,
            "0.5 kt",
            None,
            "within=0.5 kt does not measure what about 2° does; within is a percentage such as 20% or a quantity such "
            "as 0.5 deg; write for example within=20%, or a quantity with its unit  [tolerance-unreadable]",
        ),
        (
            "about 2°",
            ERROR,
            "100%",
            None,
            "within=100% lets everything hold; a tolerance in percent is less than 100 %; "
            "write for example within=20%, or a quantity with its unit  [tolerance-unreadable]",
        ),
        (
            "450°",
            HEADING,
            None,
            None,
            f"450° is stated about {HEADING.measure}, which is a heading; {FIGURES}; write 090° M if that is meant  "
            "[heading-unreadable]",
        ),
        (
            "between 350 and 370",
            HEADING,
            None,
            None,
            f"between 350 and 370 is stated about {HEADING.measure}, which is a heading; {FIGURES}; write 350° M if "
            "that is meant  [heading-unreadable]",
        ),
        (
            "about 2°",
            ERROR,
            "-5%",
            None,
            "within=-5% leaves no room; within is a percentage such as 20% or a quantity such as 0.5 deg; "
            "write for example within=20%, or a quantity with its unit  [tolerance-unreadable]",
        ),
        (
            "about 0°",
            ERROR,
            "20%",
            None,
            "within=20% of about 0° means nothing; within is a percentage such as 20% or a quantity such as 0.5 deg; "
            "write for example within=20%, or a quantity with its unit  [tolerance-unreadable]",
        ),
        (
            "less than 3°",
            ERROR,
            "20%",
            None,
            f"less than 3° is a bound and has a tolerance; {BOUND}; leave one of them out  [bound-unclear]",
        ),
        (
            "less than 3°",
            ERROR,
            None,
            "above",
            f"less than 3° says below, but is=above; {BOUND}; let both say the same  [bound-unclear]",
        ),
        (
            "2°",
            ERROR,
            None,
            "between",
            f"2° has only one end; {BOUND}; write for example between 2° and 3°  [bound-unclear]",
        ),
        (
            "2°",
            ERROR,
            None,
            "near",
            f"is=near is not a bound; {BOUND}; write is=below, is=above or is=between  [bound-unclear]",
        ),
        (
            "045°",
            HEADING,
            None,
            "below",
            f"045° is a bound on a heading; {BOUND}; write between two headings  [bound-unclear]",
        ),
    ],
)
def test_what_cannot_be_compared(
    text: str, value: Value, within: str | None, bound: Bound | None, message: str
) -> None:
    with pytest.raises(MaterialError) as refusal:
        compare(parse_stated(text), value, within, bound)
    assert str(refusal.value) == message


@given(st.floats(-1e4, 1e4), st.integers(0, 4))
def test_a_number_as_it_is_shown_always_holds(number: float, decimals: int) -> None:
    stated = parse_stated(format_quantity(number, "kt", decimals))
    assert compare(stated, Value(number, "kt")).holds


@given(st.floats(0, 359.999), st.integers(0, 3))
def test_a_heading_as_it_is_shown_always_holds(degrees: float, decimals: int) -> None:
    stated = parse_stated(format_heading(degrees, "magnetic", decimals))
    assert compare(stated, Value(degrees, "deg", "magnetic")).holds


@given(st.decimals(-1000, 1000, places=2), st.sampled_from([1, -1]))
def test_just_beyond_the_edge_never_holds(number: Decimal, side: int) -> None:
    stated = parse_stated(f"{number} kt")
    edge = float(number + side * Decimal("0.005"))
    beyond = float(number + side * Decimal("0.0050001"))
    assert compare(stated, Value(edge, "kt")).holds
    assert not compare(stated, Value(beyond, "kt")).holds
