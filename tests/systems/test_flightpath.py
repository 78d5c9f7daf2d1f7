"""Legs become the flight they describe: headings, heights, speeds and ground tracks come out exactly."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.systems.bench import FIELD, in_flight

from gyrochalk.systems.geomagnetism import field_at_point, model_for
from gyrochalk.systems.places import ModelField, Place, StatedField
from gyrochalk.systems.plans import Accelerate, Climb, FlightPlan, GreatCircle, Hold, Stand, Taxi, Turn
from gyrochalk.systems.run import Run
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate


def last(run: Run, channel: str) -> float:
    """The last sample of a channel."""
    return float(run[channel].values[-1])


@pytest.mark.parametrize(
    ("turn", "ends_on"),
    [
        (Turn(by_deg=90.0), 110.0),
        (Turn(by_deg=-90.0, roll_time_s=4.0), 290.0),
        (Turn(by_deg=720.0, bank_deg=30.0), 20.0),
        (Turn(by_deg=3.0), 23.0),
        (Turn(by_deg=-0.5, rate_deg_s=6.0), 19.5),
        (Turn(to_heading_deg=350.0), 350.0),
        (Turn(to_heading_deg=350.0, direction="right"), 350.0),
        (Turn(to_heading_deg=20.0, direction="left"), 20.0),
    ],
)
def test_a_turn_ends_exactly_on_its_heading(turn: Turn, ends_on: float) -> None:
    run = simulate(in_flight(turn, heading_deg=20.0))
    assert last(run, "actual.heading") == pytest.approx(ends_on, abs=1e-9)
    assert last(run, "actual.bank") == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("turn", "through_deg"),
    [
        (Turn(to_heading_deg=350.0), -30.0),
        (Turn(to_heading_deg=350.0, direction="right"), 330.0),
        (Turn(to_heading_deg=20.0, direction="left"), -360.0),
        (Turn(to_heading_deg=20.0, direction="right"), 360.0),
        (Turn(to_heading_deg=199.0), 179.0),
    ],
)
def test_which_way_round(turn: Turn, through_deg: float) -> None:
    run = simulate(in_flight(turn, heading_deg=20.0))
    turned = np.degrees(np.unwrap(np.radians(run["actual.heading"].values)))
    assert float(turned[-1] - turned[0]) == pytest.approx(through_deg, abs=1e-6)
    (span,) = [span for span in run.spans if span.kind == "turn"]
    side = "right" if through_deg > 0.0 else "left"
    assert span.text == f"turn {side} through {abs(through_deg):.0f}°"


def test_a_turn_too_short_for_its_bank_uses_less() -> None:
    """A full rate-one turn at 120 kt banks 18.24°; 3° of turn are over before, at the same roll rate."""
    short, full = (simulate(in_flight(Turn(by_deg=angle), sample_interval_s=0.01)) for angle in (3.0, 60.0))
    assert float(np.max(full["actual.bank"].values)) == pytest.approx(18.24, abs=0.01)
    greatest = float(np.max(short["actual.bank"].values))
    assert 5.0 < greatest < 18.0
    assert short.time_s[-1] == pytest.approx(2.0 * greatest / 10.0, abs=0.01)


def test_roll_in_takes_the_time_stated() -> None:
    run = simulate(in_flight(Hold(5.0), Turn(by_deg=90.0, bank_deg=20.0, roll_time_s=4.0)))
    bank = np.interp([5.0, 7.0, 9.0], run.time_s, run["actual.bank"].values)
    assert bank == pytest.approx([0.0, 10.0, 20.0], abs=1e-6)


def test_a_turn_to_a_magnetic_heading_uses_the_variation_met_there() -> None:
    """An hour west of the start the variation is another; the turn ends on the magnetic heading where it ends."""
    legs = (Hold(3600.0), Turn(to_heading_deg=180.0, north="magnetic"), Hold(1.0))
    plan = FlightPlan(legs, heading_deg=270.0, north="true", tas_kt=400.0)
    run = simulate(Setup(Place(55.0, -10.0), plan, ModelField()))
    assert last(run, "actual.heading") == pytest.approx(180.0, abs=0.05)
    assert abs(last(run, "field.variation") - float(run["field.variation"].values[0])) > 3.0
    assert float(run["actual.heading_true"].values[0]) == pytest.approx(270.0, abs=1e-9)


def test_variation_tells_true_and_magnetic_apart() -> None:
    """true = magnetic + variation, east positive."""
    plan = FlightPlan((Hold(10.0),), heading_deg=100.0, north="magnetic")
    run = simulate(Setup(Place(52.0, 0.0), plan, StatedField(20.0, 60.0, 7.0)))
    assert last(run, "actual.heading_true") == pytest.approx(107.0, abs=1e-9)
    assert last(run, "actual.heading") == pytest.approx(100.0, abs=1e-9)


@pytest.mark.parametrize("rate_ft_min", [500.0, -700.0])
def test_a_climb_reaches_its_height(rate_ft_min: float) -> None:
    goal_ft = 3000.0 + 2.0 * rate_ft_min
    setup = in_flight(Hold(10.0), Climb(rate_ft_min, to_height_ft=goal_ft), Hold(10.0))
    run = simulate(Setup(Place(52.0, 0.0, 3000.0), setup.flight, FIELD))
    assert last(run, "actual.height") == pytest.approx(goal_ft, abs=0.5)
    steepest = math.degrees(math.asin(rate_ft_min * 0.3048 / 60.0 / (120.0 * 1852.0 / 3600.0)))
    pitch = run["actual.pitch"].values
    assert float(pitch[np.argmax(np.abs(pitch))]) == pytest.approx(steepest, abs=1e-6)
    assert last(run, "actual.pitch") == pytest.approx(0.0, abs=1e-9)


def test_a_climb_too_short_for_its_rate_is_still_on_time_and_level_after() -> None:
    run = simulate(in_flight(Climb(2000.0, duration_s=4.0)))
    assert run.time_s[-1] == 4.0
    assert float(np.max(run["actual.pitch"].values)) == pytest.approx(2.0, abs=1e-6)
    few_feet = simulate(in_flight(Climb(2000.0, to_height_ft=5.0), Hold(1.0)))
    assert last(few_feet, "actual.height") == pytest.approx(5.0, abs=0.05)


def test_an_acceleration_reaches_its_speed_in_its_time() -> None:
    run = simulate(in_flight(Accelerate(0.1, to_tas_kt=150.0), Hold(5.0), tas_kt=100.0))
    (span,) = [span for span in run.spans if span.kind == "acceleration"]
    assert span.end_s == pytest.approx(50.0 * 1852.0 / 3600.0 / 0.980665)
    assert last(run, "actual.tas") == pytest.approx(150.0, abs=1e-6)


def test_wind_moves_the_track_and_not_the_airspeed() -> None:
    """North at 100 kt in 30 kt from the west: track 016.7°, 104.4 kt over the ground."""
    plan = FlightPlan((Hold(3600.0),), tas_kt=100.0, wind_from_deg=270.0, wind_kt=30.0)
    run = simulate(Setup(Place(52.0, 0.0), plan, FIELD))
    assert last(run, "actual.tas") == pytest.approx(100.0, abs=1e-6)
    assert last(run, "actual.track") == pytest.approx(math.degrees(math.atan2(30.0, 100.0)), abs=1e-6)
    assert last(run, "actual.ground_speed") == pytest.approx(math.hypot(30.0, 100.0), abs=1e-6)
    assert last(run, "actual.latitude") == pytest.approx(52.0 + 100.0 / 60.0, abs=1e-4)
    middle = math.cos(math.radians(52.0 + 50.0 / 60.0))
    assert last(run, "actual.longitude") == pytest.approx(0.5 / middle, abs=1e-3)


def test_a_wind_does_not_move_what_stands() -> None:
    plan = FlightPlan((Stand(600.0),), tas_kt=0.0, wind_from_deg=270.0, wind_kt=30.0)
    run = simulate(Setup(Place(52.0, 0.0), plan, FIELD))
    assert last(run, "actual.ground_speed") == 0.0
    assert last(run, "actual.longitude") == pytest.approx(0.0, abs=1e-12)


def test_taxiing_yaws_evenly_with_wings_level() -> None:
    run = simulate(in_flight(Taxi(60.0, 120.0), tas_kt=10.0))
    assert last(run, "actual.heading") == pytest.approx(120.0, abs=1e-9)
    assert float(np.ptp(run["actual.turn_rate"].values)) < 1e-9
    assert float(np.max(np.abs(run["actual.bank"].values))) == 0.0


def test_a_great_circle_in_wind_keeps_its_track() -> None:
    """The nose is held into the wind, and the flight arrives."""
    plan = FlightPlan((GreatCircle(55.0, 10.0), Hold(1.0)), tas_kt=250.0, wind_from_deg=330.0, wind_kt=60.0)
    run = simulate(Setup(Place(52.0, 0.0), plan, FIELD))
    assert last(run, "actual.latitude") == pytest.approx(55.0, abs=0.002)
    assert last(run, "actual.longitude") == pytest.approx(10.0, abs=0.01)
    drift = (run["actual.heading_true"].values - run["actual.track"].values)[:-20]
    assert np.all(drift < -5.0)
    still = FlightPlan((GreatCircle(55.0, 10.0),), tas_kt=250.0)
    calm = simulate(Setup(Place(52.0, 0.0), still, FIELD))
    apart = run["actual.track"].values[100] - np.interp(
        float(run["actual.longitude"].values[100]), calm["actual.longitude"].values, calm["actual.track"].values
    )
    assert abs(float(apart)) < 1e-3


def test_legs_are_told_in_order() -> None:
    run = simulate(in_flight(Hold(10.0), Turn(by_deg=90.0), Climb(-500.0, duration_s=20.0)))
    told = [(event.kind, event.text) for event in run.events]
    assert told == [
        ("leg", "hold heading"),
        ("leg", "turn right through 90°"),
        ("turn starts", "turn right through 90°"),
        ("turn ends", "turn right through 90° ends"),
        ("leg", "descend at 500 ft/min"),
    ]
    assert [span.kind for span in run.spans] == ["turn", "climb"]


def test_field_channels_are_those_of_the_model_along_the_way() -> None:
    """At the end of a long leg the tabulated field is the model's at that place, within 0.1 nT."""
    plan = FlightPlan((Climb(1000.0, duration_s=600.0), Hold(3000.0)), heading_deg=80.0, north="true", tas_kt=400.0)
    day = ModelField()
    run = simulate(Setup(Place(60.0, 175.0), plan, day))
    for k in (0, 1500, len(run.time_s) - 1):
        place = [float(run[name].values[k]) for name in ("actual.latitude", "actual.longitude", "actual.height")]
        x, y, z = field_at_point(model_for(day.date), place[0], place[1], place[2] * 0.3048e-3)
        assert float(run["field.horizontal"].values[k]) == pytest.approx(math.hypot(x, y) / 1000.0, abs=1e-4)
        assert float(run["field.dip"].values[k]) == pytest.approx(
            math.degrees(math.atan2(z, math.hypot(x, y))), abs=1e-5
        )
        assert float(run["field.variation"].values[k]) == pytest.approx(math.degrees(math.atan2(y, x)), abs=1e-4)
    assert last(run, "actual.longitude") < -160.0
