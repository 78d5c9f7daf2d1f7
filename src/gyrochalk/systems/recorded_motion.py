"""A recorded flight as a motion that can be differentiated twice.

Position, height, heading and, where recorded, bank and pitch are smoothed (see `smoothing`) on one even grid of knots.
The ground velocity is the exact derivative of the smoothed position, so that the two never disagree; recorded ground
speed and track count as samples of that derivative. Repeated values (a receiver that shows the last message again) are
left out where they cannot be new. Missing bank: tan(bank) = V ψ'/(g + climb acceleration) (D); missing pitch: the angle
of climb.
"""

from __future__ import annotations

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline, PPoly

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.systems.run import Span
from gyrochalk.systems.smoothing import Grid, Roughness, Samples, pieces_of, smooth_curve

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
SPHERE_RADIUS_M = 6_366_707.0
GRAVITY_M_S2 = 9.80665
KT_M_S = 1852.0 / 3600.0
FT_M = 0.3048

ROUGH_HORIZONTAL = Roughness(0.5, 50.0)
"""Roughness of horizontal position (A)."""
ROUGH_VERTICAL = Roughness(2.0, 50.0)
"""Roughness of height (A): a pull-up of 1 g put on in a few seconds passes."""
ROUGH_HEIGHT_ALONE = Roughness(0.1, 10.0)
"""Roughness of height where no vertical speed was recorded (A): heights in steps of 25 ft are smoothed harder."""
ROUGH_HEADING = Roughness(math.radians(0.03) ** 2, math.radians(3.0) ** 2)
"""Roughness of heading (A): turns put on in a few seconds pass, the steps of a recorder do not."""
ROUGH_ATTITUDE = Roughness(math.radians(0.5) ** 2, math.radians(10.0) ** 2)
"""Roughness of recorded bank and pitch (A)."""
ROUGH_SPEED = Roughness(0.5, 5.0)
"""Roughness of true airspeed (A)."""

STALE_S = 5.0
STEEPEST_BANK_RAD = math.radians(75.0)
LEAST_LOAD = 0.3
TAXI_M_S, FLYING_M_S = 15.0, 30.0
MOVING_M_S = 5.0
LEVEL_FT_MIN = 100.0
TURNING_RAD_S = math.radians(1.0)
SHORTEST_TURN_S = 5.0


@dataclasses.dataclass(frozen=True, eq=False)
class RecordedMotion:
    """A recorded flight as piecewise cubics, continuous in their second derivatives.

    `time_s` (m+1,) knots, evenly spaced, from 0. Every other field (4, m): coefficients of the cubic in t − time_s[k]
    on piece k, highest power first. `north`, `east`, `down`: velocity over the ground [m/s]; `heading` true [rad, not
    wrapped]; `pitch` nose up and `bank` right [rad]; `tas` true airspeed [m/s]; `latitude`, `longitude` [rad, not
    wrapped]; `height` [m].
    """

    time_s: Floats
    north: Floats
    east: Floats
    down: Floats
    heading: Floats
    pitch: Floats
    bank: Floats
    tas: Floats
    latitude: Floats
    longitude: Floats
    height: Floats

    def at(self, name: str, time_s: Floats, derivative: int = 0) -> Floats:
        """A field or its derivative at times [s]: `at("bank", t)`."""
        curve = PPoly(getattr(self, name), self.time_s)
        values: Floats = curve(time_s, derivative)
        return values

    def tas_m_s_at(self, time_s: Floats) -> Floats:
        """True airspeed [m/s] at times [s], never negative."""
        return np.maximum(self.at("tas", time_s), 0.0)

    def turn_spans(self) -> tuple[Span, ...]:
        """Where the flight turns at more than 1 deg/s for at least 5 s, by its heading at the knots."""
        turning = np.abs(self.at("heading", self.time_s, 1)) > TURNING_RAD_S
        edges = np.flatnonzero(np.diff(np.concatenate([[False], turning, [False]]).astype(np.int64)))
        last = len(self.time_s) - 1
        spans = [(float(self.time_s[a]), float(self.time_s[min(b, last)])) for a, b in zip(edges[::2], edges[1::2])]
        return tuple(self._turn(start, end) for start, end in spans if end - start >= SHORTEST_TURN_S)

    def _turn(self, start_s: float, end_s: float) -> Span:
        change = float(np.diff(self.at("heading", np.array([start_s, end_s])))[0])
        side = "right" if change > 0.0 else "left"
        return Span(start_s, end_s, "turn", f"{side} turn through {abs(math.degrees(change)):.0f}°")


def smooth(recorded: RecordedFlight, variation_deg: Floats | None = None) -> RecordedMotion:
    """Make a recorded flight a motion that can be flown.

    `variation_deg` (n,) is the variation at each sample [deg, east positive], where headings are magnetic (ValueError
    if it is needed and missing). Raises `MaterialError`: flight-gap, with the time, where samples are missing for
    longer than `gap_limit_s` or the recorded position stands still for so long while the aircraft moves;
    recording-unreadable for too few samples.
    """
    time_s = np.asarray(recorded.time_s, dtype=np.float64) - float(recorded.time_s[0])
    _require_samples(time_s)
    fresh = _fresh_positions(recorded, time_s)
    refuse_gaps(time_s, recorded.gap_limit_s, fresh)
    grid = _grid(time_s)
    track = _Track(recorded, time_s, grid, fresh)
    heading = _heading(recorded, time_s, grid, track, variation_deg)
    tas = _tas(recorded, time_s, grid, track)
    pitch = _attitude(recorded.pitch_deg, time_s, grid)
    bank = _attitude(recorded.bank_deg, time_s, grid)
    return RecordedMotion(
        time_s=grid.knots(),
        north=track.north,
        east=track.east,
        down=track.down,
        heading=heading,
        pitch=_climb_angle(grid, track, tas) if pitch is None else pitch,
        bank=_coordinated_bank(grid, track, tas, heading) if bank is None else bank,
        tas=tas,
        latitude=track.latitude,
        longitude=track.longitude,
        height=track.height,
    )


def refuse_gaps(time_s: Floats, limit_s: float, fresh: Flags | None = None) -> None:
    """Refuse a recording with a pause longer than `limit_s` between samples at `time_s`; the last counts as fresh."""
    kept = time_s if fresh is None else np.append(time_s[fresh], time_s[-1])
    pauses = np.diff(kept)
    problems = [
        Problem(
            "flight-gap",
            f"nothing new was recorded for {pauses[index]:.0f} s from {kept[index]:.0f} s after the start",
            f"gaps up to {limit_s:g} s",
            "cut the recording there, or raise gap_limit if a straight line will do",
        )
        for index in np.flatnonzero(pauses > limit_s)
    ]
    if problems:
        raise MaterialError(problems)


def _require_samples(time_s: Floats) -> None:
    if len(time_s) < 8 or not np.all(np.diff(time_s) > 0.0):
        what = f"the recording has {len(time_s)} {'sample' if len(time_s) == 1 else 'samples'}"
        raise MaterialError(Problem("recording-unreadable", what, "8 or more, one after another", "record for longer"))


def _fresh_positions(recorded: RecordedFlight, time_s: Floats) -> Flags:
    """Where the position is new: an exact repeat while the aircraft moves is an old message shown again."""
    same = (np.diff(recorded.latitude_deg) == 0.0) & (np.diff(recorded.longitude_deg) == 0.0)
    if recorded.ground_speed_kt is not None:
        moving = recorded.ground_speed_kt * KT_M_S > MOVING_M_S
    else:
        metres = np.hypot(np.diff(recorded.latitude_deg), np.diff(recorded.longitude_deg)) * 111_000.0
        speed = np.append(metres / np.diff(time_s), 0.0)
        moving = np.maximum.accumulate(speed[::-1])[::-1] > MOVING_M_S
    return np.concatenate([[True], ~(same & moving[1:])])


def fresh_values(values: Floats, time_s: Floats) -> Flags:
    """Where a value at `time_s` may be taken as new: the last `STALE_S` seconds of a row of equal values are not."""
    starts = np.concatenate([[True], np.diff(values) != 0.0])
    row = np.cumsum(starts) - 1
    ends = np.append(time_s[starts][1:], np.inf)
    kept: Flags = starts | (time_s < ends[row] - STALE_S)
    return kept


def _grid(time_s: Floats) -> Grid:
    step = float(np.clip(2.0 * np.median(np.diff(time_s)), 0.5, 5.0))
    pieces = max(4, math.ceil(time_s[-1] / step))
    return Grid(float(time_s[-1]) / pieces, pieces)


class _Track:
    """Position and ground velocity as cubics on the grid."""

    def __init__(self, recorded: RecordedFlight, time_s: Floats, grid: Grid, fresh: Flags) -> None:
        latitude = np.radians(recorded.latitude_deg)
        longitude = np.unwrap(np.radians(recorded.longitude_deg))
        cosine = np.cos(latitude)
        speeds = _ground_velocity(recorded, time_s)
        origin = (float(latitude[0]), float(longitude[0]))
        north = [Samples(time_s[fresh], SPHERE_RADIUS_M * (latitude - origin[0])[fresh], 1.0)]
        east = [
            Samples(
                time_s[fresh], SPHERE_RADIUS_M * ((longitude - origin[1]) * cosine)[fresh], 1.0, scale=cosine[fresh]
            )
        ]
        if speeds is not None:
            kept, to_north, to_east = speeds
            north.append(Samples(time_s[kept], to_north[kept], 0.3, slope=True))
            east.append(Samples(time_s[kept], to_east[kept], 0.3, slope=True, scale=cosine[kept]))
        x = smooth_curve(north, grid, 4, ROUGH_HORIZONTAL)
        y = smooth_curve(east, grid, 4, ROUGH_HORIZONTAL)
        alone = recorded.vertical_speed_ft_min is None
        z = smooth_curve(_heights(recorded, time_s), grid, 4, ROUGH_HEIGHT_ALONE if alone else ROUGH_VERTICAL)
        knots = grid.knots()
        here = x(knots) / SPHERE_RADIUS_M + origin[0]
        self.north = pieces_of(x.derivative(), grid)
        self.east = _through(knots, y(knots, 1) * np.cos(here))
        self.down = -pieces_of(z.derivative(), grid)
        self.latitude = _through(knots, here)
        self.longitude = _through(knots, y(knots) / SPHERE_RADIUS_M + origin[1])
        self.height = _through(knots, z(knots) + float(recorded.height_ft[0]) * FT_M)
        self.speed_at_knots: Floats = np.hypot(x(knots, 1), y(knots, 1) * np.cos(here))
        self.course_at_knots: Floats = np.arctan2(y(knots, 1) * np.cos(here), x(knots, 1))
        self.climb_at_knots: Floats = z(knots, 1)
        self.climb_rate_at_knots: Floats = z(knots, 2)


def _ground_velocity(recorded: RecordedFlight, time_s: Floats) -> tuple[Flags, Floats, Floats] | None:
    if recorded.ground_speed_kt is None or recorded.track_true_deg is None:
        return None
    speed = recorded.ground_speed_kt * KT_M_S
    course = np.radians(recorded.track_true_deg)
    kept = fresh_values(recorded.ground_speed_kt + 1000.0 * recorded.track_true_deg, time_s)
    return kept, speed * np.cos(course), speed * np.sin(course)


def _heights(recorded: RecordedFlight, time_s: Floats) -> list[Samples]:
    kept = fresh_values(recorded.height_ft, time_s)
    if recorded.vertical_speed_ft_min is not None:
        same = np.concatenate([[False], np.diff(recorded.height_ft) == 0.0])
        kept &= ~(same & (np.abs(recorded.vertical_speed_ft_min) > LEVEL_FT_MIN))
    samples = [Samples(time_s[kept], (recorded.height_ft - recorded.height_ft[0])[kept] * FT_M, 2.0)]
    if recorded.vertical_speed_ft_min is not None:
        new = fresh_values(recorded.vertical_speed_ft_min, time_s)
        climb = recorded.vertical_speed_ft_min[new] * FT_M / 60.0
        samples.append(Samples(time_s[new], climb, 0.3, slope=True))
    return samples


def _heading(
    recorded: RecordedFlight, time_s: Floats, grid: Grid, track: _Track, variation_deg: Floats | None
) -> Floats:
    if recorded.heading_deg is None:
        return _heading_from_track(recorded, time_s, grid, track)
    degrees = np.unwrap(recorded.heading_deg, period=360.0)
    if recorded.heading_north == "magnetic":
        if variation_deg is None:
            raise ValueError("magnetic headings need variation_deg")
        degrees = degrees + variation_deg
    kept = fresh_values(recorded.heading_deg, time_s)
    return _angle(np.radians(degrees), kept, time_s, grid, ROUGH_HEADING)


def _heading_from_track(recorded: RecordedFlight, time_s: Floats, grid: Grid, track: _Track) -> Floats:
    if recorded.track_true_deg is not None:
        course = np.unwrap(np.radians(recorded.track_true_deg))
        return _angle(course, fresh_values(recorded.track_true_deg, time_s), time_s, grid, ROUGH_HEADING)
    moving = track.speed_at_knots > MOVING_M_S
    if not np.any(moving):
        return _through(grid.knots(), np.zeros(grid.pieces + 1))
    last = np.maximum.accumulate(np.where(moving, np.arange(len(moving)), np.argmax(moving)))
    return _through(grid.knots(), np.unwrap(track.course_at_knots[last]))


def _tas(recorded: RecordedFlight, time_s: Floats, grid: Grid, track: _Track) -> Floats:
    if recorded.tas_kt is None:
        return _through(grid.knots(), track.speed_at_knots)
    kept = fresh_values(recorded.tas_kt, time_s)
    curve = smooth_curve([Samples(time_s[kept], recorded.tas_kt[kept] * KT_M_S, 0.5)], grid, 3, ROUGH_SPEED)
    return pieces_of(curve, grid)


def _attitude(degrees: Floats | None, time_s: Floats, grid: Grid) -> Floats | None:
    if degrees is None:
        return None
    return _angle(np.radians(degrees), fresh_values(degrees, time_s), time_s, grid, ROUGH_ATTITUDE)


def _angle(radians: Floats, kept: Flags, time_s: Floats, grid: Grid, roughness: Roughness) -> Floats:
    samples = Samples(time_s[kept], radians[kept] - radians[0], math.radians(0.05))
    pieces = pieces_of(smooth_curve([samples], grid, 3, roughness), grid)
    pieces[3] += radians[0]
    return pieces


def _climb_angle(grid: Grid, track: _Track, tas: Floats) -> Floats:
    along = np.maximum(_at_knots(tas, grid), 20.0)
    return _through(grid.knots(), np.arcsin(np.clip(track.climb_at_knots / along, -0.9, 0.9)))


def _coordinated_bank(grid: Grid, track: _Track, tas: Floats, heading: Floats) -> Floats:
    """tan(bank) = V ψ'/(g + climb acceleration), none at taxiing speed, at most 75°."""
    speed = np.maximum(_at_knots(tas, grid), 0.0)
    turn_rate = _at_knots(heading, grid, 1)
    load = np.maximum(GRAVITY_M_S2 + track.climb_rate_at_knots, LEAST_LOAD * GRAVITY_M_S2)
    flying = np.clip((speed - TAXI_M_S) / (FLYING_M_S - TAXI_M_S), 0.0, 1.0)
    bank = np.arctan2(flying * speed * turn_rate, load)
    return _through(grid.knots(), np.clip(bank, -STEEPEST_BANK_RAD, STEEPEST_BANK_RAD))


def _through(knots: Floats, values: Floats) -> Floats:
    pieces: Floats = np.ascontiguousarray(CubicSpline(knots, values).c)
    return pieces


def _at_knots(pieces: Floats, grid: Grid, derivative: int = 0) -> Floats:
    values: Floats = PPoly(pieces, grid.knots())(grid.knots(), derivative)
    return values
