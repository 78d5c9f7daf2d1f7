"""The slaving loop of the gyro-magnetic compass: detector, comparison, motor and gyro carried together.

State: spin axis (3), correction rate of the motor (1) [rad/s, positive: reading increases], pendulum (4), latitude
(1) [rad].
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from .detector import Detector
from .earth import RADIUS_M
from .gyro import Gyro, bearing_from_nose, reading_axes, starting_axis
from .motion import Effects, Pose, Segment, apparent_gravity, frame_rotation
from .solving import Piece, Rates, Track, solve_piece
from .vectors import Vector, unit

PER_MINUTE = math.pi / 180.0 / 60.0


@dataclasses.dataclass(frozen=True)
class Law:
    """Full-scale rate [rad/s], band and dead zone [rad] of one mode of the loop."""

    rate_rad_s: float
    band_rad: float
    dead_zone_rad: float

    def wanted(self, signal: float) -> float:
        """The correction rate asked of the motor for a comparison signal."""
        least = math.sin(self.dead_zone_rad)
        beyond = math.copysign(max(0.0, abs(signal) - least), signal)
        return self.rate_rad_s * max(-1.0, min(1.0, beyond / (math.sin(self.band_rad) - least)))


@dataclasses.dataclass(frozen=True)
class Loop:
    """Everything of the slaved system but the gyro and the detector."""

    slow: Law
    fast: Law
    hold: Law
    free: Law
    lag_s: float
    reference_t: float
    large_rad: float
    settled_rad: float
    automatic: str

    @classmethod
    def build(cls, given: Mapping[str, Any]) -> Loop:
        """From the names and units of an instructor's loop."""
        dead_rad = math.radians(given.get("dead_zone_deg", 0.1))
        band_rad = math.radians(given.get("band_deg", 2.0))
        hold_rad = math.radians(given.get("hold_band_deg", 15.0))
        return cls(
            slow=Law(given.get("slow_rate_deg_min", 3.0) * PER_MINUTE, band_rad, dead_rad),
            fast=Law(given.get("fast_rate_deg_min", 60.0) * PER_MINUTE, band_rad, dead_rad),
            hold=Law(given.get("hold_rate_deg_min", 900.0) * PER_MINUTE, hold_rad, dead_rad),
            free=Law(0.0, band_rad, dead_rad),
            lag_s=given.get("lag_s", 0.5),
            reference_t=given.get("reference_field_ut", 20.0) * 1e-6,
            large_rad=math.radians(given.get("large_error_deg", 5.0)),
            settled_rad=math.radians(given.get("settled_deg", 0.25)),
            automatic=given.get("automatic", "at switch-on"),
        )


@dataclasses.dataclass(frozen=True)
class SlavedCompass:
    """Gyro, detector and loop in a stated uniform field; `set_rad` is the reading with s under the nose."""

    gyro: Gyro
    detector: Detector
    loop: Loop
    field: Vector
    set_rad: float
    effects: Effects

    def indicated(self, state: Vector, pose: Pose) -> float:
        """Heading shown [rad, magnetic], not wrapped."""
        return self.set_rad - bearing_from_nose(state[0:3], reading_axes(pose, self.effects))

    def comparison(self, state: Vector, pose: Pose) -> tuple[float, float]:
        """Detector minus indicated heading [rad, -π..π], and the field in the detector's plane [T]."""
        ahead, right = self.detector.sensed(state[4:8], pose, self.field)
        apart = math.atan2(-right, ahead) - self.indicated(state, pose)
        return math.remainder(apart, 2.0 * math.pi), math.hypot(ahead, right)

    def rates(self, law: Law) -> Rates:
        """Equations of the whole system in one mode of the loop."""

        def rates(segment: Segment, time_s: float, state: Vector) -> Vector:
            pose, latitude = segment.pose_at(time_s), float(state[8])
            felt = apparent_gravity(pose, latitude, self.effects)
            apart, met = self.comparison(state, pose)
            wanted = law.wanted(met / self.loop.reference_t * math.sin(apart))
            given = float(state[3]) if self.loop.lag_s > 0.0 else wanted
            easing = (wanted - given) / self.loop.lag_s if self.loop.lag_s > 0.0 else 0.0
            frame = frame_rotation(pose, latitude, self.effects)
            axis = self.gyro.axis_rate(unit(state[0:3]), frame, pose, felt, given)
            north = float(pose.ground_velocity[0]) / RADIUS_M
            return np.concatenate([axis, [easing], self.detector.rates(state[4:8], pose, felt), [north]])

        return rates

    def starting_state(self, pose: Pose, latitude_rad: float, bearing_rad: float, tilt_rad: float) -> Vector:
        """Everything at rest before the first leg."""
        felt = apparent_gravity(pose, latitude_rad, self.effects)
        axis = starting_axis(pose, bearing_rad, tilt_rad)
        return np.concatenate([axis, [0.0], self.detector.resting(pose, felt), [latitude_rad]])

    def fly(self, segments: Sequence[Segment], state: Vector, holds: Sequence[tuple[float, float]] = ()) -> Track:
        """The flight with automatic alignment at switch-on and held alignments (begin, end) [s]."""
        pieces: list[Piece] = []
        first = segments[0].pose_at(segments[0].start_s)
        aligning = self.loop.automatic == "at switch-on" and abs(self.comparison(state, first)[0]) > self.loop.large_rad
        for segment in segments:
            start_s = segment.start_s
            held = any(begin <= start_s + 1e-9 and start_s < end - 1e-9 for begin, end in holds)
            apart_rad = abs(self.comparison(state, segment.pose_at(start_s))[0])
            aligning = aligning and apart_rad > self.loop.settled_rad
            if aligning and not held:
                piece, state = solve_piece(self.rates(self.loop.fast), segment, start_s, state, self.settling(segment))
                pieces.append(piece)
                start_s, aligning = piece.end_s, piece.end_s >= segment.end_s
            if start_s < segment.end_s:
                law = self.loop.hold if held else self.loop.slow
                piece, state = solve_piece(self.rates(law), segment, start_s, state)
                pieces.append(piece)
        return Track(pieces)

    def settling(self, segment: Segment) -> Any:
        """Zero when the comparison comes down to the settled angle."""

        def settled(time_s: float, state: Vector) -> float:
            return abs(self.comparison(state, segment.pose_at(time_s))[0]) - self.loop.settled_rad

        return settled
