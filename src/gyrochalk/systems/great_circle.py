"""A leg along a great circle of the sphere, as polynomials of velocity and heading over time."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.physics.world import POLY_EAST, POLY_HEADING, POLY_NORTH
from gyrochalk.systems.scales import SPHERE_M

Floats = NDArray[np.float64]
Point = tuple[float, float]

KNOT_SPACING_M = 5000.0


@dataclasses.dataclass
class RouteLeg:
    """`knots` (m+1,) [s] and `polynomials` (6, 4, m) of a great-circle leg, and the heading [rad] it ends on."""

    knots: Floats
    polynomials: Floats
    last_heading: float


def unit(point: Point) -> Floats:
    """Unit vector to a point (latitude, longitude) [rad] from the Earth's centre."""
    latitude, longitude = point
    flat = math.cos(latitude)
    return np.array([flat * math.cos(longitude), flat * math.sin(longitude), math.sin(latitude)])


def tracks_along(start: Point, goal: Point, distances_rad: Floats) -> Floats:
    """True track [rad] at angular distances from `start` along the great circle to `goal`, unwrapped."""
    a, b = unit(start), unit(goal)
    axis = np.cross(a, b)
    axis = axis / np.linalg.norm(axis)
    forward = np.cross(axis, a)
    points = np.cos(distances_rad)[:, None] * a + np.sin(distances_rad)[:, None] * forward
    along = np.cross(axis, points)
    east = np.stack([-points[:, 1], points[:, 0], np.zeros(len(points))], axis=1)
    east /= np.linalg.norm(east, axis=1)[:, None]
    north = np.cross(points, east)
    return np.unwrap(np.arctan2(np.sum(along * east, axis=1), np.sum(along * north, axis=1)))


def fly_great_circle(start_s: float, start: Point, goal: Point, speed: float, wind: tuple[float, float]) -> RouteLeg:
    """Fly from `start` to `goal` (latitude, longitude) [rad] from time `start_s` at airspeed `speed` [m/s].

    `wind` [m/s] blows to north, to east. The heading is corrected for it, so that the track is the great circle.
    Raises `MaterialError` flight-impossible where the wind is stronger than the airspeed, or the ends are the
    same or opposite points.
    """
    angle = math.atan2(float(np.linalg.norm(np.cross(unit(start), unit(goal)))), float(unit(start) @ unit(goal)))
    if angle < 1e-6 or angle > math.pi - 1e-3:
        raise MaterialError(
            Problem(
                "flight-impossible",
                f"a great circle of {math.degrees(angle):.3f} deg of arc has no definite track",
                "its ends must be neither the same nor opposite points",
                "choose another place",
            )
        )
    count = max(8, math.ceil(angle * SPHERE_M / KNOT_SPACING_M))
    distances = np.linspace(0.0, angle, count + 1)
    tracks = tracks_along(start, goal, distances)
    across = -wind[0] * np.sin(tracks) + wind[1] * np.cos(tracks)
    along = wind[0] * np.cos(tracks) + wind[1] * np.sin(tracks)
    ground = np.sqrt(np.maximum(speed * speed - across * across, 0.0)) + along
    if float(np.max(np.abs(across))) >= speed or float(np.min(ground)) <= 0.0:
        raise MaterialError(
            Problem(
                "flight-impossible",
                f"a wind of {math.hypot(*wind) / 0.514444:.0f} kt stops the great circle",
                "the airspeed must be more than the wind",
                "fly faster or in less wind",
            )
        )
    slowness = CubicSpline(distances * SPHERE_M, 1.0 / ground).antiderivative()
    knots = start_s + slowness(distances * SPHERE_M)
    headings = tracks - np.arcsin(across / speed)
    polynomials = np.zeros((6, 4, count))
    for channel, values in (
        (POLY_NORTH, ground * np.cos(tracks)),
        (POLY_EAST, ground * np.sin(tracks)),
        (POLY_HEADING, headings),
    ):
        polynomials[channel] = CubicSpline(knots, values).c
    return RouteLeg(np.asarray(knots), polynomials, float(headings[-1]))
