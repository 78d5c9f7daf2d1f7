"""Numbers with units, as people write them."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.errors import MaterialError
from gyrochalk.units import UNITS, convert, find_unit, parse, parse_quantity, ratio, read_quantity


@pytest.mark.parametrize(
    ("text", "to", "number"),
    [
        ("3 deg/min", "deg/h", 180.0),
        ("3 °/min", "deg/s", 0.05),
        ("3 degrees per minute", "deg/min", 3.0),
        ("12 deg/h", "deg/h", 12.0),
        ("3,5 min", "s", 210.0),
        ("0,125 h", "min", 7.5),
        ("−7.9 °/h", "deg/h", -7.9),
        ("-7.9°/h", "deg/h", -7.9),
        ("–7.9 °/h", "deg/h", -7.9),
        ("+2 deg", "deg", 2.0),
        (".5 deg", "deg", 0.5),
        ("100 kt", "m/s", 100 * 1852 / 3600),
        ("10 000 ft", "m", 3048.0),
        ("1 NM", "m", 1852.0),
        ("500 ft/min", "m/s", 2.54),
        ("19.3 uT", "nT", 19300.0),
        ("19.3 µT", "uT", 19.3),
        ("19.3 μT", "uT", 19.3),
        ("0.1 g", "m/s2", 0.980665),
        ("0.3 °/√h", "deg/sqrt(h)", 0.3),
        ("0.15 A·m²", "A m2", 0.15),
        ("0.15 A m2", "A m2", 0.15),
        ("800 Hz", "kHz", 0.8),
        ("11.8 V", "mV", 11800.0),
        ("75 %", "%", 75.0),
        ("0.7", "1", 0.7),
        ("1e-3 deg", "deg", 0.001),
        ("1 h 30 min", "min", 90.0),
        ("1 h 2 min 3.5 s", "s", 3723.5),
        ("3.141592653589793 rad", "deg", 180.0),
    ],
)
def test_a_quantity_is_read_in_the_unit_wanted(text: str, to: str, number: float) -> None:
    assert parse(text, to) == number


@pytest.mark.parametrize(
    ("text", "to", "message"),
    [
        (
            "3",
            "deg/min",
            "3 has no unit; allowed are deg/s, deg/min, deg/h; write for example 3 deg/min  [unit-missing]",
        ),
        ("75", "%", "75 has no unit; allowed is %; write for example 75 %  [unit-missing]"),
        (
            "3 kt",
            "deg/min",
            "3 kt is a speed, not an angular rate; allowed are deg/s, deg/min, deg/h; "
            "write for example 3 deg/min  [unit-wrong]",
        ),
        (
            "3 deg",
            "1",
            "3 deg is an angle, not a plain number; allowed is a plain number without a unit; "
            "write for example 3  [unit-wrong]",
        ),
        (
            "3 dgg/min",
            "deg/h",
            "3 dgg/min has the unknown unit dgg/min; allowed are deg/s, deg/min, deg/h; "
            "write for example 3 deg/min  [unit-wrong]",
        ),
        (
            "100 NT",
            "nT",
            "100 NT has the unknown unit NT; allowed are uT, nT; write for example 100 nT  [unit-wrong]",
        ),
        (
            "two minutes",
            "min",
            "two minutes does not begin with a number; allowed is a number with its unit; "
            "write for example 3 min  [number-unreadable]",
        ),
        (
            "",
            "min",
            "an empty text does not begin with a number; allowed is a number with its unit; "
            "write for example 3 min  [number-unreadable]",
        ),
        (
            "NaN deg",
            "deg",
            "NaN deg is not a finite number; allowed is a number with its unit; "
            "write for example 3 deg  [number-unreadable]",
        ),
        (
            "-inf deg",
            "deg",
            "-inf deg is not a finite number; allowed is a number with its unit; "
            "write for example 3 deg  [number-unreadable]",
        ),
        (
            "1e999 deg",
            "deg",
            "1e999 deg is far outside what can be meant here; allowed is a number with its unit; "
            "write for example 3 deg  [number-unreadable]",
        ),
        (
            "10,000 ft",
            "ft",
            "10,000 ft may mean 10000 or 10.000; allowed is a number with its unit; "
            "write 10000 or 10.000 with the unit  [number-unreadable]",
        ),
        (
            "1,234.5 ft",
            "ft",
            "1,234.5 ft has more than one decimal point or comma; allowed is a number with its unit; "
            "write for example 3 ft  [number-unreadable]",
        ),
        (
            "30 min 1 h",
            "min",
            "30 min 1 h has the unknown unit min 1 h; allowed are s, min, h, ms; "
            "write for example 30 min  [unit-wrong]",
        ),
        (
            "\x00\x01\x02",
            "deg",
            "??? does not begin with a number; allowed is a number with its unit; "
            "write for example 3 deg  [number-unreadable]",
        ),
        (
            "9" * 90,
            "deg",
            "9" * 79 + "… is too long for a number with a unit; allowed is a number with its unit; "
            "write for example 3 deg  [number-unreadable]",
        ),
    ],
)
def test_a_refusal_says_what_is_allowed_and_what_to_write(text: str, to: str, message: str) -> None:
    with pytest.raises(MaterialError) as refusal:
        parse(text, to)
    assert str(refusal.value) == message


def test_every_digit_written_is_kept() -> None:
    quantity = read_quantity("3.00 deg/min")
    assert quantity.number.as_tuple() == Decimal("3.00").as_tuple()
    assert quantity.decimals == 2
    assert read_quantity("3").unit is None
    assert read_quantity("2e3 s").decimals == -3


def test_a_time_in_two_parts_keeps_the_smaller_unit() -> None:
    quantity = parse_quantity("1 h 30.5 min", "s")
    assert (quantity.number, quantity.unit, quantity.decimals) == (Decimal("90.5"), UNITS["min"], 1)


@given(
    st.sampled_from(sorted(UNITS)), st.decimals(allow_nan=False, allow_infinity=False, min_value=-1e6, max_value=1e6)
)
def test_what_is_written_plainly_is_read_back(unit: str, number: Decimal) -> None:
    written = f"{number:.6f}" if unit == "1" else f"{number:.6f} {unit}"
    assert parse(written, unit) == float(f"{number:.6f}")


@pytest.mark.parametrize("unit", UNITS.values(), ids=lambda unit: unit.name)
def test_every_spelling_means_one_unit(unit: object) -> None:
    assert unit in UNITS.values()
    for known in UNITS.values():
        for spelling in (known.name, *known.spellings):
            assert find_unit(spelling) is known


def test_converting_between_things_that_differ_is_a_mistake_of_the_program() -> None:
    assert convert(1.0, "kt", "km/h") == 1.852
    assert ratio("h", "s") == 3600
    with pytest.raises(ValueError, match="kt is a speed, deg is an angle"):
        convert(1.0, "kt", "deg")
