"""The steady compass: the field seen in the plane square to apparent gravity.

No state, no swirl, no lag: what a card would read if the turn or the acceleration went on for ever on one heading.
Source: williams-compass.
"""

from __future__ import annotations

import math

from gyrochalk.units import wrap_180, wrap_360


def reading_in_turn(heading_deg: float, bank_deg: float, dip_deg: float) -> float:
    """What the card reads in a steady turn [deg, in [0, 360)].

    `heading_deg` actual magnetic heading; `bank_deg` right positive; `dip_deg` north end down positive.
    reading = atan2(sin ψ cos φ − tan I sin φ, cos ψ).
    """
    psi, phi, dip = (math.radians(angle) for angle in (heading_deg, bank_deg, dip_deg))
    east = math.sin(psi) * math.cos(phi) - math.tan(dip) * math.sin(phi)
    return wrap_360(math.degrees(math.atan2(east, math.cos(psi))))


def error_in_turn(heading_deg: float, bank_deg: float, dip_deg: float) -> float:
    """What the card reads too much in a steady turn [deg, in [-180, 180)]; parameters [deg] as `reading_in_turn`."""
    return wrap_180(reading_in_turn(heading_deg, bank_deg, dip_deg) - heading_deg)


def reading_in_acceleration(heading_deg: float, acceleration_g: float, dip_deg: float) -> float:
    """What the card reads while the aircraft speeds up steadily [deg, in [0, 360)].

    `heading_deg` actual magnetic heading; `acceleration_g` along track, forward positive; `dip_deg` north end down
    positive. reading = atan2(sin ψ, cos ψ cos γ + tan I sin γ), γ = atan(a/g).
    """
    psi, dip = math.radians(heading_deg), math.radians(dip_deg)
    gamma = math.atan(acceleration_g)
    north = math.cos(psi) * math.cos(gamma) + math.tan(dip) * math.sin(gamma)
    return wrap_360(math.degrees(math.atan2(math.sin(psi), north)))


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
