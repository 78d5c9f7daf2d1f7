"""Moments and windows of a run: at 60 s, when the second turn ends, the last minute, during the first turn."""

from __future__ import annotations

import dataclasses
import re

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.channels import EVENTS, SPANS
from gyrochalk.systems.run import Run
from gyrochalk.units import format_number, nearest, parse

START = "start"
END = "end"

_EVENT = re.compile(r"(?P<kind>[a-z][a-z -]*?)(?:\s+(?P<number>[0-9]{1,4}|last))?(?:\s*\+\s*(?P<later>.+))?")
_LAST = -1


@dataclasses.dataclass(frozen=True, slots=True)
class Moment:
    """A moment of a run: `later_s` seconds after the `number`-th event of kind `event` (from 1; -1: the last).

    The events "start" and "end" are the ends of the run; a plain time is so many seconds after "start".
    """

    event: str = START
    number: int = 1
    later_s: float = 0.0

    def __str__(self) -> str:
        later = f"{format_number(self.later_s, 1)} s"
        if self.event == START:
            return later
        which = {1: "", _LAST: " last"}.get(self.number, f" {self.number}")
        return f"{self.event}{which}" + (f" + {later}" if self.later_s else "")


@dataclasses.dataclass(frozen=True, slots=True)
class Window:
    """The stretch of a run that a measure looks at; the whole run unless something is given.

    From `begin` to `end`; or the `number`-th span of kind `span` (from 1; -1: the last); or the `last_s` seconds
    before `end`.
    """

    begin: Moment = Moment()
    end: Moment = Moment(END)
    span: str | None = None
    number: int = 1
    last_s: float | None = None


WHOLE = Window()


def parse_moment(text: str) -> Moment:
    """The moment a person wrote: "60 s", "turn ends", "turn ends 2", "turn ends last + 10 s", "end".

    Raises MaterialError: number-unreadable, unit-missing, unit-wrong, choice-unknown.
    """
    words = " ".join(text.split())
    if not words[:1].isalpha():
        return Moment(later_s=parse(words, "s"))
    match = _EVENT.fullmatch(words.lower())
    kind = match["kind"] if match else words
    if match is None or kind not in {*EVENTS, START, END}:
        raise MaterialError(_unknown("event", kind, (*EVENTS, START, END)))
    later_s = parse(match["later"], "s") if match["later"] else 0.0
    return Moment(kind, _which(match["number"]), later_s)


def parse_span(text: str) -> tuple[str, int]:
    """The span a person wrote and which one of its kind: "turn", "turn 2", "turn last"; raises choice-unknown."""
    match = _EVENT.fullmatch(" ".join(text.split()).lower())
    kind = match["kind"] if match else text
    if match is None or match["later"] or kind not in SPANS:
        raise MaterialError(_unknown("span", kind, SPANS))
    return kind, _which(match["number"])


def _which(number: str | None) -> int:
    if number is None:
        return 1
    return _LAST if number == "last" else max(1, int(number))


def _unknown(what: str, written: str, known: tuple[str, ...]) -> Problem:
    guess = nearest(written, known)
    cure = f'did you mean "{guess}"?' if guess else f"write for example {known[1]}"
    return Problem("choice-unknown", f'"{written}" is no kind of {what}', f"allowed are {', '.join(known)}", cure)


def time_of(run: Run, moment: Moment, measure: str) -> float:
    """The time of a moment in a run [s]; raises MaterialError (event-missing, window-empty)."""
    first_s, last_s = float(run.time_s[0]), float(run.time_s[-1])
    if moment.event == START:
        base_s = first_s
    elif moment.event == END:
        base_s = last_s
    else:
        base_s = _event_time(run, moment, measure)
    time_s = base_s + moment.later_s
    slack_s = 1e-9 * max(1.0, last_s)
    if not first_s - slack_s <= time_s <= last_s + slack_s:
        named = "" if moment.event == START else f", {moment}"
        raise MaterialError(_outside(measure, f"it looks at {format_number(time_s, 1)} s{named}", last_s))
    return min(max(time_s, first_s), last_s)


def _event_time(run: Run, moment: Moment, measure: str) -> float:
    times_s = [event.time_s for event in run.events if event.kind == moment.event]
    index = moment.number if moment.number < 0 else moment.number - 1
    if not -len(times_s) <= index < len(times_s):
        happened = sorted({event.kind for event in run.events})
        raise MaterialError(_missing(measure, "event", moment.event, len(times_s), moment.number, happened))
    return times_s[index]


def ends_of(run: Run, window: Window, measure: str) -> tuple[float, float]:
    """The two ends of a window in a run [s], the first before the second; raises event-missing, window-empty."""
    if window.span is not None:
        return _span_ends(run, window, measure)
    end_s = time_of(run, window.end, measure)
    if window.last_s is None:
        begin_s = time_of(run, window.begin, measure)
    else:
        begin_s = end_s - window.last_s
        if begin_s < float(run.time_s[0]):
            what = f"the last {format_number(window.last_s, 1)} s begin before the run"
            raise MaterialError(_outside(measure, what, float(run.time_s[-1])))
    if not begin_s < end_s:
        what = f"{measure} looks from {format_number(begin_s, 1)} s to {format_number(end_s, 1)} s"
        cure = "let the window end later than it begins"
        raise MaterialError(Problem("window-empty", what, "a window must last longer than nothing", cure))
    return begin_s, end_s


def _span_ends(run: Run, window: Window, measure: str) -> tuple[float, float]:
    spans = [span for span in run.spans if span.kind == window.span]
    index = window.number if window.number < 0 else window.number - 1
    if not -len(spans) <= index < len(spans):
        kinds = sorted({span.kind for span in run.spans})
        raise MaterialError(_missing(measure, "span", window.span or "", len(spans), window.number, kinds))
    return spans[index].start_s, spans[index].end_s


def _missing(measure: str, what: str, kind: str, count: int, number: int, there: list[str]) -> Problem:
    wanted = f"{what} {kind!r}" if abs(number) == 1 else f"{what} {kind!r} number {number}"
    happened = f"it happens {count} times" if count else "it never happens"
    allowed = f"this run has {', '.join(there)}" if there else f"this run has no {what}s"
    cure = "choose one of these or change the flight" if there else "change the flight so that it happens"
    return Problem("event-missing", f"{measure} needs the {wanted}, and {happened} in this run", allowed, cure)


def _outside(measure: str, what: str, last_s: float) -> Problem:
    cure = "choose a time inside it or lengthen the flight"
    return Problem("window-empty", f"{measure}: {what}", f"the run lasts {format_number(last_s, 1)} s", cure)
