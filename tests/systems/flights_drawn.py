"""Flights, places and aircraft drawn by hypothesis, and their mirror images."""

from __future__ import annotations

import dataclasses

import numpy as np
from hypothesis import strategies as st
from numpy.typing import NDArray

from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Magnetism, Triple
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import Accelerate, Climb, FlightPlan, Hold, Leg, Turn
from gyrochalk.systems.run import Run
from gyrochalk.systems.setup import Setup

Floats = NDArray[np.float64]

SHOWN = ("card.heading", "gyro.heading", "detector.heading", "slaved.heading")
ERRORS = ("card.error", "gyro.error", "detector.error", "slaved.error")
SIGNS_SOUTH: Triple = (-1.0, 1.0, -1.0)
"""What a mirror on the equator does to a magnetic vector in body axes (it is an axial vector)."""
SIGNS_WEST: Triple = (1.0, -1.0, 1.0)
"""What a mirror on the meridian does to one, magnets and field exchanged north for south besides."""


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers with two decimals in a range."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 100.0)


LEGS: st.SearchStrategy[Leg] = st.one_of(
    st.builds(Hold, numbers(5.0, 60.0)),
    st.builds(Turn, by_deg=numbers(-300.0, 300.0).filter(lambda a: abs(a) > 3.0), rate_deg_s=numbers(0.8, 4.0)),
    st.builds(Turn, by_deg=numbers(-200.0, 200.0).filter(lambda a: abs(a) > 3.0), bank_deg=numbers(5.0, 35.0)),
    st.builds(Accelerate, numbers(0.02, 0.1), duration_s=numbers(3.0, 15.0)),
    st.builds(Climb, numbers(-800.0, 800.0).filter(lambda v: abs(v) > 100.0), duration_s=numbers(10.0, 40.0)),
)
PLANS = st.builds(
    FlightPlan,
    legs=st.lists(LEGS, min_size=2, max_size=4).map(tuple),
    heading_deg=numbers(0.0, 359.0),
    tas_kt=numbers(90.0, 220.0),
    wind_from_deg=numbers(0.0, 359.0),
    wind_kt=numbers(0.0, 40.0),
)
IRON = st.builds(
    Magnetism,
    hard_ut=st.tuples(*[numbers(-2.0, 2.0)] * 3),
    soft=st.tuples(*[st.tuples(*[numbers(-0.03, 0.03)] * 3)] * 3),
)
GYROS = st.builds(
    Gyro,
    drift_deg_h=numbers(-12.0, 12.0),
    start_error_deg=numbers(-3.0, 3.0),
    spin_bearing_true_deg=numbers(0.0, 359.0),
)
SETUPS = st.builds(
    Setup,
    place=st.builds(Place, latitude_deg=numbers(5.0, 70.0), longitude_deg=st.just(0.0)),
    flight=PLANS,
    field=st.builds(StatedField, numbers(14.0, 35.0), numbers(10.0, 72.0), numbers(-20.0, 20.0)),
    compass=st.builds(DirectCompass, magnetism=IRON),
    detector=st.builds(Detector, magnetism=IRON),
    gyro=GYROS,
    slaved_gyro=GYROS,
    sample_interval_s=st.just(1.0),
)


def mirrored_leg(leg: Leg) -> Leg:
    """The leg turned the other way."""
    if isinstance(leg, Turn) and leg.by_deg is not None:
        return dataclasses.replace(leg, by_deg=-leg.by_deg)
    return leg


def mirrored_iron(iron: Magnetism, signs: Triple) -> Magnetism:
    """The iron of the mirrored aircraft."""
    flip = np.array(signs)
    soft = np.array(iron.soft) * np.outer(flip, flip)
    hard = np.array(iron.hard_ut) * flip
    return Magnetism((hard[0], hard[1], hard[2]), tuple(tuple(row) for row in soft.tolist()))  # type: ignore[arg-type]


def mirrored_gyro(gyro: Gyro, *, south: bool) -> Gyro:
    """The gyro of the mirrored aircraft: it drifts and errs the other way."""
    nut = gyro.nut_latitude_deg
    return dataclasses.replace(
        gyro,
        drift_deg_h=-gyro.drift_deg_h,
        start_error_deg=-gyro.start_error_deg,
        spin_bearing_true_deg=-gyro.spin_bearing_true_deg,
        start_tilt_deg=-gyro.start_tilt_deg if south else gyro.start_tilt_deg,
        nut_latitude_deg=nut if nut is None else -nut,
    )


def mirrored(setup: Setup, *, south: bool) -> Setup:
    """The experiment mirrored on the equator (`south`) or on the meridian."""
    plan, field = setup.flight, setup.field
    assert isinstance(plan, FlightPlan)
    assert isinstance(field, StatedField)
    axis = 180.0 if south else 0.0
    signs = SIGNS_SOUTH if south else SIGNS_WEST
    upside = -1.0 if south else 1.0
    return dataclasses.replace(
        setup,
        place=dataclasses.replace(setup.place, latitude_deg=upside * setup.place.latitude_deg),
        field=StatedField(field.horizontal_ut, upside * field.dip_deg, -field.variation_deg),
        flight=dataclasses.replace(
            plan,
            legs=tuple(mirrored_leg(leg) for leg in plan.legs),
            heading_deg=axis - plan.heading_deg,
            wind_from_deg=axis - plan.wind_from_deg,
        ),
        compass=dataclasses.replace(setup.compass, magnetism=mirrored_iron(setup.compass.magnetism, signs)),
        detector=dataclasses.replace(setup.detector, magnetism=mirrored_iron(setup.detector.magnetism, signs)),
        gyro=mirrored_gyro(setup.gyro, south=south),
        slaved_gyro=mirrored_gyro(setup.slaved_gyro, south=south),
    )


def apart_deg(a: Floats, b: Floats) -> float:
    """Greatest distance between two series of angles, the short way round."""
    return float(np.max(np.abs((a - b + 180.0) % 360.0 - 180.0)))


def furthest(one: Run, other: Run) -> float:
    """Greatest distance [deg] between two runs of any heading shown, at any sample."""
    return max(apart_deg(one[name].values, other[name].values) for name in SHOWN)
