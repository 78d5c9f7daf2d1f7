"""A measure looked up in a run: the only place where a recording becomes a stated number."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.channels import TIME
from gyrochalk.quantities.crossings import passings
from gyrochalk.quantities.measure import Measure, Reducer
from gyrochalk.quantities.moments import ends_of, time_of
from gyrochalk.quantities.reducing import REDUCE, how_long, nearest_to_bound, when_reached
from gyrochalk.quantities.results import PER_SECOND, TIMES_SECOND
from gyrochalk.quantities.series import Series, cut, cut_until_invalid, invalid, reading
from gyrochalk.quantities.value import Value
from gyrochalk.systems.run import Run
from gyrochalk.units import format_quantity, ratio, wrap_180, wrap_360

_EXTREMES: dict[Reducer, Reducer] = {
    "time of maximum": "maximum",
    "time of minimum": "minimum",
    "time of peak": "peak",
}


def evaluate(run: Run, measure: Measure) -> Value:
    """The value of a measure in a run.

    Raises MaterialError: channel-missing, event-missing, window-empty, reading-invalid, bound-not-reached.
    """
    if measure.reducer in {"at", "at event"}:
        return _at(run, measure)
    if measure.reducer == "count":
        return _count(run, measure)
    begin_s, end_s = ends_of(run, measure.window, measure.name)
    if measure.reducer == "when":
        return _when(run, measure, begin_s, end_s)
    if measure.reducer in {"first below", "first above", "settles below"}:
        return _reached(run, measure, begin_s, end_s)
    series = cut(run, measure.channel, begin_s, end_s, measure.name)
    if measure.reducer in {"time below", "time above"}:
        return _duration(measure, how_long(series, measure, _bound(measure)))
    if measure.reducer in _EXTREMES:
        return _time_of_extreme(measure, series)
    return _reduced(measure, series)


def evaluate_all(run: Run, measures: Mapping[str, Measure]) -> tuple[dict[str, Value], dict[str, tuple[Problem, ...]]]:
    """Every measure that has a value in this run, and for the others why they have none; both by name."""
    values: dict[str, Value] = {}
    problems: dict[str, tuple[Problem, ...]] = {}
    for name, measure in measures.items():
        try:
            values[name] = evaluate(run, measure)
        except MaterialError as error:
            problems[name] = error.problems
    return values, problems


def _at(run: Run, measure: Measure) -> Value:
    assert measure.moment is not None
    time_s = time_of(run, measure.moment, measure.name)
    if measure.channel == TIME:
        begin_s, _ = ends_of(run, measure.window, measure.name)
        return _duration(measure, time_s - begin_s, time_s)
    return _value(run, measure, reading(run, measure.channel, time_s, measure.name), time_s)


def _when(run: Run, measure: Measure, begin_s: float, end_s: float) -> Value:
    passing = measure.passing
    assert passing is not None
    other = cut(run, passing.channel, begin_s, end_s, measure.name)
    times_s = passings(other, passing.value, passing.direction)
    if len(times_s) < passing.number:
        target = Value(passing.value, other.unit, other.north).text(1)
        if not times_s:
            raise MaterialError(_not_reached(f"{measure.name}: {passing.channel} never passes {target} in this window"))
        often = f"passes {target} only {len(times_s)} of the {passing.number} times wanted"
        raise MaterialError(_not_reached(f"{measure.name}: {passing.channel} {often}"))
    time_s = times_s[passing.number - 1]
    if measure.channel == TIME:
        return _duration(measure, time_s - begin_s, time_s)
    return _value(run, measure, reading(run, measure.channel, time_s, measure.name), time_s)


def _reached(run: Run, measure: Measure, begin_s: float, end_s: float) -> Value:
    series, broken_s = cut_until_invalid(run, measure.channel, begin_s, end_s, measure.name)
    if series is None or (broken_s is not None and measure.reducer == "settles below"):
        raise MaterialError(invalid(measure.name, measure.channel, begin_s if broken_s is None else broken_s))
    time_s = when_reached(series, measure, _bound(measure))
    if time_s is not None:
        return _duration(measure, time_s - begin_s, time_s)
    if broken_s is not None:
        raise MaterialError(invalid(measure.name, measure.channel, broken_s))
    bound = _show(_bound(measure), series.unit)
    if measure.reducer == "settles below":
        what = f"at the end it is {_show(abs(series.shown(float(series.values[-1]))), series.unit)}"
        raise MaterialError(_not_reached(f"{measure.name}: {measure.channel} does not stay below {bound}; {what}"))
    word, most = ("above", "greatest") if measure.reducer == "first above" else ("below", "least")
    what = (
        f"its {most} {'value' if measure.signed else 'size'} is {_show(nearest_to_bound(series, measure), series.unit)}"
    )
    raise MaterialError(_not_reached(f"{measure.name}: {measure.channel} is never {word} {bound}; {what}"))


def _show(number: float, unit: str) -> str:
    return format_quantity(number, unit, 3 if abs(number) < 1.0 else 1)


def _not_reached(what: str) -> Problem:
    cure = "lengthen the flight, widen the window or change the bound"
    return Problem("bound-not-reached", what, "a time can be stated only for what happens", cure)


def _count(run: Run, measure: Measure) -> Value:
    assert measure.moment is not None
    begin_s, end_s = ends_of(run, measure.window, measure.name)
    happened = [e for e in run.events if e.kind == measure.moment.event and begin_s <= e.time_s <= end_s]
    return Value(float(len(happened)), "1", measure=measure.name)


def _time_of_extreme(measure: Measure, series: Series) -> Value:
    _, time_s = REDUCE[_EXTREMES[measure.reducer]](series)
    assert time_s is not None
    return _duration(measure, time_s - float(series.time_s[0]), time_s)


def _reduced(measure: Measure, series: Series) -> Value:
    number, time_s = REDUCE[measure.reducer](series)
    if measure.reducer in {"rate", "total"}:
        scale = (PER_SECOND if measure.reducer == "rate" else TIMES_SECOND)[series.unit]
        number *= float(scale.factor * ratio(scale.base, measure.unit))
        return Value(number, measure.unit, None, time_s, measure.name)
    if measure.reducer in {"change", "rms", "peak"}:
        return Value(_converted(number, series.unit, measure.unit), measure.unit, None, time_s, measure.name)
    number = wrap_360(number) if series.north is not None else number
    if series.angular and series.north is None and abs(number) > 180.0:
        number = wrap_180(number)
    return Value(_converted(number, series.unit, measure.unit), measure.unit, series.north, time_s, measure.name)


def _duration(measure: Measure, duration_s: float, time_s: float | None = None) -> Value:
    return Value(_converted(duration_s, "s", measure.unit), measure.unit, None, time_s, measure.name)


def _value(run: Run, measure: Measure, number: float, time_s: float) -> Value:
    column = run.columns[measure.channel]
    return Value(_converted(number, column.unit, measure.unit), measure.unit, column.north, time_s, measure.name)


def _converted(number: float, unit: str, to: str) -> float:
    return number if unit == to else float(Fraction(number) * ratio(unit, to))


def _bound(measure: Measure) -> float:
    assert measure.bound is not None
    return measure.bound
