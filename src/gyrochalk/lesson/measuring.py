"""Which measure an address names: one of the catalogue, one the demonstration declares, or a channel with options."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.address import Address
from gyrochalk.quantities import CHANNELS, Measure, Value, Window, declare, measures_for, parse_moment, parse_span
from gyrochalk.quantities.declaring import describe
from gyrochalk.quantities.results import same_dimension
from gyrochalk.units import find_unit, format_quantity, nearest, parse
from gyrochalk.units.words import ENGLISH, Speech

WINDOW = ("from", "to", "span", "last")
CHANGES = (*WINDOW, "at", "bound", "unit")
"""Options that change a measure that has a name."""
DECLARES = (*WINDOW, "at", "reducer", "bound", "signed", "unit", "other", "passes", "direction", "number")
"""Options that make a measure of a channel."""


def find_measure(address: Address, declared: Mapping[str, Measure], speech: Speech = ENGLISH) -> Measure:
    """The measure an address names, changed as its options say.

    `declared` are the measures of the demonstration's own file; `speech` describes a ready-made one.
    Raises `MaterialError` without a place.
    """
    ready = measures_for(CHANNELS, speech)
    if address.measure in declared or address.measure in ready:
        measure = declared.get(address.measure) or ready[address.measure]
        _refuse_unknown(address.options, CHANGES, address.measure)
        return _changed(measure, address.options)
    if address.measure in CHANNELS:
        _refuse_unknown(address.options, DECLARES, address.measure)
        return _of_channel(address.measure, address.options)
    known = [*declared, *ready, *CHANNELS]
    near = nearest(address.measure, known)
    own = f"its own measures are {', '.join(declared)}; " if declared else ""
    allowed = f"{own}ready-made ones are listed by gyrochalk run"
    cure = f'did you mean "{near}"?' if near else "write for example slaved.peak_error"
    what = f'"{address.measure}" is no measure of {address.demonstration}'
    raise MaterialError(Problem("measure-unknown", what, allowed, cure))


def _refuse_unknown(options: Mapping[str, str], known: tuple[str, ...], measure: str) -> None:
    for name in options:
        if name not in known:
            raise MaterialError(unknown_option(name, known, measure))


def unknown_option(name: str, known: tuple[str, ...], of: str) -> Problem:
    """The problem of an option that means nothing there; `known` are those that would, `of` what they belong to."""
    near = nearest(name, known)
    cure = f'did you mean "{near}"?' if near else "leave it out"
    what = f'the option "{name}" means nothing for {of}'
    return Problem("option-unknown", what, f"options are {', '.join(known)}", cure)


def _of_channel(channel: str, options: Mapping[str, str]) -> Measure:
    """A channel with options, read as if it were declared in the demonstration's file."""
    keys: dict[str, object] = {"channel": channel}
    keys |= {name: text for name, text in options.items() if name not in (*WINDOW, "at")}
    window = {name: options[name] for name in WINDOW if name in options}
    if window:
        keys["window"] = window
    if "at" in options:
        plain = not options["at"][:1].isalpha()
        keys |= {"reducer": "at", "time": options["at"]} if plain else {"reducer": "at event", "event": options["at"]}
    if "reducer" not in keys:
        what = f'"{channel}" is a channel: it has a value at every moment'
        allowed = "a moment (at), or a way to reduce it (reducer)"
        raise MaterialError(
            Problem("measure-unknown", what, allowed, f"write {channel}?at=60s or {channel}?reducer=peak")
        )
    return declare(channel, keys)


def _changed(measure: Measure, options: Mapping[str, str]) -> Measure:
    if any(name in options for name in WINDOW):
        measure = dataclasses.replace(measure, window=_window(measure.window, options))
    if "at" in options:
        if measure.moment is None:
            raise _senseless(measure, "at", "it is not measured at one moment")
        measure = dataclasses.replace(measure, moment=parse_moment(options["at"]))
    if "bound" in options:
        if measure.bound is None:
            raise _senseless(measure, "bound", "it is not a time until a bound is reached")
        bound = parse(options["bound"], CHANNELS[measure.channel].unit)
        measure = dataclasses.replace(measure, bound=bound)
    if "unit" in options:
        measure = in_unit(measure, options["unit"])
    return measure


def _senseless(measure: Measure, option: str, why: str) -> MaterialError:
    what = f'the option "{option}" means nothing for {measure.name}: {why}'
    return MaterialError(Problem("option-unknown", what, f"options are {', '.join(CHANGES)}", "leave it out"))


def in_unit(measure: Measure, unit: str) -> Measure:
    """The same measure stated in another unit; raises `MaterialError` (unit-wrong) if it measures something else."""
    found = find_unit(unit)
    if found is None or not same_dimension(found.name, measure.unit):
        what = f"{measure.name} cannot be stated in {unit}"
        allowed = f"a unit of the same kind as {measure.unit}"
        raise MaterialError(Problem("unit-wrong", what, allowed, f"write unit={measure.unit}"))
    return dataclasses.replace(measure, unit=found.name)


def _window(usual: Window, options: Mapping[str, str]) -> Window:
    if "span" in options:
        span, number = parse_span(options["span"])
        return Window(span=span, number=number)
    begin = parse_moment(options["from"]) if "from" in options else usual.begin
    end = parse_moment(options["to"]) if "to" in options else usual.end
    last_s = parse(options["last"], "s") if "last" in options else None
    return Window(begin, end, last_s=last_s)


def described(measure: Measure, speech: Speech) -> str:
    """What a measure is; a description its author wrote stays as written."""
    ours = measure.description == describe(measure.channel, measure.reducer)
    return speech.reword(measure.description) if ours else measure.description


def in_words(measure: Measure, value: Value, speech: Speech = ENGLISH) -> str:
    """What was measured, and at which moment of the run."""
    time = None if value.time_s is None else format_quantity(value.time_s, "s", 0)
    said = described(measure, speech)
    return said if time is None else said + speech.say("measure.at", time=time)
