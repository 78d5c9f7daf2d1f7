"""The ready-made measures of every instrument, by the names a claim uses: "slaved.time_to_align"."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from gyrochalk.quantities.channels import CHANNELS, TIME
from gyrochalk.quantities.measure import Measure, Passing, Reducer
from gyrochalk.quantities.moments import WHOLE, Moment, Window
from gyrochalk.quantities.results import result_unit
from gyrochalk.systems.run import Run

ALIGNED_DEG = 1.0
"""A slaved card is aligned when it differs from its detector by no more than this."""

NULL_DEG = 0.001
"""A difference this small is none."""

HANG_OFF_S = 60.0
"""Hang-off is a mean over so many seconds at the end of the run."""

INSTRUMENTS: dict[str, str] = {
    "card": "direct compass",
    "gyro": "unslaved gyro",
    "detector": "detector",
    "slaved": "slaved card",
}

CARDINALS: dict[str, float] = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}

_IN_TURN = Window(span="turn")
_LATE = Window(last_s=HANG_OFF_S)

_Row = tuple[str, str, Reducer, str]
"""Name after the dot, channel, reducer, description."""


def measures_for(run_or_channels: Run | Iterable[str]) -> dict[str, Measure]:
    """The ready-made measures of a run, or of runs that have these channels, by name.

    Some need an event or a span (a turn, an alignment) that a particular run may lack: `evaluate` then says so.
    """
    channels = run_or_channels.columns if isinstance(run_or_channels, Run) else run_or_channels
    there = {TIME, *channels}
    return {measure.name: measure for measure in _all() if needed_channels(measure) <= there}


def needed_channels(measure: Measure) -> set[str]:
    """The channels a measure looks at."""
    needed = {measure.channel}
    if measure.passing is not None:
        needed.add(measure.passing.channel)
    if measure.reducer == "count" or needed == {TIME}:
        needed.add(f"{measure.name.split('.')[0]}.heading")
    return needed


def _all() -> Iterator[Measure]:
    for part, instrument in INSTRUMENTS.items():
        yield from _errors(part, instrument)
        yield from _readings(part, instrument)
    yield from _slaved()
    yield from _others()
    yield from _flight()


def _make(
    name: str,
    channel: str,
    reducer: Reducer,
    description: str,
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
        name, channel, reducer, unit or usual, description, moment, bound, signed=signed, passing=passing, window=window
    )


def _rows(part: str, rows: Iterable[_Row], window: Window = WHOLE) -> Iterator[Measure]:
    for name, channel, reducer, description in rows:
        yield _make(f"{part}.{name}", channel, reducer, description, window=window)


def _errors(part: str, instrument: str) -> Iterator[Measure]:
    channel = f"{part}.error"
    rows: list[_Row] = [
        ("peak_error", channel, "peak", f"the greatest size of the error of the {instrument}"),
        ("time_of_peak_error", channel, "time of peak", f"when the error of the {instrument} is greatest in size"),
        ("highest_error", channel, "maximum", f"the error of the {instrument} where it reads most too much"),
        ("lowest_error", channel, "minimum", f"the error of the {instrument} where it reads most too little"),
        ("start_error", channel, "start", f"the error of the {instrument} at the start"),
        ("end_error", channel, "end", f"the error of the {instrument} at the end"),
        ("mean_error", channel, "mean", f"the mean error of the {instrument}"),
        ("rms_error", channel, "rms", f"the root mean square error of the {instrument}"),
        ("error_change", channel, "change", f"how much the error of the {instrument} changes from start to end"),
        ("drift_rate", channel, "rate", f"how fast the error of the {instrument} changes, from start to end"),
    ]
    yield from _rows(part, rows)
    in_turn = f"the greatest size of the error of the {instrument} in the first turn"
    yield _make(f"{part}.peak_error_in_turn", channel, "peak", in_turn, window=_IN_TURN)
    after_turn = f"the error of the {instrument} when the first turn ends"
    yield _make(f"{part}.error_after_turn", channel, "at event", after_turn, moment=Moment("turn ends"))
    for cardinal, heading in CARDINALS.items():
        passing = Passing("actual.heading", heading)
        error = f"the error of the {instrument} as the nose first passes magnetic {cardinal}"
        yield _make(f"{part}.error_passing_{cardinal}", channel, "when", error, passing=passing)


def _readings(part: str, instrument: str) -> Iterator[Measure]:
    channel = f"{part}.heading"
    rows: list[_Row] = [
        ("start_heading", channel, "start", f"what the {instrument} reads at the start"),
        ("end_heading", channel, "end", f"what the {instrument} reads at the end"),
        ("heading_change", channel, "change", f"how far the reading of the {instrument} turns, right positive"),
        ("lowest_reading", channel, "minimum", f"the reading of the {instrument} farthest anticlockwise"),
        ("highest_reading", channel, "maximum", f"the reading of the {instrument} farthest clockwise"),
        ("time_of_lowest_reading", channel, "time of minimum", f"when the {instrument} reads least"),
        ("time_of_highest_reading", channel, "time of maximum", f"when the {instrument} reads most"),
    ]
    yield from _rows(part, rows)
    for cardinal, heading in CARDINALS.items():
        shown = f"what the {instrument} reads as the nose first passes magnetic {cardinal}"
        nose = Passing("actual.heading", heading)
        yield _make(f"{part}.heading_passing_{cardinal}", channel, "when", shown, passing=nose)
        flown = f"the actual heading as the {instrument} first passes {cardinal}"
        card = Passing(channel, heading)
        yield _make(f"{part}.actual_heading_at_{cardinal}", "actual.heading", "when", flown, passing=card)


def _slaved() -> Iterator[Measure]:
    difference, correction = "slaved.difference", "slaved.correction"
    aligned = f"the time until the slaved card is first within {ALIGNED_DEG:g}° of its detector"
    yield _make("slaved.time_to_align", difference, "first below", aligned, bound=ALIGNED_DEG)
    settled = f"the time after which the slaved card stays within {ALIGNED_DEG:g}° of its detector"
    yield _make("slaved.time_to_settle", difference, "settles below", settled, bound=ALIGNED_DEG)
    null = "the time until the slaved card first agrees with its detector"
    yield _make("slaved.time_to_null", difference, "first below", null, bound=NULL_DEG)
    hang_off = f"the mean difference from the detector over the last {HANG_OFF_S:g} s"
    yield _make("slaved.hang_off", difference, "mean", hang_off, window=_LATE)
    rows: list[_Row] = [
        ("start_difference", difference, "start", "the difference from the detector at the start"),
        ("end_difference", difference, "end", "the difference from the detector at the end"),
        ("peak_difference", difference, "peak", "the greatest size of the difference from the detector"),
        ("peak_correction", correction, "peak", "the greatest correction rate, either way"),
        ("mean_correction", correction, "mean", "the mean correction rate"),
        ("total_correction", correction, "total", "how far the correction turns the card in all"),
        ("peak_indicator", "slaved.indicator", "peak", "the greatest deflection of the indicator"),
    ]
    yield from _rows("slaved", rows)
    for name, span in (("fast", "fast alignment"), ("hold", "hold"), ("free", "free"), ("cut_off", "cut-off")):
        lasts = f"how long the first span of {span} lasts"
        yield _make(f"slaved.{name}_duration", TIME, "change", lasts, window=Window(span=span))
    yield _make("slaved.fast_starts", TIME, "count", "how often fast alignment starts", moment=Moment("fast starts"))
    when = "when the loop says it is aligned"
    yield _make("slaved.time_of_alignment", TIME, "at event", when, moment=Moment("aligned"))


def _others() -> Iterator[Measure]:
    for part in ("card", "gyro", "slaved", "detector"):
        yield _make(
            f"{part}.peak_tilt", f"{part}.tilt", "peak", f"the greatest tilt: {CHANNELS[f'{part}.tilt'].meaning}"
        )
        yield _make(
            f"{part}.end_tilt", f"{part}.tilt", "end", f"the tilt at the end: {CHANNELS[f'{part}.tilt'].meaning}"
        )
    fluid = "the fastest spin of the compass fluid, either way"
    yield _make("card.peak_fluid_rate", "card.fluid_rate", "peak", fluid)
    yield _make("gyro.time_of_topple", TIME, "at event", "when a gyro first topples", moment=Moment("toppled"))
    rows: list[_Row] = [
        ("lowest_field", "detector.field", "minimum", "the weakest field in the detector's plane"),
        ("highest_field", "detector.field", "maximum", "the strongest field in the detector's plane"),
        ("mean_field", "detector.field", "mean", "the mean field in the detector's plane"),
    ]
    yield from _rows("detector", rows)


def _flight() -> Iterator[Measure]:
    rows: list[_Row] = [
        ("duration", TIME, "change", "how long the flight lasts"),
        ("distance", "actual.ground_speed", "total", "the distance flown over the ground"),
        ("start_heading", "actual.heading", "start", "the actual heading at the start"),
        ("end_heading", "actual.heading", "end", "the actual heading at the end"),
        ("heading_change", "actual.heading", "change", "how far the nose turns in all, right positive"),
        ("start_heading_true", "actual.heading_true", "start", "the actual true heading at the start"),
        ("end_heading_true", "actual.heading_true", "end", "the actual true heading at the end"),
        ("end_track", "actual.track", "end", "the track over the ground at the end"),
        ("track_change", "actual.track", "change", "how far the track turns in all, right positive"),
        ("peak_bank", "actual.bank", "peak", "the greatest bank, either way"),
        ("peak_pitch", "actual.pitch", "peak", "the greatest pitch, either way"),
        ("peak_turn_rate", "actual.turn_rate", "peak", "the fastest turn, either way"),
        ("mean_tas", "actual.tas", "mean", "the mean true airspeed"),
        ("mean_ground_speed", "actual.ground_speed", "mean", "the mean ground speed"),
        ("start_latitude", "actual.latitude", "start", "the latitude at the start"),
        ("end_latitude", "actual.latitude", "end", "the latitude at the end"),
        ("start_longitude", "actual.longitude", "start", "the longitude at the start"),
        ("end_longitude", "actual.longitude", "end", "the longitude at the end"),
        ("lowest_height", "actual.height", "minimum", "the least height"),
        ("highest_height", "actual.height", "maximum", "the greatest height"),
        ("lowest_load", "actual.load", "minimum", "the least apparent gravity"),
        ("highest_load", "actual.load", "maximum", "the greatest apparent gravity"),
    ]
    yield from _rows("actual", rows)
    lasts = "how long the first turn lasts"
    yield _make("actual.turn_duration", TIME, "change", lasts, window=_IN_TURN)
    turned = "how far the nose turns in the first turn, right positive"
    yield _make("actual.turn_heading_change", "actual.heading", "change", turned, window=_IN_TURN)
    yield _make("actual.turns", TIME, "count", "how many turns are flown", moment=Moment("turn starts"))
    for name, what in (("horizontal", "horizontal field"), ("dip", "dip"), ("variation", "variation")):
        channel = f"field.{name}"
        places: list[_Row] = [
            (f"start_{name}", channel, "start", f"the {what} at the start"),
            (f"end_{name}", channel, "end", f"the {what} at the end"),
            (f"lowest_{name}", channel, "minimum", f"the least {what} along the way"),
            (f"highest_{name}", channel, "maximum", f"the greatest {what} along the way"),
            (f"{name}_change", channel, "change", f"how much the {what} changes from start to end"),
        ]
        yield from _rows("field", places)
