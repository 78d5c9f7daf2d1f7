"""Great-circle legs and transport wander against geographiclib's geodesics, on the sphere and on WGS-84."""

from __future__ import annotations

import functools
import math

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

from gyrochalk.physics.earth import ELLIPSOID_FLATTENING, ELLIPSOID_RADIUS
from gyrochalk.systems.effects import FULL
from gyrochalk.systems.instruments import Gyro
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import FlightPlan, GreatCircle, Hold
from gyrochalk.systems.run import Run
from gyrochalk.systems.scales import KT_M_S, SPHERE_M
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate
from tests.outside.recording import Tell, tell

SPHERE = Geodesic(SPHERE_M, 0.0)
TAS_KT = 480.0
PAIRS = {
    "60N 0E to 60N 60E": ((60.0, 0.0), (60.0, 60.0)),
    "50N 10E to 20N 40W": ((50.0, 10.0), (20.0, -40.0)),
    "across the date line": ((52.0, 170.0), (45.0, -150.0)),
    "southern hemisphere": ((-35.0, 20.0), (-45.0, 110.0)),
    "across the equator": ((10.0, -20.0), (-25.0, 15.0)),
}


@functools.cache
def flown(pair: str) -> Run:
    """A flight along a great circle with a gyro whose levelling is ideal, Earth rate off."""
    start, goal = PAIRS[pair]
    plan = FlightPlan((GreatCircle(*goal),), tas_kt=TAS_KT)
    setup = Setup(
        Place(*start),
        plan,
        StatedField(15.0, 60.0),
        gyro=Gyro(levelling="ideal"),
        effects=FULL - {"earth rate"},
        sample_interval_s=60.0,
        tolerance_deg=1e-3,
    )
    return simulate(setup)


@pytest.mark.parametrize("pair", PAIRS)
def test_positions_and_tracks_lie_on_the_geodesic(pair: str, record_property: Tell) -> None:
    run = flown(pair)
    line = SPHERE.InverseLine(*PAIRS[pair][0], *PAIRS[pair][1])
    assert run.time_s[-1] == pytest.approx(line.s13 / (TAS_KT * KT_M_S), abs=0.05)
    worst_m, worst_deg = 0.0, 0.0
    for k, time_s in enumerate(run.time_s):
        there = line.Position(time_s * TAS_KT * KT_M_S)
        latitude, longitude = run["actual.latitude"].values[k], run["actual.longitude"].values[k]
        worst_m = max(worst_m, SPHERE.Inverse(there["lat2"], there["lon2"], latitude, longitude)["s12"])
        apart = (run["actual.track"].values[k] - there["azi2"] + 180.0) % 360.0 - 180.0
        worst_deg = max(worst_deg, abs(apart))
    tell(record_property, f"place along a great circle, {pair}", worst_m, 1.0, "m", "geographiclib")
    print(pair, worst_m, worst_deg)
    assert worst_m <= 1.0
    assert worst_deg <= 1e-6


@pytest.mark.parametrize("pair", PAIRS)
def test_a_gyro_left_level_errs_by_the_change_of_azimuth(pair: str, record_property: Tell) -> None:
    """The reading does not change along a great circle; the true heading does (row great-circle of the table)."""
    run = flown(pair)
    ends = SPHERE.Inverse(*PAIRS[pair][0], *PAIRS[pair][1])
    turned = (ends["azi2"] - ends["azi1"] + 180.0) % 360.0 - 180.0
    errors = np.degrees(np.unwrap(np.radians(run["gyro.error"].values)))
    apart = abs(float(errors[-1] - errors[0]) + turned)
    tell(record_property, f"gyro error against change of azimuth, {pair}", apart, 0.02, "deg", "geographiclib")
    assert abs(turned) > 4.0
    assert apart <= 0.02


def test_transport_wander_on_the_ellipsoid() -> None:
    """480 kt east at 60N: 13.86 °/h on the sphere, 13.80 on WGS-84: v tan φ over the radius across the meridian."""
    rates = {}
    for earth in ("sphere", "WGS-84"):
        plan = FlightPlan((Hold(10.0),), heading_deg=90.0, tas_kt=480.0)
        effects = FULL - {"earth rate"}
        setup = Setup(
            Place(60.0, 0.0),
            plan,
            StatedField(15.0, 70.0),
            effects=effects,
            earth="WGS-84" if earth == "WGS-84" else "sphere",
            tolerance_deg=1e-6,
        )
        rates[earth] = float(simulate(setup)["gyro.error"].values[-1]) * 360.0
    assert rates["sphere"] == pytest.approx(-13.856, abs=0.005)
    sine2 = math.sin(math.radians(60.0)) ** 2
    across = ELLIPSOID_RADIUS / math.sqrt(1.0 - ELLIPSOID_FLATTENING * (2.0 - ELLIPSOID_FLATTENING) * sine2)
    expected = -math.degrees(480.0 * KT_M_S * math.tan(math.radians(60.0)) / across) * 3600.0
    assert rates["WGS-84"] == pytest.approx(expected, abs=0.002)
    assert rates["WGS-84"] == pytest.approx(-13.80, abs=0.005)


def test_reckoning_on_the_ellipsoid_follows_the_geodesic_north() -> None:
    """An hour due north and an hour due east from 60N on WGS-84 cover the ground they should."""
    for heading, end in ((0.0, "lat2"), (180.0, "lat2")):
        plan = FlightPlan((Hold(3600.0),), heading_deg=heading, tas_kt=300.0)
        setup = Setup(Place(60.0, 0.0), plan, StatedField(15.0, 70.0), earth="WGS-84")
        run = simulate(setup)
        there = Geodesic.WGS84.Direct(60.0, 0.0, heading, 300.0 * 1852.0)
        assert float(run["actual.latitude"].values[-1]) == pytest.approx(there[end], abs=1e-5)
