"""When a channel crosses a bound or passes a value, straight between samples."""

from __future__ import annotations

import dataclasses

import numpy as np
from numpy.typing import NDArray

from gyrochalk.quantities.measure import Direction
from gyrochalk.quantities.series import Series

Floats = NDArray[np.float64]

AWAY_DEG = 1.0
"""An angle nearer than this to a value is on it: it must have been farther away before it can pass it (again)."""

ON_TARGET_DEG = 1e-6
"""An angle this near to a value has come to it: a turn that ends on north reaches north, whatever the last digit."""


def first_time(series: Series, bound: float, signed: bool, below: bool) -> float | None:
    """The first time [s] the series is at or below the bound (`below`), or at or above it; None if it never is.

    `signed`: the value itself counts, else its size (an angle's size is that of the short way round).
    """
    size = series.values if signed else np.abs(series.folded())
    reached = size <= bound if below else size >= bound
    times_s = [*series.time_s[reached][:1], *_crossings(series, bound, signed)[:1]]
    return float(min(times_s)) if times_s else None


def stretches(series: Series, bound: float, signed: bool) -> tuple[Floats, NDArray[np.bool_]]:
    """The series cut at every crossing of the bound into stretches wholly at or below it, or wholly above.

    Returns the ends of the stretches (m + 1,) [s] and, for each (m,), whether it is at or below the bound.
    """
    ends_s = np.unique(np.concatenate([series.time_s, _crossings(series, bound, signed)]))
    middles = np.interp((ends_s[:-1] + ends_s[1:]) / 2.0, series.time_s, series.values)
    if not signed:
        middles = np.abs(dataclasses.replace(series, values=middles, north=None).folded())
    return ends_s, middles <= bound


def _crossings(series: Series, bound: float, signed: bool) -> Floats:
    values = series.values if signed else series.folded()
    steps = np.diff(series.values)
    found_s = []
    for level in (bound,) if signed else (bound, -bound):
        begin, end = values[:-1] - level, values[:-1] + steps - level
        crossed = (begin * end < 0.0).nonzero()[0]
        share = begin[crossed] / (begin[crossed] - end[crossed])
        found_s.append(series.time_s[crossed] + share * np.diff(series.time_s)[crossed])
    return np.sort(np.concatenate(found_s))


def passings(series: Series, target: float, direction: Direction) -> list[float]:
    """The times [s] at which the series passes `target`, or comes to it, in order.

    A heading passes it modulo a whole turn. An angle that begins on the target is not passing it, and must have been
    `AWAY_DEG` from it before it can pass it.
    """
    offset = series.values - target
    times: list[float] = []
    away = 0
    for step, rising, level in _steps_onto(offset, series.angular):
        if series.angular and np.abs(offset[away : step + 1] - level).max() < AWAY_DEG:
            continue
        away = step + 1
        if direction in {"either", "rising" if rising else "falling"}:
            begin, end = offset[step] - level, offset[step + 1] - level
            share = min(1.0, begin / (begin - end))
            times.append(float(series.time_s[step] + share * (series.time_s[step + 1] - series.time_s[step])))
    return times


def _steps_onto(offset: Floats, angular: bool) -> list[tuple[int, bool, float]]:
    """Each step that comes to the target or crosses it: its number, whether it rises, and the offset it comes to."""
    if angular:
        below, above = np.floor((offset + ON_TARGET_DEG) / 360.0), np.ceil((offset - ON_TARGET_DEG) / 360.0)
    else:
        below, above = (offset >= 0.0).astype(np.float64), (offset > 0.0).astype(np.float64)
    period = 360.0 if angular else 0.0
    rising = [(int(step), True, float(below[step + 1]) * period) for step in (np.diff(below) > 0.0).nonzero()[0]]
    falling = [(int(step), False, float(above[step + 1]) * period) for step in (np.diff(above) < 0.0).nonzero()[0]]
    return sorted(rising + falling)
