"""Errors and other angles against the actual heading: which channels, over which stretch, and what stands out."""

from __future__ import annotations

import dataclasses

import numpy as np

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.figures.finding import degrees, seconds, side
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.panel import Trace
from gyrochalk.figures.picture import DataTable
from gyrochalk.figures.readings import Floats, column, instruments_of, usable, window
from gyrochalk.figures.words import INSTRUMENTS, WORDS, Words, capital
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_quantity

SETTLED_DEG = 0.05
MOST_CLAUSES = 2


@dataclasses.dataclass(frozen=True, slots=True)
class Extreme:
    """The value [deg] farthest to one side, the actual heading [deg magnetic] and the time [s] at which it comes."""

    value_deg: float
    heading_deg: float
    time_s: float


@dataclasses.dataclass(frozen=True, slots=True)
class RoundRun:
    """Traces over a stretch of a flight, with the actual heading (n,) of every value, [0, 360) and unwrapped [deg]."""

    from_s: float
    to_s: float
    time_s: Floats
    heading_deg: Floats
    unwrapped_deg: Floats
    traces: tuple[Trace, ...]
    words: Words = WORDS

    def lowest(self, trace: Trace) -> Extreme | None:
        """The least value of a trace, None if it has none."""
        return self._extreme(trace, -1.0)

    def highest(self, trace: Trace) -> Extreme | None:
        """The greatest value of a trace, None if it has none."""
        return self._extreme(trace, 1.0)

    def _extreme(self, trace: Trace, sign: float) -> Extreme | None:
        good = np.flatnonzero(np.isfinite(trace.values))
        if good.size == 0:
            return None
        i = int(good[(sign * trace.values[good]).argmax()])
        return Extreme(float(trace.values[i]), float(self.heading_deg[i]), float(self.time_s[i]))


def round_run(run: Run, options: FigureOptions, words: Words) -> RoundRun:
    """The chosen instruments' errors and channels over the stretch asked for, or over the turns of the flight.

    Raises MaterialError (figure-channel, figure-time, figure-value: a channel that is no angle).
    """
    from_s, to_s = _stretch(run, options)
    inside = (run.time_s >= from_s - 1e-9) & (run.time_s <= to_s + 1e-9)
    heading = run["actual.heading"].values[inside]
    traces = [_error(run, name, inside, words) for name in _instruments(run, options)]
    traces += [_channel(run, name, inside, words) for name in options.channels]
    unwrapped = np.degrees(np.unwrap(np.radians(heading)))
    return RoundRun(from_s, to_s, run.time_s[inside], heading, unwrapped, tuple(traces), words)


def _instruments(run: Run, options: FigureOptions) -> tuple[str, ...]:
    if options.channels and not options.show:
        return ()
    return tuple(name for name in instruments_of(run, options.show) if name != "actual")


def _stretch(run: Run, options: FigureOptions) -> tuple[float, float]:
    from_s, to_s = window(run, options)
    turns = [span for span in run.spans if span.kind == "turn"]
    if turns and options.from_s is None and options.to_s is None:
        return turns[0].start_s, max(span.end_s for span in turns)
    return from_s, to_s


def _error(run: Run, name: str, inside: np.ndarray, words: Words) -> Trace:
    label = words.term(name)
    values = usable(run[f"{name}.error"])[inside]
    return Trace(f"{name}.error", label, words.say("traces.error_of", name=label), INSTRUMENTS[name], values)


def _channel(run: Run, name: str, inside: np.ndarray, words: Words) -> Trace:
    col = column(run, name)
    if col.unit != "deg" or col.north is not None:
        what = f"{name} cannot be drawn against heading"
        allowed = "errors, differences and tilts in degrees can"
        raise MaterialError(Problem("figure-value", what, allowed, "choose for example slaved.difference"))
    letter = INSTRUMENTS.get(name.split(".", maxsplit=1)[0], "A")
    label = words.channel(col)
    return Trace(name, label, label, letter, usable(col)[inside])


def round_finding(found: RoundRun, words: Words) -> str:
    """What stands out: "The compass card reads up to 41° low at 020° and 37° high at 200°; …"."""
    order = sorted(found.traces, key=lambda t: (t.letter == "S", -t.largest))
    told = [t for t in order if t.largest >= SETTLED_DEG] or order
    if len(told) > MOST_CLAUSES:
        told = [*told[: MOST_CLAUSES - 1], told[-1]]
    return capital(words.say("list.then").join(_clause(found, trace, words) for trace in told))


def _clause(found: RoundRun, trace: Trace, words: Words) -> str:
    low, high = found.lowest(trace), found.highest(trace)
    if low is None or high is None:
        return words.say("traces.nothing_valid", name=trace.label)
    if not trace.name.endswith(".error"):
        least, most = (_at(e, degrees(e.value_deg), words) for e in (low, high))
        return words.say("round.channel", name=trace.label, low=least, high=most)
    if trace.largest < SETTLED_DEG:
        return words.say("round.right", name=trace.label)
    sides = [
        _at(e, side(e.value_deg, words), words)
        for e, below in ((low, True), (high, False))
        if (e.value_deg < 0) == below and abs(e.value_deg) >= SETTLED_DEG
    ]
    if len(sides) == 1:
        return words.say("round.one_side", name=trace.label, side=sides[0])
    return words.say("round.two_sides", name=trace.label, low=sides[0], high=sides[1])


def _at(extreme: Extreme, value: str, words: Words) -> str:
    return words.say("round.value_at", value=value, heading=format_heading(extreme.heading_deg))


def round_table(found: RoundRun) -> DataTable:
    """Least and greatest value of each trace with heading and time."""
    least, most, at = (found.words.say(f"traces.{key}") for key in ("least", "most", "at"))
    heading = found.words.say("round.at_heading")
    header = ("", least, heading, at, most, heading, at)
    return DataTable(header, tuple(_row(found, trace) for trace in found.traces))


def _row(found: RoundRun, trace: Trace) -> tuple[str, ...]:
    low, high = found.lowest(trace), found.highest(trace)
    if low is None or high is None:
        return (capital(trace.title), *("–",) * 6)
    cells = [capital(trace.title)]
    for extreme in (low, high):
        cells.append(format_quantity(extreme.value_deg, "deg", 1))
        cells.append(format_heading(extreme.heading_deg, "magnetic", 0))
        cells.append(seconds(extreme.time_s, 1))
    return tuple(cells)


def round_alt(found: RoundRun, what: str, title: str) -> str:
    """The picture in words; `what` is the key of its first sentence."""
    say = found.words.say
    parts = [say(what, begin=seconds(found.from_s), end=seconds(found.to_s), title=title)]
    for trace in found.traces:
        row = _row(found, trace)
        if row[1] == "–":
            parts.append(say("traces.alt_never", name=row[0]))
        else:
            low, high = {"low": row[1], "low_heading": row[2]}, {"high": row[4], "high_heading": row[5]}
            parts.append(say("round.alt_trace", name=row[0], **low, **high))
    return " ".join(parts)
