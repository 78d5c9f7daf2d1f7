"""What cannot be flown or lies outside the models is refused with the whole reason, before anything is computed."""

from __future__ import annotations

import datetime
import math

import numpy as np
import pytest
from tests.systems.bench import FIELD, in_flight, on_bench

from gyrochalk.errors import MaterialError
from gyrochalk.physics.advance import JOURNEY, STEP_TOO_SMALL
from gyrochalk.physics.flown import Flown
from gyrochalk.systems.actions import DetectorFault, Disturbance, HoldToAlign, SetNut
from gyrochalk.systems.instruments import DirectCompass, Gyro, Loop
from gyrochalk.systems.places import ModelField, Place, StatedField
from gyrochalk.systems.plans import Accelerate, Climb, FlightPlan, GreatCircle, Hold, Leg, Stand, Taxi, Turn
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import Flying, simulate


def refusal(setup: Setup) -> str:
    """The whole text of the refusal of a setup."""
    with pytest.raises(MaterialError) as caught:
        simulate(setup)
    return str(caught.value)


FLIGHTS: list[tuple[str, tuple[Leg, ...], float, str]] = [
    (
        "a bank beyond 80 degrees",
        (Hold(10.0), Turn(by_deg=90.0, bank_deg=85.0)),
        120.0,
        "leg 2 needs a bank of 85 deg; a level turn here is flown at more than 0 and at most 80 deg of bank; "
        "turn more slowly or fly more slowly",
    ),
    (
        "a rate that needs such a bank",
        (Turn(by_deg=90.0, rate_deg_s=60.0),),
        200.0,
        "leg 1 needs a bank of 85 deg; a level turn here is flown at more than 0 and at most 80 deg of bank; "
        "turn more slowly or fly more slowly",
    ),
    (
        "a turn without speed",
        (Turn(by_deg=90.0),),
        0.0,
        "leg 1 turns at 0 kt; a banked turn needs airspeed; accelerate first, or use taxi",
    ),
    (
        "standing still in the air",
        (Hold(10.0), Stand(10.0)),
        90.0,
        "leg 2 stands still but the speed is 90 kt; a stand needs a speed of 0 kt; use hold, or start with speed 0 kt",
    ),
    (
        "slowing down to less than nothing",
        (Accelerate(-0.1, duration_s=60.0),),
        100.0,
        "leg 1 slows down to -14 kt; the speed stays at 0 kt or more; shorten the leg",
    ),
    (
        "an acceleration away from its speed",
        (Accelerate(0.1, to_tas_kt=80.0),),
        100.0,
        "leg 1 goes from 100 kt to 80 kt at 0.1 g; the sign of the acceleration must lead to the speed; "
        "change its sign",
    ),
    (
        "an acceleration without an end",
        (Accelerate(0.1),),
        100.0,
        "leg 1 has neither a time nor a speed to reach; one of them is needed; add one",
    ),
    (
        "a turn to the heading already flown",
        (Turn(to_heading_deg=0.0),),
        100.0,
        "leg 1 turns to the heading already flown; the short way there is no turn at all; "
        "say left or right to fly a full circle, or leave the leg out",
    ),
    (
        "a turn without an end",
        (Turn(),),
        100.0,
        "leg 1 turns neither through an angle nor to a heading; one is needed; add one",
    ),
    (
        "a climb without an end",
        (Climb(500.0),),
        100.0,
        "leg 1 has neither a time nor a height to reach; one of them is needed; add one",
    ),
    (
        "straight over the pole",
        (Hold(36_000.0),),
        480.0,
        "the flight comes to a pole after 281 min; it must stay between 89.5 N and 89.5 S, since headings lose their "
        "meaning at a pole; shorten it or choose another route",
    ),
    (
        "a climb away from its height",
        (Climb(500.0, to_height_ft=-500.0),),
        100.0,
        "leg 1 goes from 0 ft to -500 ft at 500 ft/min; the sign of the climb must lead to the height; change its sign",
    ),
    (
        "a climb too steep",
        (Climb(8000.0, duration_s=60.0),),
        100.0,
        "leg 1 climbs 8000 ft/min at 100 kt; at most half the airspeed may point up or down; "
        "climb more slowly or fly faster",
    ),
    (
        "a great circle to where one is",
        (GreatCircle(52.0, 0.0),),
        100.0,
        "a great circle of 0.000 deg of arc has no definite track; "
        "its ends must be neither the same nor opposite points; choose another place",
    ),
    (
        "a great circle without speed",
        (GreatCircle(53.0, 1.0),),
        0.0,
        "leg 1 flies a great circle at 0 kt; it needs airspeed; accelerate first",
    ),
    (
        "more than a day",
        (Hold(50_000.0), Hold(40_000.0)),
        100.0,
        "leg 2 ends after 25.0 h; a flight lasts at most 24 h; shorten it",
    ),
]


@pytest.mark.parametrize(("legs", "tas_kt", "message"), [f[1:] for f in FLIGHTS], ids=[f[0] for f in FLIGHTS])
def test_flights_that_cannot_be_flown(legs: tuple[Leg, ...], tas_kt: float, message: str) -> None:
    assert refusal(in_flight(*legs, tas_kt=tas_kt)) == f"{message}  [flight-impossible]"


def test_a_great_circle_against_a_wind_too_strong() -> None:
    plan = FlightPlan((GreatCircle(52.0, 10.0),), tas_kt=100.0, wind_from_deg=90.0, wind_kt=120.0)
    assert refusal(Setup(Place(52.0, 0.0), plan, FIELD)) == (
        "a wind of 120 kt stops the great circle; the airspeed must be more than the wind; "
        "fly faster or in less wind  [flight-impossible]"
    )


def test_a_flight_without_legs_or_with_none_that_lasts() -> None:
    message = "the flight has no leg that lasts; at least one is needed; add hold: 5 min  [flight-empty]"
    assert refusal(in_flight()) == message
    assert refusal(in_flight(Hold(0.0))) == message


@pytest.mark.parametrize("day", [datetime.date(2009, 12, 31), datetime.date(2030, 1, 1)])
def test_a_date_outside_every_field_model(day: datetime.date) -> None:
    assert refusal(in_flight(Hold(10.0), field=ModelField(day))) == (
        f"no magnetic model covers {day.isoformat()}; allowed are dates from 2010-01-01 to 2029-12-31; "
        "choose a date in that span or state the field (horizontal and dip)  [field-date]"
    )


def test_every_value_out_of_range_is_told_at_once() -> None:
    setup = Setup(
        Place(91.0, 200.0, 90_000.0),
        FlightPlan((Hold(10.0),), tas_kt=-5.0, wind_kt=math.nan),
        StatedField(0.0, 90.0),
        compass=DirectCompass(damping=-1.0, period_s=math.inf),
        gyro=Gyro(stop_deg=95.0),
        slaved_gyro=Gyro(nut_latitude_deg=100.0),
        loop=Loop(dead_zone_deg=3.0),
        effects=frozenset({"earth rate", "magic"}),
        tolerance_deg=0.0,
    )
    assert refusal(setup).splitlines() == [
        "latitude is 91 deg; allowed is -89.5 to 89.5 deg; choose a value in that range  [out-of-range]",
        "longitude is 200 deg; allowed is -180 to 180 deg; choose a value in that range  [out-of-range]",
        "height is 90000 ft; allowed is -1500 to 60000 ft; choose a value in that range  [out-of-range]",
        "horizontal field is 0 uT; allowed is 0.1 to 70 uT; choose a value in that range  [out-of-range]",
        "dip is 90 deg; allowed is -89.9 to 89.9 deg; choose a value in that range  [out-of-range]",
        "true airspeed is -5 kt; allowed is 0 to 1000 kt; choose a value in that range  [out-of-range]",
        "wind is nan kt; allowed is 0 to 250 kt; choose a value in that range  [out-of-range]",
        "compass period is inf s; allowed is 0.5 to 60 s; choose a value in that range  [out-of-range]",
        "compass damping is -1; allowed is 0.01 to 5; choose a value in that range  [out-of-range]",
        "dead zone is 3 deg; allowed is 0 to 1.98 deg; choose a value in that range  [out-of-range]",
        "tolerance is 0 deg; allowed is 1e-08 to 1 deg; choose a value in that range  [out-of-range]",
        "unslaved gyro stop is 95 deg; allowed is 10 to 89 deg; choose a value in that range  [out-of-range]",
        "slaved gyro nut is 100 deg; allowed is -90 to 90 deg; choose a value in that range  [out-of-range]",
        "there is no effect 'magic'; effects are earth rate, transport, coriolis, drift, gimballing, detector tilt, "
        "swirl, friction, deviation, noise, levelling; correct its name  [choice-unknown]",
    ]


def test_numbers_of_legs_actions_and_faults_out_of_range_are_told_at_once() -> None:
    legs = (Hold(-1.0), Turn(by_deg=0.0, roll_rate_deg_s=0.0), Taxi(0.0), Accelerate(3.0, duration_s=math.nan))
    setup = in_flight(
        *legs,
        Climb(500.0, to_height_ft=1e6),
        GreatCircle(95.0, 0.0),
        actions=(HoldToAlign(-1.0, 5.0), SetNut(0.0, 91.0)),
        faults=(
            Disturbance(20.0, 10.0, (math.inf, 0.0, 0.0)),
            DetectorFault("leg dead", 0.0, leg=4),
            DetectorFault("leg loose", 0.0),
        ),
        sample_interval_s=0.0,
    )
    assert [line.split(";")[0] for line in refusal(setup).splitlines()] == [
        "leg 1's time is -1 s",
        "leg 2's angle of turn is 0 deg",
        "leg 2's roll rate is 0 deg/s",
        "leg 3's time is 0 s",
        "leg 4's acceleration is 3 g",
        "leg 4's time is nan s",
        "leg 5's height to reach is 1e+06 ft",
        "leg 6's latitude is 95 deg",
        "time between samples is 0 s",
        "action 1's time is -1 s",
        "action 2's nut is 91 deg",
        "fault 1's end is 10 s",
        "fault 1's field is inf uT",
        "fault 2's leg is 4",
        "there is no detector fault 'leg loose'",
    ]


def test_a_field_too_weak_for_a_compass_is_told_by_the_run() -> None:
    """Below 6 µT weak, below 2 µT unusable (from memory): a warning, since the run shows what then happens."""
    for horizontal, said in ((6.1, ()), (5.0, ("weak",)), (1.5, ("unusable",))):
        run = simulate(on_bench(10.0, field=StatedField(horizontal, 70.0)))
        expected = tuple(
            f"at 0 s: horizontal field {horizontal:.1f} µT, {word} for a magnetic compass" for word in said
        )
        assert run.provenance.warnings == expected


def test_near_the_magnetic_pole_the_run_says_the_field_is_unusable() -> None:
    setup = Setup(Place(85.9, 142.0), FlightPlan((Hold(60.0),), north="true"), ModelField(datetime.date(2026, 1, 1)))
    run = simulate(setup)
    (warning,) = run.provenance.warnings
    assert warning.endswith("unusable for a magnetic compass")
    assert float(run["field.dip"].values[0]) > 88.0


def test_an_integration_that_cannot_go_on_says_where() -> None:
    """No setup within the ranges is known that comes to this, so the flight is given the kernel's answer."""
    nothing = np.zeros((0, 2))
    answer: Flown = (nothing, nothing, STEP_TOO_SMALL, 12.34, np.zeros(JOURNEY))
    with pytest.raises(MaterialError) as caught:
        Flying(in_flight(Hold(20.0))).checked("direct compass", answer)
    assert str(caught.value) == (
        "the direct compass could not be followed beyond 12.3 s of the flight; steps must stay longer than a "
        "nanosecond at a tolerance of 0.01 deg; look at the values of the direct compass, or at the flight near that "
        "time  [simulation-stopped]"
    )
