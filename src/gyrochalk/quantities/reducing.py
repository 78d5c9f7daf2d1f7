"""The reducers: how one channel in one window becomes one number."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from gyrochalk.quantities.crossings import first_time, stretches
from gyrochalk.quantities.extremes import greatest
from gyrochalk.quantities.measure import Measure, Reducer
from gyrochalk.quantities.series import Series

Floats = NDArray[np.float64]
Reduced = tuple[float, float | None]
"""A number, and the time it belongs to [s from the start of the run] or None."""


def _maximum(series: Series, sign: float) -> Reduced:
    time_s, value = greatest(series.time_s, sign * series.folded())
    return sign * value, time_s


def _peak(series: Series) -> Reduced:
    time_s, value = greatest(series.time_s, np.abs(series.folded()))
    return (min(value, 180.0) if series.angular else value), time_s


def _integral(series: Series, values: Floats) -> float:
    return float(np.trapezoid(values, series.time_s))


def _duration_s(series: Series) -> float:
    return float(series.time_s[-1] - series.time_s[0])


def _mean(series: Series) -> Reduced:
    return _integral(series, series.folded()) / _duration_s(series), None


def _rms(series: Series) -> Reduced:
    values = series.folded()
    # Exact for straight lines between samples: the integral of a square of a line is (a² + ab + b²)/3.
    squares = (values[:-1] ** 2 + values[:-1] * values[1:] + values[1:] ** 2) / 3.0
    return float(np.sqrt(np.sum(squares * np.diff(series.time_s)) / _duration_s(series))), None


def _change(series: Series) -> Reduced:
    return float(series.values[-1] - series.values[0]), None


REDUCE: dict[Reducer, Callable[[Series], Reduced]] = {
    "start": lambda series: (float(series.values[0]), float(series.time_s[0])),
    "end": lambda series: (float(series.values[-1]), float(series.time_s[-1])),
    "maximum": lambda series: _maximum(series, 1.0),
    "minimum": lambda series: _maximum(series, -1.0),
    "peak": _peak,
    "mean": _mean,
    "rms": _rms,
    "change": _change,
    "rate": lambda series: (_change(series)[0] / _duration_s(series), None),
    "total": lambda series: (_integral(series, series.values), None),
}
"""The reducers that need nothing but the series; the results of rate and total are per second and times seconds."""


def when_reached(series: Series, measure: Measure, bound: float) -> float | None:
    """The time [s] a bound is first reached, or settled below; None if it is not."""
    if measure.reducer == "settles below":
        ends_s, low = stretches(series, bound, measure.signed)
        if not low[-1]:
            return None
        above = (~low).nonzero()[0]
        return float(ends_s[above[-1] + 1]) if len(above) else float(ends_s[0])
    return first_time(series, bound, measure.signed, measure.reducer == "first below")


def how_long(series: Series, measure: Measure, bound: float) -> float:
    """How long in all [s] the series is at or below the bound, or above it."""
    ends_s, low = stretches(series, bound, measure.signed)
    wanted = low if measure.reducer == "time below" else ~low
    return float(np.sum(np.diff(ends_s)[wanted]))


def nearest_to_bound(series: Series, measure: Measure) -> float:
    """The value that came nearest to a bound never reached."""
    values = series.values if measure.signed else np.abs(series.folded())
    return float(values.max() if measure.reducer == "first above" else values.min())
