"""A flight as an instructor plans it: a start and a list of legs."""

from __future__ import annotations

import dataclasses
from typing import Literal

North = Literal["true", "magnetic", "compass", "gyro", "grid"]


@dataclasses.dataclass(frozen=True, slots=True)
class Stand:
    """Stand still on the ground for `duration_s`: only where the speed is 0."""

    duration_s: float


@dataclasses.dataclass(frozen=True, slots=True)
class Hold:
    """Fly straight and level on the present heading for `duration_s`."""

    duration_s: float


@dataclasses.dataclass(frozen=True, slots=True)
class Taxi:
    """Move on the ground at the present speed for `duration_s`, wings level, yawing evenly by `turn_deg`
    (right positive)."""

    duration_s: float
    turn_deg: float = 0.0


@dataclasses.dataclass(frozen=True, slots=True)
class Turn:
    """A level coordinated turn, right positive.

    Either `by_deg` (signed) or `to_heading_deg` with `direction` and `north`. Either `rate_deg_s` (the steady heading
    rate; the bank follows from speed) or `bank_deg` (both unsigned); neither means rate one, 3 deg/s. Bank is rolled
    in and out at `roll_rate_deg_s`, or over `roll_time_s` each way if that is given.
    """

    by_deg: float | None = None
    to_heading_deg: float | None = None
    north: North = "magnetic"
    direction: Literal["left", "right"] | None = None
    rate_deg_s: float | None = None
    bank_deg: float | None = None
    roll_rate_deg_s: float = 10.0
    roll_time_s: float | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class Accelerate:
    """Change speed along track at `acceleration_g` (negative: slow down), for `duration_s` or to `to_tas_kt`."""

    acceleration_g: float
    duration_s: float | None = None
    to_tas_kt: float | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class Climb:
    """Climb (or, negative, descend) at `vertical_speed_ft_min`, for `duration_s` or to `to_height_ft`, wings level;
    the nose is raised and lowered at 1 deg/s."""

    vertical_speed_ft_min: float
    duration_s: float | None = None
    to_height_ft: float | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class GreatCircle:
    """Fly the great circle to a place at the present speed, heading corrected for the wind."""

    latitude_deg: float
    longitude_deg: float


Leg = Stand | Hold | Taxi | Turn | Accelerate | Climb | GreatCircle


@dataclasses.dataclass(frozen=True, slots=True)
class FlightPlan:
    """Start of a flight and its legs.

    `heading_deg` from `north` (true or magnetic); `tas_kt` true airspeed; `wind_from_deg` (true) and `wind_kt`.
    """

    legs: tuple[Leg, ...]
    heading_deg: float = 0.0
    north: North = "magnetic"
    tas_kt: float = 100.0
    wind_from_deg: float = 0.0
    wind_kt: float = 0.0
