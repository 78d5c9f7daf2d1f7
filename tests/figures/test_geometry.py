"""Round marks, curves thinned without loss, labels kept apart."""

from __future__ import annotations

import itertools

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.figures.placing import rows_for, spread
from gyrochalk.figures.thinning import drop_straight, keep_extremes, pieces
from gyrochalk.figures.ticks import Clock, decimal_step, decimals_of, degree_step, marks

NUMBERS = st.floats(-1e3, 1e3, allow_nan=False)


def test_degrees_go_in_fifteens_thirties_and_nineties() -> None:
    assert [degree_step(span, 4) for span in (3, 10, 45, 100, 170, 360)] == [1, 5, 15, 30, 45, 90]
    assert degree_step(0.5, 4) == 0.2


def test_marks_include_both_ends() -> None:
    assert marks(-30, 30, 15) == [-30, -15, 0, 15, 30]
    assert marks(0.1, 0.9, 0.2) == [0.2, 0.4, 0.6000000000000001, 0.8]
    assert [decimals_of(step) for step in (0.05, 0.2, 1, 50)] == [2, 1, 0, 0]


def test_time_is_read_in_a_unit_a_person_would_use() -> None:
    assert [Clock.fitting(s).unit for s in (90, 300, 301, 5400, 9000, 18000)] == ["s", "s", "min", "min", "min", "h"]
    assert Clock.fitting(3600).step_s(3600, 6) == 600
    assert Clock.fitting(2).step_s(2, 4) == 0.5


@given(st.floats(1e-3, 1e5), st.integers(2, 10))
def test_steps_give_about_as_many_marks_as_wanted(span: float, wanted: int) -> None:
    assert wanted / 2.6 <= span / decimal_step(span, wanted) <= wanted * 1.01


@given(st.integers(1, 3000), st.integers(2, 40), st.integers(0, 1000))
def test_thinning_keeps_the_peaks_and_the_ends(size: int, buckets: int, seed: int) -> None:
    values = np.random.default_rng(seed).normal(size=size)
    kept = values[keep_extremes(values, buckets)]
    assert kept.size <= 4 * buckets
    assert (kept.min(), kept.max(), kept[0], kept[-1]) == (values.min(), values.max(), values[0], values[-1])


@given(st.lists(NUMBERS, min_size=2, max_size=200), st.floats(0.01, 5.0))
def test_dropped_points_lie_on_the_drawn_line(listed: list[float], within: float) -> None:
    y = np.array(listed)
    x = np.arange(y.size, dtype=float)
    kept = drop_straight(x, y, within)
    assert kept[0] == 0
    assert kept[-1] == y.size - 1
    assert np.abs(np.interp(x, x[kept], y[kept]) - y).max() <= within * (1 + 1e-6) + 1e-6


def test_a_straight_line_needs_two_points() -> None:
    x = np.linspace(0, 100, 500)
    assert drop_straight(x, 3 * x + 1, 0.1) == [0, 499]


def test_a_line_is_lifted_at_north_and_where_nothing_is_shown() -> None:
    values = np.array([350.0, 358.0, 6.0, 14.0, np.nan, 20.0, 25.0])
    assert pieces(values, None, 360.0) == [(0, 2), (2, 4), (5, 7)]
    assert pieces(values, np.array([True] * 6 + [False]), None) == [(0, 4), (5, 6)]


@given(st.lists(st.floats(0, 500), min_size=1, max_size=8), st.floats(1, 40))
def test_labels_are_kept_apart_and_inside(wanted: list[float], gap: float) -> None:
    places = sorted(spread(wanted, gap, 0, 500))
    room = min(gap, 500 / max(1, len(wanted) - 1))
    assert all(b - a >= room - 1e-6 for a, b in itertools.pairwise(places))
    assert places[0] >= -1e-6
    assert places[-1] <= 500 + 1e-6


def test_labels_with_room_stay_where_they_are_wanted() -> None:
    assert spread([10, 60, 30], 15, 0, 100) == [10, 60, 30]
    assert spread([50, 50], 20, 0, 100) == [40, 60]


def test_words_go_to_the_first_row_with_room() -> None:
    assert rows_for([(0, 10), (5, 15), (12, 20), (6, 9)], 2, 1) == [0, 1, 0, None]
