"""One channel in one window: times and values with the ends cut exactly, and angles that may cross north."""

from __future__ import annotations

import dataclasses

import numpy as np
from numpy.typing import NDArray

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.channels import TIME
from gyrochalk.systems.run import Column, Run
from gyrochalk.units import North, format_number, nearest, wrap_180, wrap_360

Floats = NDArray[np.float64]


@dataclasses.dataclass(frozen=True, eq=False)
class Series:
    """A stretch of one channel.

    `time_s` (n,) increasing, n at least 2 (both ends are there, even where they are the same moment); `values` (n,) in
    `unit`, straight between samples; an angle is unrolled, so that it is continuous where the reading crosses north
    or an error crosses 180.
    """

    channel: str
    unit: str
    north: North | None
    time_s: Floats
    values: Floats

    @property
    def angular(self) -> bool:
        """Whether 360 more means the same."""
        return self.unit == "deg"

    def shown(self, value: float) -> float:
        """A value as the instrument shows it: a heading in [0, 360), another angle in [-180, 180)."""
        if self.north is not None:
            return wrap_360(value)
        return wrap_180(value) if self.angular else value

    def folded(self) -> Floats:
        """The values as the instrument shows them, angles that are no headings in [-180, 180)."""
        return wrap_180(self.values) if self.angular and self.north is None else self.values

    def at(self, time_s: float) -> float:
        """The value at a time [s] inside the series, straight between samples."""
        return float(np.interp(time_s, self.time_s, self.values))


def cut(run: Run, channel: str, begin_s: float, end_s: float, measure: str) -> Series:
    """The channel of a run from `begin_s` to `end_s` [s]; raises MaterialError (channel-missing, reading-invalid)."""
    series, broken_s = cut_until_invalid(run, channel, begin_s, end_s, measure)
    if series is None or broken_s is not None:
        raise MaterialError(invalid(measure, channel, begin_s if broken_s is None else broken_s))
    return series


def reading(run: Run, channel: str, time_s: float, measure: str) -> float:
    """The channel at one time [s], as shown; raises MaterialError (channel-missing, reading-invalid)."""
    series = cut(run, channel, time_s, time_s, measure)
    return series.shown(float(series.values[0]))


def cut_until_invalid(
    run: Run, channel: str, begin_s: float, end_s: float, measure: str
) -> tuple[Series | None, float | None]:
    """The channel from `begin_s` to `end_s` or its first meaningless reading; and the time of that reading, or None."""
    column = _column(run, channel, begin_s, measure)
    first = int(np.searchsorted(run.time_s, begin_s, side="right")) - 1
    last = int(np.searchsorted(run.time_s, end_s, side="left"))
    here = slice(max(first, 0), min(last, len(run.time_s) - 1) + 1)
    good = np.isfinite(column.values[here])
    if column.valid is not None:
        good &= column.valid[here]
    broken_s = None
    count = len(good)
    if not good.all():
        count = int(np.argmin(good))
        broken_s = float(run.time_s[here][count])
    time_s, values = run.time_s[here][:count], column.values[here][:count]
    if count == 0 or time_s[-1] < begin_s:
        return None, broken_s
    return _trimmed(column, time_s, values, begin_s, min(end_s, float(time_s[-1]))), broken_s


def _trimmed(column: Column, time_s: Floats, values: Floats, begin_s: float, end_s: float) -> Series:
    rolled = unrolled(values) if column.unit == "deg" else values
    inside = (time_s > begin_s) & (time_s < end_s)
    ends = np.interp([begin_s, end_s], time_s, rolled)
    cut_s = np.concatenate([[begin_s], time_s[inside], [end_s]])
    cut_values = np.concatenate([ends[:1], rolled[inside], ends[1:]])
    return Series(column.name, column.unit, column.north, cut_s, cut_values)


def unrolled(values_deg: Floats) -> Floats:
    """Angles [deg] made continuous: every step is taken the short way round."""
    steps = wrap_180(np.diff(values_deg))
    plain = np.diff(values_deg)
    return values_deg + np.concatenate([[0.0], np.cumsum(np.round((steps - plain) / 360.0))]) * 360.0


def _column(run: Run, channel: str, begin_s: float, measure: str) -> Column:
    if channel == TIME:
        return Column(TIME, "s", "time from the beginning of the window", run.time_s - begin_s)
    if channel in run.columns:
        return run.columns[channel]
    guess = nearest(channel, run.columns)
    cure = f'did you mean "{guess}"?' if guess else "choose one of these"
    allowed = f"this run has {', '.join(run.columns)}"
    raise MaterialError(
        Problem("channel-missing", f"{measure} needs the channel {channel}, which this run lacks", allowed, cure)
    )


def invalid(measure: str, channel: str, time_s: float) -> Problem:
    """The problem of a reading that means nothing at `time_s`."""
    what = f"{measure} needs {channel}, which means nothing at {format_number(time_s, 1)} s"
    return Problem(
        "reading-invalid",
        what,
        "an instrument can be measured only while it works (not toppled, not without power)",
        "choose a window that leaves this time out",
    )
