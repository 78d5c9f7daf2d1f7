"""A flight as a row of segments, within each of which bank, pitch and airspeed change evenly."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Literal, NamedTuple

import numpy as np

from .earth import FOOT_M, GRAVITY_M_S2, KNOT_M_S, carriage, earth_spin
from .vectors import DOWN, Triad, Vector, cross, triad, vec

Effects = frozenset[str]


class Pose(NamedTuple):
    """What the aircraft does at one moment: attitude, rotation [rad/s, NED], velocity and its rate [NED]."""

    heading_rad: float
    pitch_rad: float
    bank_rad: float
    axes: Triad
    rotation: Vector
    ground_velocity: Vector
    velocity_rate: Vector


@dataclasses.dataclass(frozen=True)
class Segment:
    """A stretch of flight from `start_s`; heading is true; `yaw_rate_rad_s` None means a coordinated turn."""

    start_s: float
    duration_s: float
    heading_rad: float
    speed_m_s: float
    bank_rad: float = 0.0
    pitch_rad: float = 0.0
    bank_rate_rad_s: float = 0.0
    pitch_rate_rad_s: float = 0.0
    acceleration_m_s2: float = 0.0
    yaw_rate_rad_s: float | None = None
    wind: Vector = dataclasses.field(default_factory=lambda: np.zeros(3))

    @property
    def end_s(self) -> float:
        return self.start_s + self.duration_s

    def heading_at(self, time_s: float) -> float:
        """True heading in closed form, not wrapped [rad]."""
        passed_s = time_s - self.start_s
        if self.yaw_rate_rad_s is not None:
            return self.heading_rad + self.yaw_rate_rad_s * passed_s
        if self.bank_rate_rad_s == 0.0:
            return self.heading_rad + GRAVITY_M_S2 * math.tan(self.bank_rad) / max(self.speed_m_s, 1e-9) * passed_s
        bank_now_rad = self.bank_rad + self.bank_rate_rad_s * passed_s
        log_ratio = math.log(math.cos(self.bank_rad) / math.cos(bank_now_rad))
        return self.heading_rad + GRAVITY_M_S2 * log_ratio / (self.bank_rate_rad_s * self.speed_m_s)

    def pose_at(self, time_s: float) -> Pose:
        """Attitude, rotation, velocity over the ground and rate of velocity."""
        passed_s = time_s - self.start_s
        heading, speed = self.heading_at(time_s), self.speed_m_s + self.acceleration_m_s2 * passed_s
        bank = self.bank_rad + self.bank_rate_rad_s * passed_s
        pitch = self.pitch_rad + self.pitch_rate_rad_s * passed_s
        yaw_rate = self.yaw_rate_rad_s
        if yaw_rate is None:
            yaw_rate = GRAVITY_M_S2 * math.tan(bank) / speed if bank != 0.0 else 0.0
        axes = triad(heading, pitch, bank)
        rotation = yaw_rate * DOWN + self.pitch_rate_rad_s * axes.level_wing + self.bank_rate_rad_s * axes.nose
        velocity_rate = self.acceleration_m_s2 * axes.nose + speed * cross(rotation, axes.nose)
        return Pose(heading, pitch, bank, axes, rotation, speed * axes.nose + self.wind, velocity_rate)

    def continued(self, duration_s: float, **changes: float) -> Segment:
        """The next segment, taking over heading, speed, bank and pitch as they stand at the end of this one."""
        end = self.end_s
        start: dict[str, Any] = {
            "heading_rad": self.heading_at(end),
            "speed_m_s": self.speed_m_s + self.acceleration_m_s2 * self.duration_s,
            "bank_rad": self.bank_rad + self.bank_rate_rad_s * self.duration_s,
            "pitch_rad": self.pitch_rad + self.pitch_rate_rad_s * self.duration_s,
        }
        return Segment(end, duration_s, wind=self.wind, **{**start, **changes})


def apparent_gravity(pose: Pose, latitude_rad: float, effects: Effects) -> Vector:
    """Gravity minus acceleration, what hangs in the aircraft hangs along [m/s², NED]."""
    felt = GRAVITY_M_S2 * DOWN - pose.velocity_rate
    if "coriolis" in effects:
        turning = 2.0 * earth_spin(latitude_rad) + carriage(latitude_rad, pose.ground_velocity)
        felt = felt - cross(turning, pose.ground_velocity)
    return felt


def frame_rotation(pose: Pose, latitude_rad: float, effects: Effects) -> Vector:
    """Rotation of the north-east-down axes in space, as far as the effects are on [rad/s, NED]."""
    rotation = np.zeros(3)
    if "earth rate" in effects:
        rotation = rotation + earth_spin(latitude_rad)
    if "transport" in effects:
        rotation = rotation + carriage(latitude_rad, pose.ground_velocity)
    return rotation


def opening(case: Mapping[str, Any]) -> Segment:
    """The steady straight flight from which the first leg starts, as a segment of no length."""
    from_rad = math.radians(case.get("wind_from_deg", 0.0))
    wind = -case.get("wind_kt", 0.0) * KNOT_M_S * vec(math.cos(from_rad), math.sin(from_rad), 0.0)
    variation_deg = case["field"].get("variation_deg", 0.0)
    heading_rad = math.radians(case.get("heading_mag_deg", 0.0) + variation_deg)
    return Segment(0.0, 0.0, heading_rad, case.get("tas_kt", 100.0) * KNOT_M_S, wind=wind)


def flight_segments(case: Mapping[str, Any]) -> list[Segment]:
    """All segments of a case's legs, in order of time."""
    last, segments = opening(case), []
    for leg in case["legs"]:
        for segment in leg_segments(last, leg):
            segments.append(segment)
            last = segment
        last = dataclasses.replace(last.continued(0.0), bank_rad=0.0, pitch_rad=0.0)
    return segments


def leg_segments(last: Segment, leg: Mapping[str, Any]) -> Iterator[Segment]:
    """The segments of one leg, following on `last`."""
    kind = leg["kind"]
    if kind in {"hold", "stand"}:
        yield last.continued(leg["duration_s"])
    elif kind == "taxi":
        duration_s = leg["duration_s"]
        yield last.continued(duration_s, yaw_rate_rad_s=math.radians(leg.get("turn_deg", 0.0)) / duration_s)
    elif kind == "accelerate":
        yield last.continued(leg["duration_s"], acceleration_m_s2=leg["acceleration_g"] * GRAVITY_M_S2)
    elif kind == "turn":
        yield from turn_segments(last, leg)
    elif kind == "climb":
        yield from climb_segments(last, leg)
    else:
        raise ValueError(f"leg kind {kind!r} is not known to the reference")


def roll_heading_rad(bank_rad: float, roll_rate_rad_s: float, speed_m_s: float) -> float:
    """Heading turned through while rolling evenly from level to a bank."""
    return -GRAVITY_M_S2 * math.log(math.cos(bank_rad)) / (roll_rate_rad_s * speed_m_s)


def turn_segments(last: Segment, leg: Mapping[str, Any]) -> Iterator[Segment]:
    """Roll in, hold the bank, roll out; a turn too short for its bank stops rolling in at a smaller one."""
    speed, total_rad = last.speed_m_s + last.acceleration_m_s2 * last.duration_s, math.radians(abs(leg["by_deg"]))
    side: Literal[1, -1] = 1 if leg["by_deg"] > 0 else -1
    bank_rad = math.atan(speed * math.radians(leg.get("rate_deg_s") or 3.0) / GRAVITY_M_S2)
    if leg.get("bank_deg"):
        bank_rad = math.radians(leg["bank_deg"])
    roll_rate = math.radians(leg.get("roll_rate_deg_s") or 10.0)
    if leg.get("roll_time_s"):
        roll_rate = bank_rad / leg["roll_time_s"]
    if 2.0 * roll_heading_rad(bank_rad, roll_rate, speed) > total_rad:
        bank_rad = math.acos(math.exp(-total_rad * roll_rate * speed / (2.0 * GRAVITY_M_S2)))
    steady_rad = total_rad - 2.0 * roll_heading_rad(bank_rad, roll_rate, speed)
    steady_s, roll_s = steady_rad * speed / (GRAVITY_M_S2 * math.tan(bank_rad)), bank_rad / roll_rate
    roll_in = last.continued(roll_s, bank_rate_rad_s=side * roll_rate)
    hold = roll_in.continued(max(steady_s, 0.0), bank_rad=side * bank_rad)
    yield roll_in
    if steady_s > 1e-9:
        yield hold
    yield hold.continued(roll_s, bank_rate_rad_s=-side * roll_rate)


def climb_segments(last: Segment, leg: Mapping[str, Any]) -> Iterator[Segment]:
    """Raise the nose at 1°/s to the climb's pitch, hold it, lower it again; `duration_s` is the whole leg.

    Airspeed stays the same along the nose, so the pitch is asin(vertical speed / airspeed).
    """
    speed = last.speed_m_s + last.acceleration_m_s2 * last.duration_s
    pitch_rad = math.asin(leg["vertical_speed_ft_min"] * FOOT_M / 60.0 / speed)
    rate = math.copysign(math.radians(1.0), pitch_rad)
    raising = last.continued(pitch_rad / rate, pitch_rate_rad_s=rate)
    steady = raising.continued(leg["duration_s"] - 2.0 * pitch_rad / rate, pitch_rad=pitch_rad)
    yield raising
    yield steady
    yield steady.continued(pitch_rad / rate, pitch_rate_rad_s=-rate)


def split_at(segments: Sequence[Segment], times_s: Sequence[float]) -> list[Segment]:
    """The same flight with extra corners at the given times (actions)."""
    pieces: list[Segment] = []
    for segment in segments:
        inside = sorted(t for t in times_s if segment.start_s < t < segment.end_s)
        edges = [segment.start_s, *inside, segment.end_s]
        for start_s, end_s in itertools.pairwise(edges):
            now = dataclasses.replace(segment, duration_s=start_s - segment.start_s).continued(0.0)
            pieces.append(
                dataclasses.replace(
                    segment,
                    start_s=start_s,
                    duration_s=end_s - start_s,
                    heading_rad=now.heading_rad,
                    speed_m_s=now.speed_m_s,
                    bank_rad=now.bank_rad,
                    pitch_rad=now.pitch_rad,
                )
            )
    return pieces
