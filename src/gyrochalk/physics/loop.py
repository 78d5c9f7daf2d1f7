"""The slaving loop: comparison, amplifier, motor, as laws for the correction rate.

u = (H_detector/H_ref)·sin(detector − indicated); dead zone u' = sign(u)·max(0, |u| − sin dz);
correction = rate·sat(u'/(sin band − sin dz)), then a first-order lag. The textbook law is rate·sign(detector −
indicated) until null and locked after it; its sign function has a straight core of ±`TEXTBOOK_CORE`.
"""

from __future__ import annotations

import math

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.vectors import clamp, half_turn
from gyrochalk.physics.world import SET_FAST, SET_HOLD, SET_MOTOR, SET_SLAVED, Floats, Slaving

TEXTBOOK_CORE = math.radians(0.001)
"""Half width [rad] of the textbook law's null, inside which it holds the gyro to the detector."""


@kernel
def comparison(along: float, across: float, indicated: float, loop: Slaving) -> tuple[float, float]:
    """The comparison's signal u, and detector minus indicated [rad] in [−π, π)."""
    difference = half_turn(math.atan2(-across, along) - indicated)
    strength = math.sqrt(along * along + across * across) / loop.reference_field
    return strength * math.sin(difference), difference


@kernel
def proportional(signal: float, rate: float, band: float, dead_zone: float) -> float:
    """Correction rate [rad/s]: `rate` times the signal beyond the dead zone, saturated at `band`."""
    edge = math.sin(dead_zone)
    beyond = math.copysign(max(0.0, abs(signal) - edge), signal)
    return rate * clamp(beyond / (math.sin(band) - edge), 1.0)


@kernel
def demanded_rate(signal: float, difference: float, settings: Floats, loop: Slaving) -> float:
    """The correction rate [rad/s] the loop asks for now: 0 if free or the motor is stopped."""
    if settings[SET_MOTOR] == 0.0:
        return 0.0
    if settings[SET_HOLD] != 0.0:
        rate, band = loop.hold_rate, loop.hold_band
    elif settings[SET_SLAVED] == 0.0:
        return 0.0
    else:
        rate, band = (loop.fast_rate if settings[SET_FAST] != 0.0 else loop.slow_rate), loop.band
    if loop.textbook != 0.0:
        if signal == 0.0:
            return 0.0
        return rate * clamp(difference / TEXTBOOK_CORE, 1.0)
    return proportional(signal, rate, band, loop.dead_zone)


@kernel
def settled_angle(loop: Slaving) -> float:
    """|detector − indicated| [rad] at which automatic fast alignment ends: the null itself in the textbook law."""
    return 0.5 * TEXTBOOK_CORE if loop.textbook != 0.0 else loop.settled


@kernel
def indicator_drive(signal: float, settings: Floats, loop: Slaving) -> float:
    """What drives the synchronisation indicator, −1..1: the sign of the signal, softened within the dead zone."""
    if settings[SET_SLAVED] == 0.0 and settings[SET_HOLD] == 0.0:
        return 0.0
    return math.tanh(2.0 * signal / max(math.sin(loop.dead_zone), 1e-3))
