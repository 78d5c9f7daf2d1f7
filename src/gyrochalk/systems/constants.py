"""From instruments in surface units to the constants the kernels take.

Every number goes in as a float: a kernel is compiled anew for every mixture of number types.
"""

from __future__ import annotations

import hashlib
import math

import numpy as np
from numpy.typing import NDArray

from gyrochalk.physics.world import Card, Gimbals, Pendulum, Slaving
from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Loop, Magnetism
from gyrochalk.systems.scales import DEG_MIN_RAD_S, DEG_SQRT_H_RAD_SQRT_S, UT_T

Floats = NDArray[np.float64]

NOISE_STEP_S = 60.0
LEVELLING_CODES = {"none": 0, "case": 1, "gravity": 2, "ideal": 3}
AUTOMATIC_CODES = {"never": 0, "at switch-on": 1, "always": 2}
CUSP_RAD = 1e-6
"""Least freedom [rad] of a detector that is fixed to the case."""


def iron_of(magnetism: Magnetism, deviation: bool) -> Floats:
    """(4, 3): I + S, then the hard iron [T]; no iron at all if deviation is switched off."""
    if not deviation:
        return np.vstack([np.eye(3), np.zeros(3)])
    return np.vstack([np.eye(3) + np.array(magnetism.soft), np.array(magnetism.hard_ut) * UT_T])


def card_of(compass: DirectCompass, effects: frozenset[str]) -> Card:
    """A card's constants from its period, damping and residual tilt at the reference field.

    C = m H0 T0²/4π², Da = 2ζ√(C m H0), P = m Z0/tan δ0 − m H0, Dt = 2·0.7·√(0.75 C P).
    """
    field = compass.reference_field_ut * UT_T
    couple = compass.moment_a_m2 * field
    polar = couple * compass.period_s**2 / (4.0 * math.pi**2)
    vertical = compass.moment_a_m2 * field * math.tan(math.radians(abs(compass.reference_dip_deg)))
    pendulosity = vertical / math.tan(math.radians(compass.residual_tilt_deg)) - couple
    tilt = compass.tilt_inertia_ratio * polar
    return Card(
        float(compass.moment_a_m2),
        tilt,
        polar,
        pendulosity,
        2.0 * compass.tilt_damping * math.sqrt(tilt * pendulosity),
        2.0 * compass.damping * math.sqrt(polar * couple),
        math.radians(compass.friction_deg) * couple if "friction" in effects else 0.0,
        math.radians(compass.friction_speed_deg_s),
        math.radians(compass.tilt_stop_deg),
        float(compass.fluid_time_s),
        1.0 if "swirl" in effects else 0.0,
        iron_of(compass.magnetism, "deviation" in effects),
    )


def noise_key(seed: int, stream: int) -> np.uint64:
    """The key of one gyro's random numbers: hashed, so that no two seeds share a stretch of numbers."""
    digest = hashlib.sha256(f"gyro noise {seed} {stream}".encode()).digest()
    return np.uint64(int.from_bytes(digest[:8], "big"))


def gimbals_of(gyro: Gyro, effects: frozenset[str], seed: int, stream: int) -> Gimbals:
    """A gyro's constants; `stream` keeps the random walks of two gyros apart."""
    return Gimbals(
        1.0 if "gimballing" in effects else 0.0,
        LEVELLING_CODES[gyro.levelling] if "levelling" in effects else 0,
        gyro.levelling_rate_deg_min * DEG_MIN_RAD_S,
        math.radians(gyro.levelling_band_deg),
        math.radians(gyro.stop_deg),
        gyro.random_walk_deg_sqrt_h * DEG_SQRT_H_RAD_SQRT_S if "noise" in effects else 0.0,
        NOISE_STEP_S,
        noise_key(seed, stream),
    )


def pendulum_of(detector: Detector, effects: frozenset[str]) -> Pendulum:
    """A detector's constants."""
    return Pendulum(
        2.0 * math.pi / detector.period_s,
        float(detector.damping),
        max(math.radians(detector.freedom_deg), CUSP_RAD),
        1.0 if "detector tilt" in effects else 0.0,
        iron_of(detector.magnetism, "deviation" in effects),
    )


def slaving_of(loop: Loop, law: str) -> Slaving:
    """A loop's constants under the textbook or the full law."""
    return Slaving(
        1.0 if law == "textbook" else 0.0,
        loop.slow_rate_deg_min * DEG_MIN_RAD_S,
        math.radians(loop.band_deg),
        math.radians(loop.dead_zone_deg),
        float(loop.lag_s),
        loop.reference_field_ut * UT_T,
        loop.fast_rate_deg_min * DEG_MIN_RAD_S,
        math.radians(loop.large_error_deg),
        math.radians(loop.settled_deg),
        AUTOMATIC_CODES[loop.automatic],
        loop.hold_rate_deg_min * DEG_MIN_RAD_S,
        math.radians(loop.hold_band_deg),
        float(loop.indicator_time_s),
    )
