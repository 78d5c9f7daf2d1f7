"""From the legs an instructor writes to the smooth pieces the kernels fly, with turns and climbs named."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.physics.motion import GRAVITY
from gyrochalk.physics.world import (
    LEG_BANK,
    LEG_BANK_RATE,
    LEG_CLIMB,
    LEG_CLIMB_RATE,
    LEG_COLUMNS,
    LEG_HEADING,
    LEG_KIND,
    LEG_SPEED,
    LEG_SPEED_RATE,
    LEG_START,
    LEG_WIND_EAST,
    LEG_WIND_NORTH,
    LEG_YAW_RATE,
)
from gyrochalk.systems.great_circle import RouteLeg, fly_great_circle
from gyrochalk.systems.plans import (
    Accelerate,
    Climb,
    FlightPlan,
    GreatCircle,
    Hold,
    Leg,
    North,
    Stand,
    Taxi,
    Turn,
)
from gyrochalk.systems.run import Event, Span
from gyrochalk.systems.scales import FT_M, KT_M_S, SPHERE_M

Floats = NDArray[np.float64]

RATE_ONE_DEG_S = 3.0
NOSE_RATE_RAD_S = math.radians(1.0)
"""How fast the nose is raised into a climb and lowered out of it (assumed)."""
LONGEST_FLIGHT_S = 24.0 * 3600.0
LEAST_TURN_RAD = 1e-6


@dataclasses.dataclass
class Path:
    """A flight as pieces: rows for the kernels, recorded or great-circle polynomials, names for people.

    `rows` (n, LEG_COLUMNS); `knots` (m+1,), `polynomials` (6, 4, m); `duration_s`; position at each piece's start.
    """

    rows: Floats
    knots: Floats
    polynomials: Floats
    duration_s: float
    events: list[Event]
    spans: list[Span]


def impossible(what: str, allowed: str, cure: str) -> MaterialError:
    """The refusal of a flight that cannot be flown."""
    return MaterialError(Problem("flight-impossible", what, allowed, cure))


class PathBuilder:
    """Lays legs one after another: keeps the time, true heading [rad], airspeed [m/s] and a reckoned position."""

    def __init__(
        self,
        plan: FlightPlan,
        latitude_deg: float,
        longitude_deg: float,
        height_ft: float,
        variation_at: Callable[[float, float, float], float],
    ) -> None:
        """`variation_at(latitude_deg, longitude_deg, height_ft)` gives the variation [deg] for magnetic headings."""
        self.variation_at = variation_at
        self.latitude, self.longitude = math.radians(latitude_deg), math.radians(longitude_deg)
        self.height_m = height_ft * FT_M
        self.time = 0.0
        self.speed = plan.tas_kt * KT_M_S
        self.heading = math.radians(self.to_true(plan.heading_deg, plan.north))
        towards = math.radians(plan.wind_from_deg) + math.pi
        wind = plan.wind_kt * KT_M_S
        self.wind = (wind * math.cos(towards), wind * math.sin(towards))
        self.rows: list[Floats] = []
        self.route_legs: list[RouteLeg] = []
        self.events: list[Event] = []
        self.spans: list[Span] = []

    def to_true(self, heading_deg: float, north: North) -> float:
        """A heading [deg] from `north` as a true heading at the present position."""
        if north == "true":
            return heading_deg
        place = (math.degrees(self.latitude), math.degrees(self.longitude), self.height_m / FT_M)
        return heading_deg + self.variation_at(*place)

    def piece(
        self,
        duration: float,
        bank: float = 0.0,
        bank_rate: float = 0.0,
        climb: float = 0.0,
        climb_rate: float = 0.0,
        speed_rate: float = 0.0,
        yaw_rate: float = 0.0,
        heading_change: float = 0.0,
    ) -> None:
        """Add one smooth piece of `duration` s and move on to its end."""
        if duration <= 0.0:
            return
        row = np.zeros(LEG_COLUMNS)
        row[LEG_START], row[LEG_HEADING] = self.time, self.heading
        row[LEG_BANK], row[LEG_BANK_RATE] = bank, bank_rate
        row[LEG_CLIMB], row[LEG_CLIMB_RATE] = climb, climb_rate
        row[LEG_SPEED], row[LEG_SPEED_RATE], row[LEG_YAW_RATE] = self.speed, speed_rate, yaw_rate
        row[LEG_WIND_NORTH], row[LEG_WIND_EAST] = self.wind if self.speed > 0.0 or speed_rate > 0.0 else (0.0, 0.0)
        self.rows.append(row)
        middle = self.speed + 0.5 * speed_rate * duration
        heading = self.heading + 0.5 * heading_change
        north = middle * math.cos(heading) + row[LEG_WIND_NORTH]
        east = middle * math.sin(heading) + row[LEG_WIND_EAST]
        self.latitude += north * duration / SPHERE_M
        self.longitude += east * duration / (SPHERE_M * max(math.cos(self.latitude), 1e-6))
        self.height_m += middle * math.sin(climb + 0.5 * climb_rate * duration) * duration
        self.time += duration
        self.heading += heading_change
        self.speed = max(self.speed + speed_rate * duration, 0.0)

    def add(self, number: int, leg: Leg) -> None:
        """Fly one leg; `number` counts from 1 for messages."""
        start = self.time
        name = f"leg {number}"
        kind = ""
        if isinstance(leg, Stand):
            if self.speed > 0.0:
                raise impossible(
                    f"{name} stands still but the speed is {self.speed / KT_M_S:.0f} kt",
                    "a stand needs a speed of 0 kt",
                    "use hold, or start with speed 0 kt",
                )
            self.piece(leg.duration_s)
            text = "stand"
        elif isinstance(leg, Hold):
            self.piece(leg.duration_s)
            text = "hold heading"
        elif isinstance(leg, Taxi):
            change = math.radians(leg.turn_deg)
            self.piece(leg.duration_s, yaw_rate=change / leg.duration_s, heading_change=change)
            text = "taxi"
        elif isinstance(leg, Turn):
            text, kind = self.turn(name, leg), "turn"
        elif isinstance(leg, Accelerate):
            text, kind = self.accelerate(name, leg), "acceleration"
        elif isinstance(leg, Climb):
            text, kind = self.climb(name, leg), "climb"
        else:
            text = self.great_circle(name, leg)
        self.events.append(Event(start, "leg", text))
        if kind:
            self.spans.append(Span(start, self.time, kind, text))
        if kind == "turn":
            self.events.append(Event(start, "turn starts", text))
            self.events.append(Event(self.time, "turn ends", f"{text} ends"))
        if self.time > LONGEST_FLIGHT_S:
            raise impossible(
                f"{name} ends after {self.time / 3600.0:.1f} h", "a flight lasts at most 24 h", "shorten it"
            )

    def turn_angle(self, leg: Turn) -> float:
        """The signed angle of a turn [rad]."""
        if leg.by_deg is not None:
            return math.radians(leg.by_deg)
        goal = math.radians(self.to_true(leg.to_heading_deg or 0.0, leg.north))
        right = (goal - self.heading) % (2.0 * math.pi)
        if right > 2.0 * math.pi - 1e-9 or right < 1e-9:
            right = 2.0 * math.pi
        if leg.direction == "left":
            return right - 2.0 * math.pi if right < 2.0 * math.pi else -2.0 * math.pi
        if leg.direction is None and right > math.pi:
            return right - 2.0 * math.pi
        return right

    def turn(self, name: str, leg: Turn) -> str:
        """Roll in, hold the bank, roll out, the whole change exact; a short turn uses less bank."""
        if leg.by_deg is None and leg.to_heading_deg is None:
            raise impossible(f"{name} turns neither through an angle nor to a heading", "one is needed", "add one")
        angle = self.turn_angle(leg)
        if abs(angle) < LEAST_TURN_RAD:
            raise impossible(
                f"{name} turns to the heading already flown",
                "the short way there is no turn at all",
                "say left or right to fly a full circle, or leave the leg out",
            )
        if self.speed <= 0.0:
            raise impossible(f"{name} turns at 0 kt", "a banked turn needs airspeed", "accelerate first, or use taxi")
        if leg.bank_deg is not None:
            bank = math.radians(leg.bank_deg)
        else:
            rate = math.radians(RATE_ONE_DEG_S if leg.rate_deg_s is None else leg.rate_deg_s)
            bank = math.atan(self.speed * rate / GRAVITY)
        if not 0.0 < bank <= math.radians(80.0):
            raise impossible(
                f"{name} needs a bank of {math.degrees(bank):.0f} deg",
                "a level turn here is flown at more than 0 and at most 80 deg of bank",
                "turn more slowly or fly more slowly",
            )
        roll = math.radians(leg.roll_rate_deg_s) if leg.roll_time_s is None else bank / leg.roll_time_s
        size = abs(angle)
        swing = -GRAVITY / (roll * self.speed) * math.log(math.cos(bank))
        if 2.0 * swing > size:
            swing = 0.5 * size
            bank = math.acos(math.exp(-swing * roll * self.speed / GRAVITY))
        side = math.copysign(1.0, angle)
        steady = (size - 2.0 * swing) * self.speed / (GRAVITY * math.tan(bank))
        rolling = bank / roll
        goal = self.heading + angle
        self.piece(rolling, bank_rate=side * roll, heading_change=side * swing)
        self.piece(steady, bank=side * bank, heading_change=side * (size - 2.0 * swing))
        self.piece(rolling, bank=side * bank, bank_rate=-side * roll, heading_change=side * swing)
        self.heading = goal
        return f"turn {'right' if angle > 0.0 else 'left'} through {math.degrees(size):.0f}°"

    def accelerate(self, name: str, leg: Accelerate) -> str:
        """Change speed along track."""
        rate = leg.acceleration_g * GRAVITY
        duration = leg.duration_s
        if leg.to_tas_kt is not None:
            change = leg.to_tas_kt * KT_M_S - self.speed
            if rate == 0.0 or change / rate < 0.0:
                speeds = f"{self.speed / KT_M_S:.0f} kt to {leg.to_tas_kt:.0f} kt"
                raise impossible(
                    f"{name} goes from {speeds} at {leg.acceleration_g:g} g",
                    "the sign of the acceleration must lead to the speed",
                    "change its sign",
                )
            duration = change / rate
        if duration is None:
            raise impossible(f"{name} has neither a time nor a speed to reach", "one of them is needed", "add one")
        after = self.speed + rate * duration
        if after < -1e-9:
            raise impossible(
                f"{name} slows down to {after / KT_M_S:.0f} kt", "the speed stays at 0 kt or more", "shorten the leg"
            )
        self.piece(duration, speed_rate=rate)
        return ("accelerate at" if rate >= 0.0 else "slow down at") + f" {abs(leg.acceleration_g):g} g"

    def climb(self, name: str, leg: Climb) -> str:
        """Raise the nose, climb, lower the nose."""
        rate = leg.vertical_speed_ft_min * FT_M / 60.0
        if self.speed <= 0.0 or abs(rate) > 0.5 * self.speed:
            raise impossible(
                f"{name} climbs {leg.vertical_speed_ft_min:.0f} ft/min at {self.speed / KT_M_S:.0f} kt",
                "at most half the airspeed may point up or down",
                "climb more slowly or fly faster",
            )
        if leg.to_height_ft is None and leg.duration_s is None:
            raise impossible(f"{name} has neither a time nor a height to reach", "one of them is needed", "add one")
        angle = math.asin(rate / self.speed)
        ramp = abs(angle) / NOSE_RATE_RAD_S
        if leg.to_height_ft is not None:
            change = leg.to_height_ft * FT_M - self.height_m
            if change * rate <= 0.0:
                raise impossible(
                    f"{name} goes from {self.height_m / FT_M:.0f} ft to {leg.to_height_ft:.0f} ft at "
                    f"{leg.vertical_speed_ft_min:.0f} ft/min",
                    "the sign of the climb must lead to the height",
                    "change its sign",
                )
            ramps = 2.0 * self.speed * (1.0 - math.cos(angle)) / NOSE_RATE_RAD_S
            if ramps > abs(change):
                angle = math.copysign(math.acos(1.0 - abs(change) * NOSE_RATE_RAD_S / (2.0 * self.speed)), rate)
                ramp, steady = abs(angle) / NOSE_RATE_RAD_S, 0.0
            else:
                steady = (abs(change) - ramps) / abs(rate)
        else:
            whole = leg.duration_s or 0.0
            if 2.0 * ramp > whole:
                ramp = 0.5 * whole
                angle = math.copysign(NOSE_RATE_RAD_S * ramp, rate)
            steady = whole - 2.0 * ramp
        nose = math.copysign(NOSE_RATE_RAD_S, angle)
        self.piece(ramp, climb_rate=nose)
        self.piece(steady, climb=angle)
        self.piece(ramp, climb=angle, climb_rate=-nose)
        return ("climb at" if rate > 0.0 else "descend at") + f" {abs(leg.vertical_speed_ft_min):.0f} ft/min"

    def great_circle(self, name: str, leg: GreatCircle) -> str:
        """Fly the great circle at the present airspeed."""
        if self.speed <= 0.0:
            raise impossible(f"{name} flies a great circle at 0 kt", "it needs airspeed", "accelerate first")
        goal = (math.radians(leg.latitude_deg), math.radians(leg.longitude_deg))
        route = fly_great_circle(self.time, (self.latitude, self.longitude), goal, self.speed, self.wind)
        row = np.zeros(LEG_COLUMNS)
        row[LEG_KIND], row[LEG_START], row[LEG_SPEED] = 1.0, self.time, self.speed
        self.rows.append(row)
        self.route_legs.append(route)
        self.time = route.knots[-1]
        self.latitude, self.longitude = goal
        self.heading = route.last_heading
        return f"great circle to {leg.latitude_deg:g}, {leg.longitude_deg:g}"

    def path(self) -> Path:
        """All pieces laid so far."""
        if not self.rows:
            raise MaterialError(
                Problem("flight-empty", "the flight has no leg that lasts", "at least one is needed", "add hold: 5 min")
            )
        knots, polynomials = joined(self.route_legs)
        return Path(np.array(self.rows), knots, polynomials, self.time, self.events, self.spans)


def joined(legs: list[RouteLeg]) -> tuple[Floats, Floats]:
    """Knots and polynomials of several great-circle legs in one table, with idle pieces between them."""
    if not legs:
        return np.zeros(2), np.zeros((6, 4, 1))
    knots, pieces = [legs[0].knots], [legs[0].polynomials]
    for leg in legs[1:]:
        if leg.knots[0] > knots[-1][-1] + 1e-9:
            pieces.append(np.zeros((6, 4, 1)))
            knots.append(leg.knots)
        else:
            knots.append(leg.knots[1:])
        pieces.append(leg.polynomials)
    return np.concatenate(knots), np.concatenate(pieces, axis=2)


def lay_out(
    plan: FlightPlan,
    latitude_deg: float,
    longitude_deg: float,
    height_ft: float,
    variation_at: Callable[[float, float, float], float],
) -> Path:
    """Lay the legs of a plan from its start [deg, deg, ft].

    Raises `MaterialError` flight-empty or flight-impossible.
    """
    builder = PathBuilder(plan, latitude_deg, longitude_deg, height_ft, variation_at)
    for number, leg in enumerate(plan.legs, start=1):
        builder.add(number, leg)
    return builder.path()
