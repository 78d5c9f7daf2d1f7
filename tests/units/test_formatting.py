"""The one rounding rule, and how a number is shown."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.units import UNITS, format_number, format_quantity, parse, round_half_away


@pytest.mark.parametrize(
    ("number", "decimals", "shown"),
    [
        (0.5, 0, "1"),
        (1.5, 0, "2"),
        (2.5, 0, "3"),
        (-2.5, 0, "−3"),
        (2.675, 2, "2.68"),
        (0.15, 1, "0.2"),
        (1.005, 2, "1.01"),
        (-0.04, 1, "0.0"),
        (1e22, 0, "10000000000000000000000"),
        (1234.5, -2, "1200"),
        (3.0, 1, "3.0"),
        (5e-324, 2, "0.00"),
    ],
)
def test_a_half_goes_away_from_zero(number: float, decimals: int, shown: str) -> None:
    assert format_number(number, decimals) == shown


@given(st.floats(min_value=-1e6, max_value=1e6), st.integers(min_value=0, max_value=6))
def test_rounding_is_even_handed_about_zero(number: float, decimals: int) -> None:
    assert round_half_away(-number, decimals) == -round_half_away(number, decimals)
    assert abs(float(round_half_away(number, decimals)) - number) <= 0.5 * 10.0**-decimals * (1 + 1e-9)


@pytest.mark.parametrize(
    ("number", "unit", "decimals", "shown"),
    [
        (2.0, "deg", 1, "2.0°"),
        (-7.9, "deg/h", 1, "−7.9 °/h"),
        (30.0, "min", 0, "30 min"),
        (19.3, "uT", 1, "19.3 µT"),
        (0.1, "g", 1, "0.1 g"),
        (75.0, "%", 0, "75 %"),
        (0.7, "1", 1, "0.7"),
        (0.3, "deg/sqrt(h)", 1, "0.3 °/√h"),
    ],
)
def test_a_quantity_is_shown_with_its_unit(number: float, unit: str, decimals: int, shown: str) -> None:
    assert format_quantity(number, unit, decimals) == shown


@given(st.floats(min_value=-1e6, max_value=1e6), st.sampled_from(sorted(UNITS)), st.integers(0, 6))
def test_what_is_shown_is_read_back(number: float, unit: str, decimals: int) -> None:
    assert parse(format_quantity(number, unit, decimals), unit) == float(round_half_away(number, decimals))


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_a_missing_number_is_never_shown(number: float) -> None:
    with pytest.raises(ValueError, match="cannot be shown as a number"):
        format_quantity(number, "deg", 1)
