"""When a channel crosses a bound or passes a value, straight between samples."""

from __future__ import annotations

import dataclasses

import numpy as np
from numpy.typing import NDArray

from gyrochalk.quantities.measure import Direction
from gyrochalk.quantities.series import Series

Floats = NDArray[np.float64]

AWAY_DEG = 0.05
"""An angle must have been this far from a value before it can pass it (again): rubbing against it is not passing."""


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
    """The times [s] at which the series passes `target`, in order; a heading passes it modulo a whole turn."""
    offset = series.values - target
    turns = np.floor(offset / 360.0) if series.angular else (offset >= 0.0).astype(np.float64)
    period = 360.0 if series.angular else 0.0
    times: list[float] = []
    away = 0
    for step in (np.diff(turns) != 0.0).nonzero()[0]:
        rising = turns[step + 1] > turns[step]
        level = turns[step + 1 if rising else step] * period
        begin, end = offset[step] - level, offset[step + 1] - level
        if series.angular and np.abs(offset[away : step + 1] - level).max() < AWAY_DEG:
            continue
        away = int(step) + 1
        if direction in {"either", "rising" if rising else "falling"}:
            share = begin / (begin - end)
            times.append(float(series.time_s[step] + share * (series.time_s[step + 1] - series.time_s[step])))
    return times
