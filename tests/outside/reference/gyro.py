"""The directional gyro as a single direction in space, pushed by two torques.

State: the spin axis (3) [unit vector, NED].
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping
from typing import Any

from .earth import SPIN_RAD_S
from .motion import Effects, Pose
from .vectors import DOWN, Triad, Vector, cross, dot, triad, unit


@dataclasses.dataclass(frozen=True)
class Gyro:
    """Torques over momentum [rad/s] and what the levelling works to."""

    inner_rate_rad_s: float
    levelling: str
    levelling_rate_rad_s: float
    band_rad: float

    @classmethod
    def build(cls, given: Mapping[str, Any], effects: Effects) -> Gyro:
        """From the names and units of an instructor's gyro; a positive drift makes the reading increase."""
        drift_deg_h = given.get("drift_deg_h", 0.0) if "drift" in effects else 0.0
        nut_deg = given.get("nut_latitude_deg")
        nut = 0.0 if nut_deg is None else SPIN_RAD_S * math.sin(math.radians(nut_deg))
        return cls(
            inner_rate_rad_s=-math.radians(drift_deg_h) / 3600.0 - nut,
            levelling=given.get("levelling", "case") if "levelling" in effects else "none",
            levelling_rate_rad_s=math.radians(given.get("levelling_rate_deg_min", 3.0)) / 60.0,
            band_rad=math.radians(given.get("levelling_band_deg", 0.5)),
        )

    def levelling_pull(self, spin_axis: Vector, outer: Vector, felt: Vector) -> float:
        """The outer torque over momentum [rad/s]."""
        if self.levelling == "none":
            return 0.0
        down = unit(felt) if self.levelling == "gravity" else outer
        tilt_rad = math.asin(max(-1.0, min(1.0, dot(down, spin_axis))))
        return -self.levelling_rate_rad_s * max(-1.0, min(1.0, tilt_rad / self.band_rad))

    def axis_rate(self, spin_axis: Vector, frame: Vector, pose: Pose, felt: Vector, correction_rad_s: float) -> Vector:
        """s' = −ω × s + inner torque along the inner axis + outer torque toward the outer axis."""
        outer = pose.axes.floor
        inner = unit(cross(outer, spin_axis))
        toward = outer - dot(outer, spin_axis) * spin_axis
        across_rad_s = self.inner_rate_rad_s - correction_rad_s
        carried = cross(spin_axis, frame)
        return carried + across_rad_s * inner + self.levelling_pull(spin_axis, outer, felt) * toward


def bearing_from_nose(spin_axis: Vector, axes: Triad) -> float:
    """The spin axis's bearing from the nose about the outer axis, clockwise [rad]."""
    return math.atan2(dot(spin_axis, axes.wing), dot(spin_axis, axes.nose))


def reading_axes(pose: Pose, effects: Effects) -> Triad:
    """The axes the card is read in: those of the case, or level ones when gimballing is switched off."""
    return pose.axes if "gimballing" in effects else triad(pose.heading_rad, 0.0, 0.0)


def starting_axis(pose: Pose, bearing_rad: float, tilt_rad: float = 0.0) -> Vector:
    """A spin axis at a bearing from the nose, its forward end raised by `tilt_rad` over square to the outer axis."""
    flat = math.cos(bearing_rad) * pose.axes.nose + math.sin(bearing_rad) * pose.axes.wing
    return math.cos(tilt_rad) * flat - math.sin(tilt_rad) * pose.axes.floor


def elevation_rad(spin_axis: Vector) -> float:
    """How far the spin axis points above the horizon [rad]."""
    return math.asin(-dot(spin_axis, DOWN))
