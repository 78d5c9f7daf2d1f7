"""The ready-made measures of every instrument, by the names a claim uses: "slaved.time_to_align"."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator

from gyrochalk.quantities.channels import CHANNELS, TIME
from gyrochalk.quantities.measure import Measure, Passing, Reducer
from gyrochalk.quantities.moments import WHOLE, Moment, Window
from gyrochalk.quantities.results import result_unit
from gyrochalk.systems.run import Run
from gyrochalk.units.words import ENGLISH, Speech, entries

ALIGNED_DEG = 1.0
"""A slaved card is aligned when it differs from its detector by no more than this."""

NULL_DEG = 0.001
"""A difference this small is none."""

HANG_OFF_S = 60.0
"""Hang-off is a mean over so many seconds at the end of the run."""

INSTRUMENTS = ("card", "gyro", "detector", "slaved")
"""The instruments that have an error, by the names of their channels."""

CARDINALS: dict[str, float] = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}

_IN_TURN = Window(span="turn")
_LATE = Window(last_s=HANG_OFF_S)

_Row = tuple[str, str, Reducer]
"""Name after the dot, channel, reducer."""


def measures_for(run_or_channels: Run | Iterable[str], speech: Speech = ENGLISH) -> dict[str, Measure]:
    """The ready-made measures of a run, or of runs that have these channels, by name; `speech` describes them.

    Some need an event or a span (a turn, an alignment) that a particular run may lack: `evaluate` then says so.
    """
    channels = run_or_channels.columns if isinstance(run_or_channels, Run) else run_or_channels
    there = {TIME, *channels}
    return {
        measure.name: dataclasses.replace(measure, description=_description(measure.name, measure.channel, speech))
        for measure in _all()
        if needed_channels(measure) <= there
    }


def _description(name: str, channel: str, speech: Speech) -> str:
    """What a ready-made measure is: a sentence of its own, or the one every instrument shares."""
    part, _, rest = name.partition(".")
    own = f"measure.{part}_{rest}"
    if own in entries("en"):
        return speech.say(own, bound=f"{ALIGNED_DEG:g}", last=f"{HANG_OFF_S:g}")
    meaning = speech.quantity(channel, CHANNELS[channel].meaning)
    return speech.say(f"measure.{rest}", name=speech.term(f"measured_{part}"), channel=meaning)


def needed_channels(measure: Measure) -> set[str]:
    """The channels a measure looks at."""
    needed = {measure.channel}
    if measure.passing is not None:
        needed.add(measure.passing.channel)
    if measure.reducer == "count" or needed == {TIME}:
        needed.add(f"{measure.name.split('.')[0]}.heading")
    return needed


def _all() -> Iterator[Measure]:
    for part in INSTRUMENTS:
        yield from _errors(part)
        yield from _readings(part)
    yield from _slaved()
    yield from _others()
    yield from _flight()


def _make(
    name: str,
    channel: str,
    reducer: Reducer,
    *,
    window: Window = WHOLE,
    moment: Moment | None = None,
    bound: float | None = None,
    passing: Passing | None = None,
    unit: str | None = None,
) -> Measure:
    usual = result_unit(reducer, CHANNELS[channel].unit)
    assert usual is not None
    signed = not CHANNELS[channel].two_sided
    return Measure(
        name, channel, reducer, unit or usual, "", moment, bound, signed=signed, passing=passing, window=window
    )


def _rows(part: str, rows: Iterable[_Row], window: Window = WHOLE) -> Iterator[Measure]:
    for name, channel, reducer in rows:
        yield _make(f"{part}.{name}", channel, reducer, window=window)


def _errors(part: str) -> Iterator[Measure]:
    channel = f"{part}.error"
    rows: list[_Row] = [
        ("peak_error", channel, "peak"),
        ("time_of_peak_error", channel, "time of peak"),
        ("highest_error", channel, "maximum"),
        ("lowest_error", channel, "minimum"),
        ("start_error", channel, "start"),
        ("end_error", channel, "end"),
        ("mean_error", channel, "mean"),
        ("rms_error", channel, "rms"),
        ("error_change", channel, "change"),
        ("drift_rate", channel, "rate"),
    ]
    yield from _rows(part, rows)
    yield _make(f"{part}.peak_error_in_turn", channel, "peak", window=_IN_TURN)
    yield _make(f"{part}.error_after_turn", channel, "at event", moment=Moment("turn ends"))
    for cardinal, heading in CARDINALS.items():
        passing = Passing("actual.heading", heading)
        yield _make(f"{part}.error_passing_{cardinal}", channel, "when", passing=passing)


def _readings(part: str) -> Iterator[Measure]:
    channel = f"{part}.heading"
    rows: list[_Row] = [
        ("start_heading", channel, "start"),
        ("end_heading", channel, "end"),
        ("heading_change", channel, "change"),
        ("lowest_reading", channel, "minimum"),
        ("highest_reading", channel, "maximum"),
        ("time_of_lowest_reading", channel, "time of minimum"),
        ("time_of_highest_reading", channel, "time of maximum"),
    ]
    yield from _rows(part, rows)
    for cardinal, heading in CARDINALS.items():
        nose = Passing("actual.heading", heading)
        yield _make(f"{part}.heading_passing_{cardinal}", channel, "when", passing=nose)
        card = Passing(channel, heading)
        yield _make(f"{part}.actual_heading_at_{cardinal}", "actual.heading", "when", passing=card)


def _slaved() -> Iterator[Measure]:
    difference, correction = "slaved.difference", "slaved.correction"
    yield _make("slaved.time_to_align", difference, "first below", bound=ALIGNED_DEG)
    yield _make("slaved.time_to_settle", difference, "settles below", bound=ALIGNED_DEG)
    yield _make("slaved.time_to_null", difference, "first below", bound=NULL_DEG)
    yield _make("slaved.hang_off", difference, "mean", window=_LATE)
    rows: list[_Row] = [
        ("start_difference", difference, "start"),
        ("end_difference", difference, "end"),
        ("peak_difference", difference, "peak"),
        ("peak_correction", correction, "peak"),
        ("mean_correction", correction, "mean"),
        ("total_correction", correction, "total"),
        ("peak_indicator", "slaved.indicator", "peak"),
    ]
    yield from _rows("slaved", rows)
    for name, span in (("fast", "fast alignment"), ("hold", "hold"), ("free", "free"), ("cut_off", "cut-off")):
        yield _make(f"slaved.{name}_duration", TIME, "change", window=Window(span=span))
    yield _make("slaved.fast_starts", TIME, "count", moment=Moment("fast starts"))
    yield _make("slaved.time_of_alignment", TIME, "at event", moment=Moment("aligned"))


def _others() -> Iterator[Measure]:
    for part in ("card", "gyro", "slaved", "detector"):
        yield _make(f"{part}.peak_tilt", f"{part}.tilt", "peak")
        yield _make(f"{part}.end_tilt", f"{part}.tilt", "end")
    yield _make("card.peak_fluid_rate", "card.fluid_rate", "peak")
    yield _make("gyro.time_of_topple", TIME, "at event", moment=Moment("toppled"))
    rows: list[_Row] = [
        ("lowest_field", "detector.field", "minimum"),
        ("highest_field", "detector.field", "maximum"),
        ("mean_field", "detector.field", "mean"),
    ]
    yield from _rows("detector", rows)


def _flight() -> Iterator[Measure]:
    rows: list[_Row] = [
        ("duration", TIME, "change"),
        ("distance", "actual.ground_speed", "total"),
        ("start_heading", "actual.heading", "start"),
        ("end_heading", "actual.heading", "end"),
        ("heading_change", "actual.heading", "change"),
        ("start_heading_true", "actual.heading_true", "start"),
        ("end_heading_true", "actual.heading_true", "end"),
        ("end_track", "actual.track", "end"),
        ("track_change", "actual.track", "change"),
        ("peak_bank", "actual.bank", "peak"),
        ("peak_pitch", "actual.pitch", "peak"),
        ("peak_turn_rate", "actual.turn_rate", "peak"),
        ("mean_tas", "actual.tas", "mean"),
        ("mean_ground_speed", "actual.ground_speed", "mean"),
        ("start_latitude", "actual.latitude", "start"),
        ("end_latitude", "actual.latitude", "end"),
        ("start_longitude", "actual.longitude", "start"),
        ("end_longitude", "actual.longitude", "end"),
        ("lowest_height", "actual.height", "minimum"),
        ("highest_height", "actual.height", "maximum"),
        ("lowest_load", "actual.load", "minimum"),
        ("highest_load", "actual.load", "maximum"),
    ]
    yield from _rows("actual", rows)
    yield _make("actual.turn_duration", TIME, "change", window=_IN_TURN)
    yield _make("actual.turn_heading_change", "actual.heading", "change", window=_IN_TURN)
    yield _make("actual.turns", TIME, "count", moment=Moment("turn starts"))
    for name in ("horizontal", "dip", "variation"):
        channel = f"field.{name}"
        places: list[_Row] = [
            (f"start_{name}", channel, "start"),
            (f"end_{name}", channel, "end"),
            (f"lowest_{name}", channel, "minimum"),
            (f"highest_{name}", channel, "maximum"),
            (f"{name}_change", channel, "change"),
        ]
        yield from _rows("field", places)
