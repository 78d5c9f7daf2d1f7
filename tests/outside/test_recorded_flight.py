"""The product flown along a real recorded flight, against what was recorded and what follows from it by hand.

The flight (`zero_gravity` of the sample set of `traffic` 2.13, see docs/sources.md) is read from the installed wheel.
"""

from __future__ import annotations

import functools
import math

import numpy as np
from ahrs.utils import WMM
from numpy.typing import NDArray
from scipy.signal import savgol_filter

from gyrochalk.systems.effects import FULL
from gyrochalk.systems.instruments import Gyro
from gyrochalk.systems.places import ModelField, Place
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.systems.run import Run
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate
from tests.outside.recording import Tell, tell
from tests.systems.sample_flights import ZERO_GRAVITY_DATE, zero_gravity

Floats = NDArray[np.float64]

EARTH_RATE_RAD_S = 7.292115e-5
SOURCE = "recorded flight zero_gravity, traffic 2.13"


@functools.cache
def flown() -> tuple[RecordedFlight, Run]:
    """The recording and the run along it: a gyro with ideal levelling, gimballing off, all else on."""
    flight = zero_gravity(with_roll=False)
    start = Place(float(flight.latitude_deg[0]), float(flight.longitude_deg[0]), float(flight.height_ft[0]))
    setup = Setup(
        start,
        flight,
        ModelField(ZERO_GRAVITY_DATE),
        gyro=Gyro(levelling="ideal"),
        effects=FULL - {"gimballing"},
        sample_interval_s=1.0,
    )
    return flight, simulate(setup)


def shown(channel: str) -> Floats:
    """A heading of the run at the times of the recording, unwrapped [deg]."""
    flight, run = flown()
    values = np.degrees(np.unwrap(np.radians(run[channel].values)))
    return np.asarray(np.interp(flight.time_s - flight.time_s[0], run.time_s, values))


def wrapped(angles_deg: Floats) -> Floats:
    """Angles in [−180, 180)."""
    return np.asarray((angles_deg + 180.0) % 360.0 - 180.0)


def test_actual_heading_is_the_recorded_one_and_variation_that_of_the_date(record_property: Tell) -> None:
    """True heading = recorded magnetic heading + variation by ahrs's own evaluation of the model of 2020."""
    flight, run = flown()
    assert run.provenance.field_model == "WMM-2020"
    assert run.provenance.field_date == "2020-06-25"
    assert flight.heading_deg is not None
    off = np.abs(wrapped(shown("actual.heading") - flight.heading_deg))
    model, rows = WMM(), range(0, len(flight.time_s), 400)
    variations = []
    for k in rows:
        height_km = float(flight.height_ft[k]) * 0.3048 / 1000.0
        model.magnetic_field(float(flight.latitude_deg[k]), float(flight.longitude_deg[k]), height_km, 2020.5)
        variations.append(math.degrees(math.atan2(model.Y, model.X)))
    picked = list(rows)
    by_hand = flight.heading_deg[picked] + np.array(variations)
    apart = np.abs(wrapped(shown("actual.heading_true")[picked] - by_hand))
    tell(record_property, "recorded flight: true heading, median", float(np.median(apart)), 0.1, "deg", SOURCE)
    print("magnetic, median and 95 %:", np.median(off), np.percentile(off, 95), "true, median:", np.median(apart))
    assert float(np.median(off)) < 0.05
    assert float(np.percentile(off, 95)) < 0.5
    assert float(np.median(apart)) < 0.1
    own = np.interp(flight.time_s[picked] - flight.time_s[0], run.time_s, run["field.variation"].values)
    assert float(np.max(np.abs(own - variations))) < 0.01


def test_an_ideal_gyro_shows_earth_rate_and_transport_along_the_track(record_property: Tell) -> None:
    """Reading less true heading falls by ∫Ω sin φ dt + ∫sin φ dλ, taken from the recorded positions themselves."""
    flight, _ = flown()
    latitude = np.radians(flight.latitude_deg)
    longitude = np.unwrap(np.radians(flight.longitude_deg))
    middle = np.sin((latitude[1:] + latitude[:-1]) / 2.0)
    turned = EARTH_RATE_RAD_S * middle * np.diff(flight.time_s) + middle * np.diff(longitude)
    expected = -np.degrees(np.concatenate([[0.0], np.cumsum(turned)]))
    found = shown("gyro.heading") - shown("actual.heading_true")
    worst = float(np.max(np.abs(found - found[0] - expected)))
    name = f"recorded flight: ideal gyro over {expected[-1]:.2f}° of wander"
    tell(record_property, name, worst, 0.1, "deg", SOURCE)
    print(name, worst)
    assert abs(float(expected[-1])) > 20.0
    assert worst <= 0.1


def test_the_run_says_when_the_pendulum_has_no_direction() -> None:
    """Each parabola, found from the recorded vertical speed alone, begins in or next to a stretch the run tells of."""
    flight, run = flown()
    assert flight.vertical_speed_ft_min is not None
    rate = flight.vertical_speed_ft_min * 0.3048 / 60.0
    load = np.abs(1.0 + savgol_filter(rate, 9, 2, deriv=1, delta=1.0) / 9.80665)
    parabolas = np.flatnonzero(np.diff((load < 0.25).astype(int)) == 1)
    events = [event for event in run.events if event.kind == "no vertical"]
    moments = np.array([event.time_s for event in events])
    print(len(parabolas), "parabolas,", len(events), "events")
    assert len(parabolas) > 30
    ends = np.array([event.time_s for event in run.events if event.kind == "vertical back"])
    away = [float(np.min(np.maximum(np.maximum(moments - t, t - ends), 0.0))) for t in parabolas]
    print("seconds away: median", np.median(away), "90 %", np.percentile(away, 90), "most", max(away))
    assert float(np.percentile(away, 90)) < 3.0
    assert max(away) < 6.0
    assert {event.text for event in events} == {"apparent gravity under 0.3 g: pendulum and card have no direction"}
    told = [warning for warning in run.provenance.warnings if "no direction" in warning]
    assert told[0] == f"at {moments[0]:.1f} s: apparent gravity under 0.3 g: pendulum and card have no direction"
    assert len(told) == len(events)
    assert len(ends) == len(moments)
    assert np.all(moments < ends)
