"""Where the flight goes over the Earth, and the table of latitude and field along it."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.physics.earth import radii
from gyrochalk.physics.readings import read_motion
from gyrochalk.physics.world import LEG_START, World
from gyrochalk.systems.flightpath import Path
from gyrochalk.systems.geomagnetism import MagneticModel, field_along
from gyrochalk.systems.places import StatedField
from gyrochalk.systems.scales import FT_M, NT_T, UT_T

Floats = NDArray[np.float64]

TABLE_STEP_S = 5.0
FARTHEST_LATITUDE_DEG = 89.5
POINTS, WEIGHTS = np.polynomial.legendre.leggauss(4)


@dataclasses.dataclass(frozen=True)
class Route:
    """Where the flight is at evenly spaced times.

    `time_s` (r+1,); latitude and longitude [rad]; height [m]; field NED [T] (r+1, 3).
    """

    time_s: Floats
    latitude: Floats
    longitude: Floats
    height_m: Floats
    field_t: Floats


def legs_at(path: Path, times: Floats) -> NDArray[np.int64]:
    """Index of the piece of the flight each time lies in; a boundary belongs to the piece that begins there."""
    found = np.searchsorted(path.rows[:, LEG_START], times, side="right") - 1
    return np.clip(found, 0, len(path.rows) - 1).astype(np.int64)


def bare_world(path: Path) -> World:
    """The flight without an Earth under it: enough to ask for motion."""
    return World(path.rows, path.knots, path.polynomials, np.zeros((1, 4, 4)), 1e9, 0.0, 0.0, 0.0, 0.0)


def table_times(duration_s: float) -> Floats:
    """Evenly spaced table times [s] from 0 to the end."""
    count = max(1, math.ceil(duration_s / TABLE_STEP_S))
    return np.linspace(0.0, duration_s, count + 1)


def reckon(path: Path, start: tuple[float, float, float], ellipsoid: bool) -> tuple[Floats, Floats, Floats, Floats]:
    """Table times, latitude, longitude [rad] and height [m] by integrating the ground velocity (Gauss, 4 points).

    `start`: latitude, longitude [rad], height [m]. The flight's corners bound the pieces of the quadrature.
    """
    table = table_times(path.duration_s)
    edges = np.unique(np.concatenate([table, path.rows[1:, LEG_START]]))
    half = 0.5 * np.diff(edges)[:, None]
    times = (0.5 * (edges[1:] + edges[:-1]))[:, None] + half * POINTS[None, :]
    flat = times.reshape(-1)
    moving = read_motion(flat, legs_at(path, flat), bare_world(path))
    north, east, down = (moving[:, k].reshape(times.shape) for k in (4, 5, 6))
    flag = 1.0 if ellipsoid else 0.0
    latitudes = np.full(times.shape, start[0])
    for _ in range(3 if ellipsoid else 1):
        meridian = np.vectorize(lambda phi: radii(phi, flag)[0])(latitudes) if ellipsoid else radii(0.0, 0.0)[0]
        climb_north = north / meridian
        steps = np.sum(half * WEIGHTS * climb_north, axis=1)
        at_edges = start[0] + np.concatenate([[0.0], np.cumsum(steps)])
        inside = CubicSpline(edges, at_edges) if len(edges) > 2 else None
        latitudes = inside(times) if inside else at_edges[0] + (times - edges[0]) * (steps[0] / (2.0 * half[0]))
    across = np.vectorize(lambda phi: radii(phi, flag)[1])(latitudes) if ellipsoid else radii(0.0, 0.0)[1]
    turned = np.sum(half * WEIGHTS * east / (across * np.maximum(np.cos(latitudes), 1e-9)), axis=1)
    sunk = np.sum(half * WEIGHTS * down, axis=1)
    longitude = start[1] + np.concatenate([[0.0], np.cumsum(turned)])
    height = start[2] - np.concatenate([[0.0], np.cumsum(sunk)])
    keep = np.searchsorted(edges, table)
    return table, at_edges[keep], longitude[keep], height[keep]


def stated_field_ned(field: StatedField) -> Floats:
    """A stated field as north, east, down [T]."""
    variation = math.radians(field.variation_deg)
    horizontal = field.horizontal_ut * UT_T
    vertical = horizontal * math.tan(math.radians(field.dip_deg))
    return np.array([horizontal * math.cos(variation), horizontal * math.sin(variation), vertical])


def field_on(latitude: Floats, longitude: Floats, height_m: Floats, model: MagneticModel | StatedField) -> Floats:
    """The field NED [T] (n, 3) at positions [rad, rad, m]."""
    if isinstance(model, StatedField):
        return np.tile(stated_field_ned(model), (len(latitude), 1))
    return field_along(model, np.degrees(latitude), np.degrees(longitude), height_m / 1000.0) * NT_T


def route_table(route: Route) -> tuple[Floats, float]:
    """The kernels' route table (r, 4, 4) and its spacing [s]."""
    channels = np.column_stack([route.latitude, route.field_t])
    step = float(route.time_s[1] - route.time_s[0])
    if np.ptp(channels, axis=0).max() == 0.0:
        table = np.zeros((1, 4, 4))
        table[0, 3] = channels[0]
        return table, 1e12
    return np.ascontiguousarray(np.moveaxis(CubicSpline(route.time_s, channels).c, 0, 1)), step


def refuse_poles(time_s: Floats, latitude: Floats) -> None:
    """Raise `MaterialError` flight-impossible where a flight comes too near a pole; `latitude` [rad] at `time_s`."""
    beyond = np.flatnonzero(np.abs(latitude) > math.radians(FARTHEST_LATITUDE_DEG))
    if len(beyond):
        raise MaterialError(
            Problem(
                "flight-impossible",
                f"the flight comes to a pole after {time_s[beyond[0]] / 60.0:.0f} min",
                f"it must stay between {FARTHEST_LATITUDE_DEG} N and {FARTHEST_LATITUDE_DEG} S, since headings lose "
                "their meaning at a pole",
                "shorten it or choose another route",
            )
        )


def planned_route(
    path: Path,
    latitude_deg: float,
    longitude_deg: float,
    height_ft: float,
    model: MagneticModel | StatedField,
    ellipsoid: bool,
) -> Route:
    """The route of a flight laid from legs, from its start [deg, deg, ft]. Raises `MaterialError` flight-impossible."""
    start = (math.radians(latitude_deg), math.radians(longitude_deg), height_ft * FT_M)
    times, latitude, longitude, height = reckon(path, start, ellipsoid)
    refuse_poles(times, latitude)
    return Route(times, latitude, longitude, height, field_on(latitude, longitude, height, model))
