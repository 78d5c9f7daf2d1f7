"""What a measure is: a channel, how it is reduced to one number, and where to look."""

from __future__ import annotations

import dataclasses
from typing import Literal

from gyrochalk.quantities.moments import WHOLE, Moment, Window

Reducer = Literal[
    "start",
    "end",
    "at",
    "at event",
    "when",
    "maximum",
    "minimum",
    "peak",
    "mean",
    "rms",
    "change",
    "rate",
    "total",
    "first below",
    "first above",
    "settles below",
    "time below",
    "time above",
    "time of maximum",
    "time of minimum",
    "time of peak",
    "count",
]

Direction = Literal["rising", "falling", "either"]


@dataclasses.dataclass(frozen=True, slots=True)
class ReducerKind:
    """One way of reducing a channel: what it `means`, and the keys it `needs` and may have (`takes`)."""

    means: str
    needs: tuple[str, ...] = ()
    takes: tuple[str, ...] = ()
    headings: bool = True


REDUCERS: dict[Reducer, ReducerKind] = {
    "start": ReducerKind("the value where the window begins"),
    "end": ReducerKind("the value where the window ends"),
    "at": ReducerKind("the value at a time", needs=("time",)),
    "at event": ReducerKind("the value at an event", needs=("event",)),
    "when": ReducerKind(
        "the value when another channel passes a value", needs=("other", "passes"), takes=("direction", "number")
    ),
    "maximum": ReducerKind("the greatest value; of a heading, the farthest clockwise"),
    "minimum": ReducerKind("the least value; of a heading, the farthest anticlockwise"),
    "peak": ReducerKind("the greatest size, whatever the sign", headings=False),
    "mean": ReducerKind("the mean over time"),
    "rms": ReducerKind("the root of the mean square over time", headings=False),
    "change": ReducerKind("the value at the end minus the value at the beginning, whole turns counted"),
    "rate": ReducerKind("the change divided by the time it took"),
    "total": ReducerKind("the sum over time (a speed gives a distance)", headings=False),
    "first below": ReducerKind(
        "the time until the channel is first at or below a bound", needs=("bound",), takes=("signed",), headings=False
    ),
    "first above": ReducerKind(
        "the time until the channel is first at or above a bound", needs=("bound",), takes=("signed",), headings=False
    ),
    "settles below": ReducerKind(
        "the time after which the channel stays at or below a bound",
        needs=("bound",),
        takes=("signed",),
        headings=False,
    ),
    "time below": ReducerKind(
        "how long in all the channel is at or below a bound", needs=("bound",), takes=("signed",), headings=False
    ),
    "time above": ReducerKind(
        "how long in all the channel is above a bound", needs=("bound",), takes=("signed",), headings=False
    ),
    "time of maximum": ReducerKind("the time of the greatest value"),
    "time of minimum": ReducerKind("the time of the least value"),
    "time of peak": ReducerKind("the time of the greatest size", headings=False),
    "count": ReducerKind("how often an event happens in the window", needs=("event",)),
}
"""Every reducer by name."""

UNSIGNED: frozenset[str] = frozenset({"peak", "rms", "count"})
"""The reducers whose result is a size: never negative whatever the channel does."""


@dataclasses.dataclass(frozen=True, slots=True)
class Passing:
    """A channel passing a value: `channel` passes `value` (in its own unit) for the `number`-th time, `direction`."""

    channel: str
    value: float
    direction: Direction = "either"
    number: int = 1


@dataclasses.dataclass(frozen=True, slots=True)
class Measure:
    """A measure: how a run becomes one number.

    `name` as it stands in a claim ("slaved.peak_error"); `channel` of the run; `reducer` a key of `REDUCERS`; `unit`
    of the result (a plain unit name; headings: deg); `description` in words. What the reducer needs: `moment` (at, at
    event, count: its kind only), `bound` in the unit of the channel, `passing` (when). `signed` bounds look at the
    value itself, others at its size. `window` is where to look.
    """

    name: str
    channel: str
    reducer: Reducer
    unit: str
    description: str
    moment: Moment | None = None
    bound: float | None = None
    signed: bool = False
    passing: Passing | None = None
    window: Window = WHOLE

    @property
    def unsigned(self) -> bool:
        """Whether the result is a size and never negative."""
        return self.reducer in UNSIGNED or self.unit in {"s", "min", "h"}
