"""Angles brought back to one turn."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.units import wrap_180, wrap_360

ANGLES = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


@given(ANGLES)
def test_a_heading_is_never_360(angle: float) -> None:
    assert 0.0 <= wrap_360(angle) < 360.0


@given(ANGLES)
def test_a_difference_is_the_short_way_round(angle: float) -> None:
    assert -180.0 <= wrap_180(angle) < 180.0


@given(ANGLES)
def test_wrapping_moves_by_whole_turns(angle: float) -> None:
    for wrapped in (wrap_360(angle), wrap_180(angle)):
        turns = (wrapped - angle) / 360.0
        assert math.isclose(turns, round(turns), abs_tol=1e-9)


@given(ANGLES)
def test_wrapping_twice_changes_nothing(angle: float) -> None:
    assert wrap_360(wrap_360(angle)) == wrap_360(angle)
    assert wrap_180(wrap_180(angle)) == wrap_180(angle)


@given(st.lists(ANGLES, max_size=20))
def test_arrays_wrap_as_numbers_do(angles: list[float]) -> None:
    column = np.array(angles, dtype=np.float64)
    assert wrap_360(column).tolist() == [wrap_360(angle) for angle in angles]
    assert wrap_180(column).tolist() == [wrap_180(angle) for angle in angles]


@pytest.mark.parametrize(
    ("angle", "heading", "difference"),
    [
        (-1e-17, 0.0, -1e-17),
        (360.0, 0.0, 0.0),
        (359.0, 359.0, -1.0),
        (180.0, 180.0, -180.0),
        (-180.0, 180.0, -180.0),
        (-190.0, 170.0, 170.0),
        (725.0, 5.0, 5.0),
    ],
)
def test_known_angles(angle: float, heading: float, difference: float) -> None:
    assert wrap_360(angle) == heading
    assert wrap_180(angle) == difference
    assert wrap_360(np.array([angle])).tolist() == [heading]
    assert wrap_180(np.array([angle])).tolist() == [difference]


@pytest.mark.parametrize("angle", [-0.0, -360.0])
def test_north_is_not_minus_zero(angle: float) -> None:
    assert math.copysign(1.0, wrap_360(angle)) == 1.0
    assert math.copysign(1.0, wrap_180(angle)) == 1.0


def test_a_missing_number_stays_missing() -> None:
    assert math.isnan(wrap_360(math.nan))
    assert math.isnan(wrap_180(math.nan))
    assert np.isnan(wrap_360(np.array([np.nan]))).all()
