"""The compass at rest in its plane, square to apparent gravity, against ahrs's tilt-compensated heading.

`Tilt` finds roll and pitch from a specific force and the heading from the field laid into that plane: fed with the
apparent gravity of a manoeuvre instead of the true one, it is the static law of card and detector.
"""

from __future__ import annotations

import math

import numpy as np
from ahrs.filters import Tilt

from gyrochalk.physics.card import static_reading
from gyrochalk.physics.motion import GRAVITY, body_axes
from gyrochalk.physics.static_law import acceleration_reading, turn_reading
from gyrochalk.physics.world import Floats
from gyrochalk.systems.instruments import Detector, DirectCompass
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import FlightPlan, Hold, Turn
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate
from tests.outside.recording import Tell, tell

COUNT = 200


def as_vector(values: Floats) -> tuple[float, float, float]:
    """Three numbers as the kernels take them."""
    return float(values[0]), float(values[1]), float(values[2])


def tilt_heading(attitude_rad: Floats, gravity: Floats, field: Floats) -> float:
    """Heading [rad] by ahrs from apparent gravity and field, both given in NED, in a body of this attitude.

    ahrs gives the heading of the body's forward axis laid in its plane by roll and pitch: exactly that of the nose.
    """
    into_body = np.array(body_axes(as_vector(attitude_rad)))
    angles = Tilt().estimate(acc=into_body @ gravity, mag=into_body @ field, representation="angles")
    return float(angles[2])


def test_two_hundred_random_attitudes(record_property: Tell) -> None:
    """Heading, pitch ±25°, bank ±60°, acceleration up to half a g any way, dip ±80°."""
    draw = np.random.default_rng(20260101)
    worst = 0.0
    for _ in range(COUNT):
        attitude = np.radians([draw.uniform(0.0, 360.0), draw.uniform(-25.0, 25.0), draw.uniform(-60.0, 60.0)])
        gravity = np.array([0.0, 0.0, GRAVITY]) - draw.uniform(-0.5, 0.5, 3) * GRAVITY
        dip, variation = math.radians(draw.uniform(-80.0, 80.0)), math.radians(draw.uniform(-30.0, 30.0))
        level = np.array([math.cos(dip) * math.cos(variation), math.cos(dip) * math.sin(variation)])
        field = 50e-6 * np.append(level, math.sin(dip))
        nose, _, _ = body_axes(as_vector(attitude))
        ours = static_reading(nose, as_vector(field), as_vector(gravity))
        apart = math.remainder(ours - tilt_heading(attitude, gravity, field), 2.0 * math.pi)
        worst = max(worst, abs(math.degrees(apart)))
    name = "static compass law at 200 random attitudes and accelerations"
    tell(record_property, name, worst, 0.05, "deg", "ahrs Tilt on apparent gravity")
    assert worst <= 0.05


def test_closed_forms_are_the_law_in_a_turn_and_along_track() -> None:
    """Source: williams-compass, both closed forms, over headings, banks, accelerations and dips of both signs."""
    for heading in np.radians(np.arange(0.0, 360.0, 15.0)).tolist():
        for dip in np.radians([-75.0, -30.0, 0.0, 55.0, 67.0, 80.0]).tolist():
            field = (math.cos(dip), 0.0, math.sin(dip))
            for bank in np.radians([-30.0, -5.0, 15.0, 22.0]).tolist():
                nose, _, down = body_axes((heading, 0.0, bank))
                apart = static_reading(nose, field, down) - turn_reading(heading, bank, dip)
                assert abs(math.remainder(apart, 2.0 * math.pi)) < 1e-12
            for along in (-0.2, 0.1, 0.3):
                nose, _, _ = body_axes((heading, 0.0, 0.0))
                gravity = (-along * math.cos(heading), -along * math.sin(heading), 1.0)
                apart = static_reading(nose, field, gravity) - acceleration_reading(heading, along, dip)
                assert abs(math.remainder(apart, 2.0 * math.pi)) < 1e-12


def test_detector_and_card_come_to_rest_on_the_law() -> None:
    """In a long steady turn flown slowly, quick instruments follow the law: the integrated models lead to it.

    A card as heavy as here (residual tilt 0.05°) hangs along apparent gravity; bank 4°, below every critical one.
    """
    plan = FlightPlan((Hold(5.0), Turn(by_deg=300.0, rate_deg_s=0.2)), heading_deg=10.0, tas_kt=400.0)
    setup = Setup(
        Place(52.0, 0.0),
        plan,
        StatedField(19.0, 67.0),
        compass=DirectCompass(period_s=0.5, damping=1.0, residual_tilt_deg=0.05),
        detector=Detector(period_s=0.2, damping=0.7),
        effects=frozenset({"detector tilt"}),
        sample_interval_s=5.0,
    )
    run = simulate(setup)
    heading = np.radians(run["actual.heading"].values)
    bank = np.radians(run["actual.bank"].values)
    law = [math.degrees(turn_reading(h, b, math.radians(67.0))) for h, b in zip(heading, bank, strict=True)]
    steady = (run.time_s > 15.0) & (run.time_s < run.time_s[-1] - 10.0)
    assert float(np.degrees(bank[steady]).min()) > 4.0
    for channel, allowed in (("detector.heading", 1e-3), ("card.heading", 0.02)):
        apart = (run[channel].values - np.array(law) + 180.0) % 360.0 - 180.0
        worst = float(np.max(np.abs(apart[steady])))
        print(channel, worst)
        assert worst <= allowed, channel
