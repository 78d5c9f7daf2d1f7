"""Two real recorded flights (sample set of `traffic` 2.13): bank from the turn against the recorded roll."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.outside.recording import Tell, tell
from tests.systems.sample_flights import (
    AIRLINE_DATE,
    LAST_FRESH_ROW,
    ZERO_GRAVITY_DATE,
    airline,
    airline_roll,
    zero_gravity,
    zero_gravity_columns,
)

from gyrochalk.errors import MaterialError
from gyrochalk.systems.geomagnetism import model_for
from gyrochalk.systems.places import ModelField, Place
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.systems.recorded_motion import RecordedMotion, smooth
from gyrochalk.systems.recorded_path import variation_along
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate

Floats = NDArray[np.float64]


def apparent_gravity_g(motion: RecordedMotion, time_s: Floats) -> Floats:
    """Size of gravity less acceleration, in g."""
    north, east, down = (motion.at(name, time_s, 1) for name in ("north", "east", "down"))
    size: Floats = np.sqrt(north**2 + east**2 + (9.80665 - down) ** 2) / 9.80665
    return size


def test_derived_bank_agrees_with_the_recorded_roll_of_the_zero_gravity_flight(record_property: Tell) -> None:
    flight = zero_gravity(with_roll=False)
    motion = smooth(flight, variation_along(flight, model_for(ZERO_GRAVITY_DATE)))
    time_s = flight.time_s - flight.time_s[0]
    roll_deg = zero_gravity_columns()["roll"][:LAST_FRESH_ROW]
    load = apparent_gravity_g(motion, time_s)
    ordinary = (load > 0.8) & (load < 1.5)
    assert ordinary.sum() > 7000
    off_deg = np.abs(np.degrees(motion.at("bank", time_s)) - roll_deg)
    assert np.median(off_deg[ordinary]) < 1.5
    told = "recorded flight: bank from turn rate against the held-out roll, median"
    tell(record_property, told, float(np.median(off_deg[ordinary])), 1.5, "deg", "zero_gravity of the sample set")
    turning = ordinary & (np.abs(roll_deg) > 10.0)
    assert turning.sum() > 500
    assert np.median(off_deg[turning]) < 2.5


def test_the_zero_gravity_flight_loses_its_weight_again_and_again() -> None:
    flight = zero_gravity(with_roll=True, heading_north="true")
    motion = smooth(flight)
    light = apparent_gravity_g(motion, motion.time_s) < 0.3
    assert 20 < np.flatnonzero(np.diff(light.astype(int)) == 1).size < 60


def test_derived_bank_agrees_with_the_recorded_roll_of_the_airline_flight() -> None:
    flight = airline()
    motion = smooth(flight, variation_along(flight, model_for(AIRLINE_DATE)))
    sent_s, roll_deg = airline_roll()
    off_deg = np.abs(np.degrees(motion.at("bank", sent_s - flight.time_s[0])) - roll_deg)
    assert np.median(off_deg) < 1.5
    assert np.median(off_deg[np.abs(roll_deg) > 5.0]) < 2.5


def flown(flight: RecordedFlight, field: ModelField) -> Setup:
    start = Place(float(flight.latitude_deg[0]), float(flight.longitude_deg[0]), float(flight.height_ft[0]))
    return Setup(place=start, flight=flight, field=field)


def test_the_airline_flight_runs_from_stand_to_stand() -> None:
    flight = airline()
    run = simulate(flown(flight, ModelField(AIRLINE_DATE)))
    assert run.time_s[-1] == flight.time_s[-1] - flight.time_s[0]
    assert run.time_s[-1] > 79.0 * 60.0
    for column in run.columns.values():
        shown = column.values if column.valid is None else column.values[column.valid]
        assert np.isfinite(shown).all(), column.name
    assert np.abs(run["slaved.error"].values).max() < 10.0
    assert run.provenance.field_model == "WMM-2020"


def test_a_stale_end_is_refused() -> None:
    columns = zero_gravity_columns()
    whole = RecordedFlight(
        columns["timestamp"] / 1000.0,
        columns["latitude"],
        columns["longitude"],
        columns["altitude"],
        ground_speed_kt=columns["groundspeed"],
    )
    with pytest.raises(MaterialError) as caught:
        smooth(whole)
    assert str(caught.value) == (
        "nothing new was recorded for 299 s from 10067 s after the start; gaps up to 20 s; "
        "cut the recording there, or raise gap_limit if a straight line will do  [flight-gap]"
    )
