"""The steady compass: the field seen in the plane square to apparent gravity.

No state, no swirl, no lag. The law itself is `gyrochalk.physics.static_law` (williams-compass); here in degrees.
"""

from __future__ import annotations

import math

from gyrochalk.physics.static_law import acceleration_reading, turn_reading
from gyrochalk.units import wrap_180, wrap_360


def reading_in_turn(heading_deg: float, bank_deg: float, dip_deg: float) -> float:
    """What the card reads in a steady turn [deg, in [0, 360)].

    `heading_deg` actual magnetic heading; `bank_deg` right positive; `dip_deg` north end down positive.
    reading = atan2(sin ψ cos φ − tan I sin φ, cos ψ).
    """
    reading = turn_reading(math.radians(heading_deg), math.radians(bank_deg), math.radians(dip_deg))
    return wrap_360(math.degrees(reading))


def error_in_turn(heading_deg: float, bank_deg: float, dip_deg: float) -> float:
    """What the card reads too much in a steady turn [deg, in [-180, 180)]; parameters [deg] as `reading_in_turn`."""
    return wrap_180(reading_in_turn(heading_deg, bank_deg, dip_deg) - heading_deg)


def reading_in_acceleration(heading_deg: float, acceleration_g: float, dip_deg: float) -> float:
    """What the card reads while the aircraft speeds up steadily [deg, in [0, 360)].

    `heading_deg` actual magnetic heading; `acceleration_g` along track, forward positive; `dip_deg` north end down
    positive. reading = atan2(sin ψ, cos ψ cos γ + tan I sin γ), γ = atan(a/g).
    """
    reading = acceleration_reading(math.radians(heading_deg), acceleration_g, math.radians(dip_deg))
    return wrap_360(math.degrees(reading))


def error_in_acceleration(heading_deg: float, acceleration_g: float, dip_deg: float) -> float:
    """What the card reads too much while speeding up [deg, in [-180, 180)].

    `heading_deg`, `acceleration_g` and `dip_deg` as in `reading_in_acceleration`.
    """
    return wrap_180(reading_in_acceleration(heading_deg, acceleration_g, dip_deg) - heading_deg)


def dipole_dip(latitude_deg: float) -> float:
    """The dip of a field that is an axial dipole at a magnetic latitude `latitude_deg` [deg]: tan I = 2 tan φ."""
    if abs(latitude_deg) == 90.0:
        return latitude_deg
    return math.degrees(math.atan(2.0 * math.tan(math.radians(latitude_deg))))
