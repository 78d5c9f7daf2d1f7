"""What a picture needs to know of a run: which instruments it has, and what they show when."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.words import INSTRUMENTS
from gyrochalk.quantities.moments import parse_moment, time_of
from gyrochalk.systems.run import Column, Run
from gyrochalk.units import format_quantity, nearest

Floats = NDArray[np.float64]
FLYING = ("card", "gyro", "slaved", "detector")
"""The instruments that can be in error, in the order they are drawn."""


@dataclasses.dataclass(frozen=True, slots=True)
class Reading:
    """What one instrument shows at one instant: heading and error [deg], and whether it means anything."""

    instrument: str
    heading_deg: float
    error_deg: float
    valid: bool


def instruments_of(run: Run, wanted: tuple[str, ...], default: tuple[str, ...] = FLYING) -> tuple[str, ...]:
    """The instruments to draw: the `wanted` ones, or those of `default` that the run has.

    Raises MaterialError (figure-channel) if the run does not have a wanted one.
    """
    present = [name for name in INSTRUMENTS if f"{name}.heading" in run.columns]
    for name in wanted:
        if name not in present:
            what = f"this run has no {name} to draw"
            raise MaterialError(Problem("figure-channel", what, f"it has {', '.join(present)}", "show one of those"))
    chosen = wanted or tuple(name for name in default if name in present)
    if not chosen:
        raise MaterialError(
            Problem(
                "figure-channel",
                "this run has no instrument to draw",
                "it needs one of card, gyro, slaved, detector",
                "fly one of them",
            )
        )
    return chosen


def column(run: Run, name: str) -> Column:
    """A channel of the run by name. Raises MaterialError (figure-channel) naming the nearest one it has."""
    if name in run.columns:
        return run.columns[name]
    close = nearest(name, run.columns)
    cure = f"did you mean {close}?" if close else f"choose for example {next(iter(run.columns))}"
    what, allowed = f"this run has no channel {name}", f"it has {len(run.columns)} channels"
    raise MaterialError(Problem("figure-channel", what, allowed, cure))


def window(run: Run, options: FigureOptions) -> tuple[float, float]:
    """Beginning and end [s] of the stretch to draw. Raises MaterialError (figure-time) if outside the run."""
    end = float(run.time_s[-1])
    from_s = 0.0 if options.from_s is None else options.from_s
    to_s = end if options.to_s is None else options.to_s
    for time_s in (from_s, to_s):
        _require_within(time_s, end)
    if from_s >= to_s:
        what = f"the picture begins at {format_quantity(from_s, 's', 1)}, where the run ends"
        raise MaterialError(
            Problem("figure-time", what, f"the run ends at {format_quantity(end, 's', 1)}", "begin earlier")
        )
    return from_s, to_s


def _require_within(time_s: float, end_s: float) -> None:
    if time_s > end_s + 1e-6:
        what = f"the picture asks for {format_quantity(time_s, 's', 1)}"
        allowed = f"the run ends at {format_quantity(end_s, 's', 1)}"
        raise MaterialError(Problem("figure-time", what, allowed, "choose an earlier time or fly longer"))


def instants(run: Run, options: FigureOptions, shown: tuple[str, ...]) -> list[float]:
    """The instants to draw [s]: those asked for, an even strip, or the one of the largest error."""
    from_s, to_s = window(run, options)
    if options.at:
        return [_instant(run, at, shown, from_s, to_s) for at in options.at]
    if options.instants:
        return [float(t) for t in np.linspace(from_s, to_s, options.instants)]
    return [_instant(run, "worst", shown, from_s, to_s)]


def _instant(run: Run, at: float | str, shown: tuple[str, ...], from_s: float, to_s: float) -> float:
    if isinstance(at, float | int):
        _require_within(at, float(run.time_s[-1]))
        return float(at)
    if at in ("start", "end"):
        return from_s if at == "start" else to_s
    if at == "worst":
        return _worst(run, shown, from_s, to_s)
    return time_of(run, parse_moment(at), "the picture")


def _worst(run: Run, shown: tuple[str, ...], from_s: float, to_s: float) -> float:
    """The instant at which one of the `shown` instruments has its largest error."""
    inside = (run.time_s >= from_s) & (run.time_s <= to_s)
    largest = np.zeros(int(inside.sum()))
    for name in shown:
        if f"{name}.error" in run.columns:
            largest = np.fmax(largest, np.abs(usable(run[f"{name}.error"])[inside]))
    return float(run.time_s[inside][int(largest.argmax())])


def usable(col: Column) -> Floats:
    """A channel's values with NaN wherever they mean nothing."""
    return col.values if col.valid is None else np.where(col.valid, col.values, np.nan)


def value_at(run: Run, name: str, time_s: float) -> float:
    """A channel at `time_s` [s], straight between the two samples beside it; angles the short way round."""
    col = run[name]
    i = int(np.searchsorted(run.time_s, time_s))
    if i == 0 or i >= run.time_s.size:
        return float(col.values[min(i, run.time_s.size - 1)])
    before, after = float(col.values[i - 1]), float(col.values[i])
    step = after - before
    if col.unit == "deg" and abs(step) > 180.0:
        step -= math.copysign(360.0, step)
    t0, t1 = float(run.time_s[i - 1]), float(run.time_s[i])
    value = before + step * (time_s - t0) / (t1 - t0)
    if col.unit != "deg":
        return value
    return value % 360.0 if col.north else (value + 180.0) % 360.0 - 180.0 if abs(value) > 180.0 else value


def reading(run: Run, instrument: str, time_s: float) -> Reading:
    """What an instrument shows at `time_s` [s]."""
    col = run[f"{instrument}.heading"]
    valid = True
    if col.valid is not None:
        i = min(int(np.searchsorted(run.time_s, time_s)), run.time_s.size - 1)
        valid = bool(col.valid[i])
    heading = value_at(run, f"{instrument}.heading", time_s)
    error = value_at(run, f"{instrument}.error", time_s) if f"{instrument}.error" in run.columns else 0.0
    return Reading(instrument, heading, error, valid and math.isfinite(heading) and math.isfinite(error))
