"""Measures an instructor declares, and what is said when one cannot be."""

from __future__ import annotations

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.quantities import CHANNELS, EVENTS, REDUCERS, Measure, Moment, Passing, Window, declare, examine
from gyrochalk.quantities.declaring import describe

CHANNEL = {"channel": "slaved.error"}


@pytest.mark.parametrize(
    ("keys", "measure"),
    [
        (
            {"channel": "slaved.error", "reducer": "at", "time": "1 min", "description": "the error after a minute"},
            Measure("m", "slaved.error", "at", "deg", "the error after a minute", Moment(later_s=60.0)),
        ),
        (
            {"channel": "slaved.difference", "reducer": "first below", "bound": "0.5 deg", "description": "d"},
            Measure("m", "slaved.difference", "first below", "s", "d", bound=0.5),
        ),
        (
            {"channel": "actual.height", "reducer": "first above", "bound": "1 km", "description": "d"},
            Measure("m", "actual.height", "first above", "s", "d", bound=1000 / 0.3048, signed=True),
        ),
        (
            {
                "channel": "card.error",
                "reducer": "when",
                "other": "actual.heading",
                "passes": "090",
                "direction": "rising",
                "number": "2",
                "description": "d",
            },
            Measure("m", "card.error", "when", "deg", "d", passing=Passing("actual.heading", 90.0, "rising", 2)),
        ),
        (
            {"channel": "time", "reducer": "when", "other": "actual.latitude", "passes": "52 30 N", "description": "d"},
            Measure("m", "time", "when", "s", "d", signed=True, passing=Passing("actual.latitude", 52.5)),
        ),
        (
            {
                "channel": "gyro.error",
                "reducer": "rate",
                "unit": "°/min",
                "window": {"span": "turn 2"},
                "description": "d",
            },
            Measure("m", "gyro.error", "rate", "deg/min", "d", window=Window(span="turn", number=2)),
        ),
        (
            {"reducer": "count", "event": "fast starts", "description": "d"},
            Measure("m", "time", "count", "1", "d", Moment("fast starts"), signed=True),
        ),
    ],
)
def test_what_is_declared_is_what_is_measured(keys: dict[str, object], measure: Measure) -> None:
    assert declare("m", keys) == measure


def test_a_measure_without_a_description_describes_itself() -> None:
    assert declare("m", {"channel": "gyro.error", "reducer": "peak"}).description == describe("gyro.error", "peak")


@pytest.mark.parametrize(
    ("keys", "path", "message"),
    [
        ({"channel": "slaved.error"}, (), 'the key "reducer" is missing; a value for it; add reducer  [key-missing]'),
        ({"reducer": "peak"}, (), 'the key "channel" is missing; a value for it; add channel  [key-missing]'),
        (
            {**CHANNEL, "reducer": "peek"},
            ("reducer",),
            f'"peek" is no reducer; allowed are {", ".join(REDUCERS)}; did you mean "peak"?  [choice-unknown]',
        ),
        (
            {"channel": "slaved.eror", "reducer": "peak"},
            ("channel",),
            f'"slaved.eror" is no channel; allowed are {", ".join(CHANNELS)}; '
            'did you mean "slaved.error"?  [choice-unknown]',
        ),
        (
            {**CHANNEL, "reducer": "peak", "bound": "1 deg"},
            ("bound",),
            'the key "bound" means nothing here; allowed are channel, reducer, window, unit, description; '
            "remove it  [key-unknown]",
        ),
        (
            {**CHANNEL, "reducer": "first below"},
            (),
            'the key "bound" is missing; a value for it; add bound  [key-missing]',
        ),
        (
            {**CHANNEL, "reducer": "first below", "bound": "1"},
            ("bound",),
            "1 has no unit; allowed are deg, rad; write for example 1 deg  [unit-missing]",
        ),
        (
            {**CHANNEL, "reducer": "first below", "bound": "-1 deg"},
            ("bound",),
            "-1 deg is less than nothing; the bound of a size is 0 or more; "
            "leave the minus sign out, or add signed: yes  [out-of-range]",
        ),
        (
            {**CHANNEL, "reducer": "first below", "bound": "1 deg", "signed": "perhaps"},
            ("signed",),
            "perhaps is no answer; yes or no; write yes or no  [choice-unknown]",
        ),
        (
            {**CHANNEL, "reducer": "at", "time": "1 kt"},
            ("time",),
            "1 kt is a speed, not a time; allowed are s, min, h, ms; write for example 1 s  [unit-wrong]",
        ),
        (
            {**CHANNEL, "reducer": "at event", "event": "turn end"},
            ("event",),
            f'"turn end" is no kind of event; allowed are {", ".join(EVENTS)}, start, end; '
            'did you mean "turn ends"?  [choice-unknown]',
        ),
        (
            {"channel": "slaved.heading", "reducer": "peak"},
            ("reducer",),
            "peak of slaved.heading has no meaning; a heading has no size; "
            "choose another reducer, or the error of the same instrument  [measure-senseless]",
        ),
        (
            {"channel": "detector.field", "reducer": "rate"},
            ("reducer",),
            "rate of detector.field has no meaning; a rate is not stated for a magnetic field; "
            "choose another reducer or channel  [measure-senseless]",
        ),
        (
            {**CHANNEL, "reducer": "peak", "unit": "kt"},
            ("unit",),
            "peak of slaved.error cannot be stated in kt; allowed are deg, rad; write for example deg  [unit-wrong]",
        ),
        (
            {**CHANNEL, "reducer": "when", "other": "actual.heading", "passes": "90"},
            ("passes",),
            "90 is not a three-figure heading; a heading is three figures from 000 to 360, with T, M or C after it for "
            "the north it is from; write 090  [heading-unreadable]",
        ),
        (
            {**CHANNEL, "reducer": "when", "other": "actual.heading", "passes": "090", "number": "0"},
            ("number",),
            "0 is no count; 1, 2, 3 …; write 1 or more  [number-unreadable]",
        ),
        (
            {**CHANNEL, "reducer": "when", "other": "actual.heading", "passes": "090", "direction": "up"},
            ("direction",),
            '"up" is no direction; allowed are rising, falling, either; write for example falling  [choice-unknown]',
        ),
        (
            {**CHANNEL, "reducer": "mean", "window": "turn"},
            ("window",),
            "a single value stands at window; allowed are the keys from, to, span, last; "
            "write the keys below it  [value-kind]",
        ),
        (
            {**CHANNEL, "reducer": "mean", "window": {"spn": "turn"}},
            ("window", "spn"),
            'the key "spn" means nothing here; allowed are from, to, span, last; did you mean "span"?  [key-unknown]',
        ),
        (
            {**CHANNEL, "reducer": "mean", "window": {"span": "turn", "from": "1 min"}},
            ("window", "from"),
            "span and from exclude each other; one of span, from; remove from  [key-conflict]",
        ),
        (
            {**CHANNEL, "reducer": "mean", "window": {"span": "trun"}},
            ("window", "span"),
            '"trun" is no kind of span; allowed are turn, climb, acceleration, fast alignment, hold, fault, free, '
            'cut-off; did you mean "turn"?  [choice-unknown]',
        ),
        (
            {**CHANNEL, "reducer": ["peak"]},
            ("reducer",),
            "a group stands at reducer; a single value; write one value  [value-kind]",
        ),
    ],
)
def test_one_problem_and_where_it_is(keys: dict[str, object], path: tuple[str, ...], message: str) -> None:
    measure, located = examine("worst", keys)
    assert measure is None
    assert [(where, str(problem)) for where, problem in located] == [(path, message)]
    with pytest.raises(MaterialError) as refusal:
        declare("worst", keys)
    assert str(refusal.value) == message


def test_every_problem_at_once() -> None:
    keys = {"channel": "x", "reducer": "first below", "bund": "1", "window": {"from": "1", "span": "walk"}}
    _, located = examine("worst", keys)
    assert [where for where, _ in located] == [
        ("bund",),
        ("channel",),
        (),
        ("window", "from"),
        ("window", "from"),
        ("window", "span"),
    ]
