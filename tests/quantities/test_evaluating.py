"""Runs made by hand become numbers worked out in the head."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.errors import MaterialError
from gyrochalk.quantities import Measure, Value, declare, evaluate, evaluate_all, measures_for
from gyrochalk.systems.run import Run
from tests.quantities.sample_run import make_run

TICKS = np.arange(0.0, 101.0)


def measured(run: Run, **keys: object) -> Value:
    """The value of a declared measure."""
    return evaluate(run, declare("worst", keys))


def of(run: Run, channel: str, reducer: str, **keys: object) -> float:
    """The number of a declared measure of a channel."""
    return measured(run, channel=channel, reducer=reducer, **keys).number


RAMP = make_run(
    TICKS, {"slaved.error": TICKS / 10 - 5, "slaved.difference": 5 - TICKS / 10, "actual.height": 50 * TICKS}
)
"""An error that grows evenly from −5° to 5° in 100 s."""


@pytest.mark.parametrize(
    ("reducer", "keys", "number"),
    [
        ("start", {}, -5.0),
        ("end", {}, 5.0),
        ("at", {"time": "25 s"}, -2.5),
        ("at", {"time": "0.425 min"}, -2.45),
        ("maximum", {}, 5.0),
        ("minimum", {}, -5.0),
        ("peak", {}, 5.0),
        ("mean", {}, 0.0),
        ("rms", {}, 5.0 / math.sqrt(3.0)),
        ("change", {}, 10.0),
        ("rate", {}, 360.0),
        ("rate", {"unit": "deg/min"}, 6.0),
        ("first below", {"bound": "1 deg"}, 40.0),
        ("first below", {"bound": "1.05 deg"}, 39.5),
        ("first below", {"bound": "6 deg"}, 0.0),
        ("first below", {"bound": "-1 deg", "signed": "yes"}, 0.0),
        ("first above", {"bound": "5 deg"}, 0.0),
        ("first above", {"bound": "2 deg", "signed": "yes"}, 70.0),
        ("time below", {"bound": "1 deg"}, 20.0),
        ("time above", {"bound": "1.05 deg"}, 79.0),
        ("time of maximum", {}, 100.0),
        ("time of minimum", {"unit": "min"}, 0.0),
        ("mean", {"window": {"from": "50 s", "to": "60 s"}}, 0.5),
        ("change", {"window": {"from": "0.5 s", "to": "1.25 s"}}, 0.075),
        ("mean", {"window": {"last": "20 s"}}, 4.0),
    ],
)
def test_an_even_ramp(reducer: str, keys: dict[str, object], number: float) -> None:
    assert of(RAMP, "slaved.error", reducer, **keys) == pytest.approx(number, abs=1e-12)


def test_times_count_from_the_beginning_of_the_window() -> None:
    value = measured(
        RAMP, channel="slaved.error", reducer="first below", bound="1 deg", window={"from": "10 s", "to": "90 s"}
    )
    assert value.unit == "s"
    assert [value.number, value.time_s] == pytest.approx([30.0, 40.0])


def test_a_bound_settled_below() -> None:
    swing = make_run([0.0, 1.0, 2.0, 3.0, 4.0], {"slaved.difference": [4.0, -4.0, 2.0, 0.5, 0.0]})
    assert of(swing, "slaved.difference", "first below", bound="1 deg") == 0.375
    assert of(swing, "slaved.difference", "settles below", bound="1 deg") == pytest.approx(2 + 2 / 3)
    assert of(swing, "slaved.difference", "settles below", bound="5 deg") == 0.0


def test_headings_cross_north_without_a_jump() -> None:
    run = make_run([0.0, 1.0, 2.0, 3.0, 4.0], {"card.heading": [350.0, 355.0, 2.0, 10.0, 20.0]})
    assert of(run, "card.heading", "change") == 30.0
    assert of(run, "card.heading", "at", time="1.5 s") == 358.5
    assert of(run, "card.heading", "rate", unit="deg/s") == 7.5
    assert of(run, "card.heading", "mean") == pytest.approx(((350 + 380) / 2 + 355 + 362 + 370) / 4 - 360)
    assert of(run, "card.heading", "maximum") == 20.0
    assert of(run, "card.heading", "minimum") == 350.0
    assert measured(run, channel="card.heading", reducer="end").north == "compass"
    assert measured(run, channel="card.heading", reducer="change").north is None
    assert of(run, "time", "when", other="card.heading", passes="360") == pytest.approx(1 + 5 / 7)


@given(st.floats(0, 359.9), st.lists(st.floats(-20, 20), min_size=3, max_size=30))
def test_turning_the_whole_run_turns_every_reading_alike(turn: float, steps: list[float]) -> None:
    path = np.cumsum(steps)
    time_s = np.arange(float(len(steps)))
    plain = make_run(time_s, {"card.heading": path % 360.0})
    turned = make_run(time_s, {"card.heading": (path + turn) % 360.0})
    assert of(turned, "card.heading", "change") == pytest.approx(of(plain, "card.heading", "change"), abs=1e-9)
    assert of(turned, "card.heading", "change") == pytest.approx(path[-1] - path[0], abs=1e-9)
    for reducer in ("start", "end", "mean", "maximum", "minimum"):
        apart = of(turned, "card.heading", reducer) - of(plain, "card.heading", reducer) - turn
        assert abs((apart + 180.0) % 360.0 - 180.0) < 1e-7


def test_whole_turns_are_counted() -> None:
    run = make_run(TICKS, {"actual.heading": (9.0 * TICKS) % 360.0})
    assert of(run, "actual.heading", "change") == 900.0
    crossings = [
        of(run, "time", "when", other="actual.heading", passes="090", number=number) for number in ("1", "2", "3")
    ]
    assert crossings == [pytest.approx(10.0), pytest.approx(50.0), pytest.approx(90.0)]


def test_an_error_through_180_is_not_an_error_through_zero() -> None:
    run = make_run([0.0, 1.0, 2.0, 3.0], {"detector.error": [170.0, 178.0, -174.0, -170.0]})
    assert of(run, "detector.error", "peak") == 178.0
    assert of(run, "detector.error", "change") == 20.0
    assert of(run, "detector.error", "at", time="1.5 s") == -178.0
    with pytest.raises(MaterialError, match=r"never below 90\.0°; its least size is 170\.0°"):
        of(run, "detector.error", "first below", bound="90 deg")


def test_the_top_of_a_smooth_curve_lies_between_samples() -> None:
    time_s = np.arange(0.0, 10.0, 0.1)
    run = make_run(time_s, {"card.error": -30.0 * np.sin(0.7 * time_s)})
    assert of(run, "card.error", "minimum") == pytest.approx(-30.0, abs=1e-4)
    assert of(run, "card.error", "time of minimum") == pytest.approx(math.pi / 2 / 0.7, abs=1e-4)
    assert of(run, "card.error", "peak", window={"to": "3 s"}) == pytest.approx(30.0, abs=1e-4)


def test_a_corner_is_not_rounded_upwards() -> None:
    run = make_run([0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0], {"actual.bank": [0.0, 10.0, 15.0, 15.0, 15.0, 8.0, 0.0]})
    assert of(run, "actual.bank", "maximum") == 15.0
    spike = make_run([0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0], {"actual.bank": [0.0, 5.0, 14.0, 15.0, 14.9, 14.8, 14.7]})
    assert of(spike, "actual.bank", "maximum") == 15.0


@pytest.mark.parametrize(
    ("direction", "number", "time_s"),
    [("either", "1", 5.0), ("falling", "1", 5.0), ("rising", "1", 15.0), ("either", "2", 15.0)],
)
def test_passing_in_a_direction(direction: str, number: str, time_s: float) -> None:
    time = np.arange(0.0, 21.0)
    run = make_run(time, {"actual.heading": (10.0 * np.abs(time - 10.0) + 10.0) % 360.0})
    found = of(run, "time", "when", other="actual.heading", passes="060", direction=direction, number=number)
    assert found == pytest.approx(time_s)


def test_beginning_on_a_heading_is_not_passing_it() -> None:
    dips = make_run([0.0, 1.0, 2.0, 3.0, 4.0], {"card.heading": [0.1, 340.0, 330.0, 350.0, 20.0]})
    assert of(dips, "time", "when", other="card.heading", passes="000") == pytest.approx(3 + 10 / 30)
    leaves = make_run([0.0, 1.0, 2.0], {"card.heading": [0.0, 10.0, 20.0]})
    with pytest.raises(MaterialError, match=r"card\.heading never passes 000\.0° C in this window"):
        of(leaves, "time", "when", other="card.heading", passes="000")


@pytest.mark.parametrize("last", [359.99999999, 0.0, 0.00000001])
def test_a_turn_that_ends_on_north_comes_to_north(last: float) -> None:
    run = make_run([0.0, 1.0, 2.0, 3.0], {"actual.heading": [200.0, 300.0, last, last]})
    assert of(run, "time", "when", other="actual.heading", passes="360") == pytest.approx(2.0)


def test_what_another_channel_reads_when_one_passes_a_value() -> None:
    run = make_run(TICKS, {"actual.height": 50.0 * TICKS, "card.error": TICKS / 10.0})
    assert of(run, "card.error", "when", other="actual.height", passes="2525 ft") == pytest.approx(5.05)


def test_totals_and_rates_in_units_of_their_own() -> None:
    run = make_run(
        [0.0, 1800.0, 3600.0], {"actual.ground_speed": [100.0, 120.0, 100.0], "actual.height": [0.0, 900.0, 1800.0]}
    )
    assert of(run, "actual.ground_speed", "total") == pytest.approx(110.0)
    assert of(run, "actual.ground_speed", "total", unit="km") == pytest.approx(110 * 1.852)
    assert measured(run, channel="actual.height", reducer="rate") == Value(30.0, "ft/min", measure="worst")


EVENTFUL = make_run(
    TICKS,
    {"slaved.error": TICKS, "slaved.heading": TICKS, "actual.heading": TICKS},
    events=[(10.0, "turn starts"), (20.5, "turn ends"), (60.0, "turn starts"), (80.0, "turn ends")],
    spans=[(10.0, 20.5, "turn"), (60.0, 80.0, "turn")],
)


@pytest.mark.parametrize(
    ("keys", "number"),
    [
        ({"reducer": "at event", "event": "turn ends"}, 20.5),
        ({"reducer": "at event", "event": "turn ends 2"}, 80.0),
        ({"reducer": "at event", "event": "turn ends last + 10 s"}, 90.0),
        ({"reducer": "at event", "event": "end"}, 100.0),
        ({"reducer": "change", "window": {"span": "turn"}}, 10.5),
        ({"reducer": "change", "window": {"span": "turn 2"}}, 20.0),
        ({"reducer": "mean", "window": {"span": "turn last"}}, 70.0),
        ({"reducer": "mean", "window": {"from": "turn ends", "to": "turn starts 2"}}, 40.25),
        ({"reducer": "mean", "window": {"from": "turn ends + 9.5 s", "to": "40 s"}}, 35.0),
        ({"reducer": "mean", "window": {"to": "turn ends 2", "last": "10 s"}}, 75.0),
    ],
)
def test_moments_and_windows(keys: dict[str, object], number: float) -> None:
    assert measured(EVENTFUL, channel="slaved.error", **keys).number == pytest.approx(number)


def test_time_is_a_channel_and_events_are_counted() -> None:
    assert of(EVENTFUL, "time", "change", window={"span": "turn"}) == 10.5
    assert of(EVENTFUL, "time", "at event", event="turn ends 2", window={"from": "turn starts"}) == 70.0
    assert measured(EVENTFUL, reducer="count", event="turn ends").number == 2.0
    assert measured(EVENTFUL, reducer="count", event="turn ends", window={"to": "50 s"}).number == 1.0
    ready = measures_for(EVENTFUL)
    assert evaluate(EVENTFUL, ready["actual.turn_duration"]).number == 10.5
    assert evaluate(EVENTFUL, ready["actual.turns"]).number == 2.0
    assert evaluate(EVENTFUL, ready["slaved.error_after_turn"]).number == 20.5


TOPPLED = make_run(
    TICKS,
    {"gyro.error": np.where(TICKS < 50.0, TICKS / 10.0, np.nan)},
    valid={"gyro.error": TICKS < 50.0},
)


def test_a_toppled_gyro_is_measured_only_before_it_topples() -> None:
    assert of(TOPPLED, "gyro.error", "end", window={"to": "49 s"}) == 4.9
    assert of(TOPPLED, "gyro.error", "first above", bound="2 deg") == pytest.approx(20.0)


@pytest.mark.parametrize(
    ("keys", "message"),
    [
        (
            {"channel": "gyro.error", "reducer": "peak"},
            "worst needs gyro.error, which means nothing at 50.0 s; an instrument can be measured only while it works "
            "(not toppled, not without power); choose a window that leaves this time out  [reading-invalid]",
        ),
        (
            {"channel": "gyro.error", "reducer": "at", "time": "60 s"},
            "worst needs gyro.error, which means nothing at 60.0 s; an instrument can be measured only while it works "
            "(not toppled, not without power); choose a window that leaves this time out  [reading-invalid]",
        ),
        (
            {"channel": "gyro.error", "reducer": "first above", "bound": "20 deg"},
            "worst needs gyro.error, which means nothing at 50.0 s; an instrument can be measured only while it works "
            "(not toppled, not without power); choose a window that leaves this time out  [reading-invalid]",
        ),
        (
            {"channel": "gyro.tilt", "reducer": "peak"},
            "worst needs the channel gyro.tilt, which this run lacks; this run has gyro.error; "
            "choose one of these  [channel-missing]",
        ),
        (
            {"channel": "gyro.error", "reducer": "at event", "event": "toppled"},
            "worst needs the event 'toppled', and it never happens in this run; this run has no events; "
            "change the flight so that it happens  [event-missing]",
        ),
        (
            {"channel": "gyro.error", "reducer": "at", "time": "101 s"},
            "worst: it looks at 101.0 s; the run lasts 100.0 s; choose a time inside it or lengthen the flight  "
            "[window-empty]",
        ),
        (
            {"channel": "gyro.error", "reducer": "mean", "window": {"last": "3 min"}},
            "worst: the last 180.0 s begin before the run; the run lasts 100.0 s; "
            "choose a time inside it or lengthen the flight  [window-empty]",
        ),
        (
            {"channel": "gyro.error", "reducer": "mean", "window": {"from": "30 s", "to": "30 s"}},
            "worst looks from 30.0 s to 30.0 s; a window must last longer than nothing; "
            "let the window end later than it begins  [window-empty]",
        ),
    ],
)
def test_what_cannot_be_measured_in_this_run(keys: dict[str, object], message: str) -> None:
    with pytest.raises(MaterialError) as refusal:
        measured(TOPPLED, **keys)
    assert str(refusal.value) == message


@pytest.mark.parametrize(
    ("keys", "message"),
    [
        (
            {"reducer": "at event", "event": "turn ends 3"},
            "worst needs the event 'turn ends' number 3, and it happens 2 times in this run; "
            "this run has turn ends, turn starts; choose one of these or change the flight  [event-missing]",
        ),
        (
            {"reducer": "mean", "window": {"span": "climb"}},
            "worst needs the span 'climb', and it never happens in this run; this run has turn; "
            "choose one of these or change the flight  [event-missing]",
        ),
        (
            {"reducer": "first above", "bound": "120 deg"},
            "worst: slaved.error is never above 120.0°; its greatest size is 100.0°; a time can be stated only for "
            "what happens; lengthen the flight, widen the window or change the bound  [bound-not-reached]",
        ),
        (
            {"reducer": "settles below", "bound": "50 deg"},
            "worst: slaved.error does not stay below 50.0°; at the end it is 100.0°; a time can be stated only for "
            "what happens; lengthen the flight, widen the window or change the bound  [bound-not-reached]",
        ),
        (
            {"reducer": "when", "other": "actual.heading", "passes": "050", "number": "2"},
            "worst: actual.heading passes 050.0° M only 1 of the 2 times wanted; a time can be stated only for "
            "what happens; lengthen the flight, widen the window or change the bound  [bound-not-reached]",
        ),
    ],
)
def test_what_never_happens(keys: dict[str, object], message: str) -> None:
    with pytest.raises(MaterialError) as refusal:
        measured(EVENTFUL, channel="slaved.error", **keys)
    assert str(refusal.value) == message


def test_all_measures_with_their_values_or_why_not() -> None:
    measures: dict[str, Measure] = {
        "end": declare("end", {"channel": "slaved.error", "reducer": "end"}),
        "climb": declare("climb", {"channel": "slaved.error", "reducer": "end", "window": {"span": "climb"}}),
    }
    values, problems = evaluate_all(EVENTFUL, measures)
    assert values == {"end": Value(100.0, "deg", None, 100.0, "end")}
    assert [problem.code for problem in problems["climb"]] == ["event-missing"]


def test_values_are_shown_with_unit_or_north() -> None:
    assert Value(-7.85, "deg/h").text(1) == "−7.9 °/h"
    assert Value(43.0, "deg", "magnetic").text(0) == "043° M"
