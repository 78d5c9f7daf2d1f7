"""The flux detector: a damped pendulum that carries a plane in which the field is measured.

State: longitudinal angle and rate, lateral angle and rate [rad, rad/s], relative to the case.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from .magnetism import Magnetism
from .motion import Effects, Pose, Segment
from .vectors import DOWN, Vector, cross, dot, unit


@dataclasses.dataclass(frozen=True)
class Detector:
    """Pendulum frequency [rad/s], damping ratio and freedom [rad]; the aircraft's magnetism where it is mounted."""

    frequency_rad_s: float
    damping: float
    freedom_rad: float
    tilts: bool
    magnetism: Magnetism

    @classmethod
    def build(cls, given: Mapping[str, Any], effects: Effects) -> Detector:
        """From the names and units of an instructor's detector."""
        return cls(
            frequency_rad_s=2.0 * math.pi / given.get("period_s", 1.0),
            damping=given.get("damping", 0.5),
            freedom_rad=math.radians(given.get("freedom_deg", 25.0)),
            tilts="detector tilt" in effects,
            magnetism=Magnetism.build(given.get("magnetism", {}), effects),
        )

    def limited(self, angle_rad: float) -> float:
        """An angle within the freedom of the pendulum."""
        return max(-self.freedom_rad, min(self.freedom_rad, angle_rad))

    def targets(self, pose: Pose, felt: Vector) -> tuple[float, float]:
        """Longitudinal and lateral angle of apparent gravity in the case."""
        down = dot(felt, pose.axes.floor)
        along, across = dot(felt, pose.axes.nose), dot(felt, pose.axes.wing)
        return self.limited(math.atan2(along, down)), self.limited(math.atan2(across, down))

    def rates(self, state: Vector, pose: Pose, felt: Vector) -> Vector:
        """The two pendulum equations."""
        result = np.empty(4)
        for axis, target in enumerate(self.targets(pose, felt)):
            angle, speed = state[2 * axis : 2 * axis + 2].tolist()
            pull = self.frequency_rad_s**2 * (angle - target)
            result[2 * axis : 2 * axis + 2] = speed, -pull - 2.0 * self.damping * self.frequency_rad_s * speed
        return result

    def resting(self, pose: Pose, felt: Vector) -> Vector:
        """The pendulum hanging still."""
        along, across = self.targets(pose, felt)
        return np.array([along, 0.0, across, 0.0])

    def plane_normal(self, state: Vector, pose: Pose) -> Vector:
        """Downward normal of the plane in which the field is measured [NED]."""
        if not self.tilts:
            return DOWN
        along, across = self.limited(float(state[0])), self.limited(float(state[2]))
        axes = pose.axes
        return unit(math.tan(along) * axes.nose + math.tan(across) * axes.wing + axes.floor)

    def sensed(self, state: Vector, pose: Pose, field: Vector) -> tuple[float, float]:
        """Field along the nose's line in the plane, and to the right of it [T]."""
        met, normal = self.magnetism.met(field, pose.axes), self.plane_normal(state, pose)
        ahead = unit(pose.axes.nose - dot(pose.axes.nose, normal) * normal)
        return dot(met, ahead), dot(met, cross(normal, ahead))


def detector_reading_deg(detector: Detector, field: Vector, segment: Segment, time_s: float, state: Vector) -> float:
    """Heading the detector signals [deg, magnetic], not wrapped into 0..360."""
    ahead, right = detector.sensed(state, segment.pose_at(time_s), field)
    return math.degrees(math.atan2(-right, ahead))
