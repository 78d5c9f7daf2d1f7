"""The title of a picture: what it shows, in a sentence computed from the run."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from gyrochalk.figures.readings import Reading, usable
from gyrochalk.figures.ticks import Clock
from gyrochalk.figures.words import WORDS, Words, capital
from gyrochalk.quantities import Measure, Moment, Window, evaluate
from gyrochalk.systems.run import Run
from gyrochalk.units import format_number, format_quantity

SETTLED_DEG = 1.0
TOO_SMALL_DEG = 0.5
MOST_CLAUSES = 2


@dataclasses.dataclass(frozen=True, slots=True)
class ErrorCourse:
    """How one instrument's error goes over a stretch: at its start, at its end, largest [deg], and when within 1°.

    `end_s` is the last instant at which it shows anything valid.
    """

    instrument: str
    end_s: float
    start_deg: float
    end_deg: float
    peak_deg: float
    peak_s: float
    settled_s: float | None


def degrees(value: float) -> str:
    """An angle as a title says it: one decimal below ten degrees, none above."""
    return format_quantity(value, "deg", 1 if abs(value) < 9.95 else 0)


def seconds(time_s: float, decimals: int | None = None) -> str:
    """A time `time_s` [s] as a title says it: "6.7 s", "30 min", "2.5 h"."""
    clock = Clock.fitting(time_s)
    shown = time_s / clock.seconds
    if decimals is None:
        decimals = 0 if format_number(shown, 1)[-2:] in (".0", ",0") else 1
    return format_quantity(shown, clock.unit, decimals)


def error_course(run: Run, instrument: str, from_s: float, to_s: float) -> ErrorCourse | None:
    """How an instrument's error goes between two times [s], or None if it never shows anything valid."""
    inside = (run.time_s >= from_s - 1e-9) & (run.time_s <= to_s + 1e-9)
    values, times = usable(run[f"{instrument}.error"])[inside], run.time_s[inside]
    good = np.flatnonzero(np.isfinite(values))
    if good.size == 0:
        return None
    sizes = np.abs(values[good])
    worst = int(good[sizes.argmax()])
    outside = np.flatnonzero(sizes > SETTLED_DEG)
    settled = None
    if outside.size and outside[-1] + 1 < good.size:
        settled = float(times[good[outside[-1] + 1]])
    first, last = float(values[good[0]]), float(values[good[-1]])
    peak_deg, peak_s = float(abs(values[worst])), float(times[worst])
    if good.size == values.size:
        peak_deg, peak_s = _peak(run, f"{instrument}.error", from_s, to_s)
    return ErrorCourse(instrument, float(times[good[-1]]), first, last, peak_deg, peak_s, settled)


def _peak(run: Run, channel: str, from_s: float, to_s: float) -> tuple[float, float]:
    """The largest size of an error and when [s], by the same measure a claim would use."""
    window = Window(Moment(later_s=from_s), Moment(later_s=to_s))
    value = evaluate(run, Measure(f"{channel} peak", channel, "peak", "deg", "largest error", window=window))
    return value.number, value.time_s if value.time_s is not None else from_s


def error_finding(run: Run, shown: tuple[str, ...], from_s: float, to_s: float, words: Words) -> str:
    """What the errors of the `shown` instruments do: "The detector is up to 38° out; the slaved compass 2.0°".

    `from_s` and `to_s` bound the stretch of the run looked at [s].
    """
    courses = [c for name in shown if name != "actual" and (c := error_course(run, name, from_s, to_s))]
    if not courses:
        return words.say("finding.no_instrument")
    courses.sort(key=lambda c: (c.instrument == "slaved", -c.peak_deg))
    told = [c for c in courses if c.instrument == "slaved" or c.peak_deg >= TOO_SMALL_DEG]
    courses = told or courses
    if len(courses) > MOST_CLAUSES:
        courses = courses[: MOST_CLAUSES - 1] + courses[-1:]
    clauses: list[str] = []
    said: tuple[str, dict[str, str]] | None = None
    for course in courses:
        key, amount, rest = _clause(course, from_s)
        again = said == (key, rest) and amount
        name = words.term(course.instrument)
        clauses.append(words.say("finding.again" if again else key, name=name, amount=amount, **rest))
        said = (key, rest)
    return capital(words.say("list.then").join(clauses))


def _clause(course: ErrorCourse, from_s: float) -> tuple[str, str, dict[str, str]]:
    """The sentence that says what one instrument does, its amount, and what else it names."""
    start, end, peak = abs(course.start_deg), abs(course.end_deg), course.peak_deg
    if peak < 0.05:
        return "finding.right_throughout", "", {}
    if start > 0.9 * peak and peak > 3 * SETTLED_DEG and course.settled_s is not None and end <= SETTLED_DEG:
        rest = {"bound": f"{SETTLED_DEG:g}°", "time": seconds(course.settled_s - from_s)}
        return "finding.comes_in", degrees(peak), rest
    if start < 0.2 * peak and end > 0.95 * peak:
        return "finding.out_after", degrees(end), {"time": seconds(course.end_s - from_s)}
    return "finding.out_up_to", degrees(peak), {}


def side(error_deg: float, words: Words = WORDS) -> str:
    """An error `error_deg` [deg, high positive] in words: "22° low", "0.3° high", "right"."""
    if not math.isfinite(error_deg):
        return words.say("finding.meaningless")
    if abs(error_deg) < 0.05:
        return words.say("finding.right")
    return words.say("finding.high" if error_deg > 0 else "finding.low", amount=degrees(abs(error_deg)))


def instant_finding(readings: list[Reading], time_s: float, words: Words) -> str:
    """What the instruments show at `time_s` [s]: "At 7 s the compass card reads 22° low, the gyro 1.0° low"."""
    parts: list[str] = []
    said = ""
    for read in sorted(readings, key=lambda r: (r.instrument == "slaved", -abs(r.error_deg))):
        state = side(read.error_deg, words) if read.valid else words.say("finding.no_reading")
        verb = "is" if state in (words.say("finding.right"), words.say("finding.no_reading")) else "reads"
        again = verb == "reads" and said == "reads"
        key = "finding.reads_again" if again else f"finding.{verb}"
        parts.append(words.say(key, name=words.term(read.instrument), state=state))
        said = verb
    return words.say("finding.at", time=seconds(time_s), said=", ".join(parts))
