"""The direct-reading compass as a heavy floating magnet, written with angular momentum and two directions.

State: e1 (3) and e3 (3), the directions of the magnet and of the card's underside [NED]; the angular momentum over
the polar inertia (3) [rad/s, NED]; the fluid's spin about the case's vertical (1) [rad/s]. Earth's rotation is left
out, as `docs/physics.md` states for the card.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
from scipy.optimize import root
from scipy.spatial.transform import Rotation

from .earth import GRAVITY_M_S2
from .magnetism import Magnetism
from .motion import Effects, Pose, Segment, apparent_gravity
from .solving import Rates
from .vectors import Vector, cross, dot, unit

Latitude = Callable[[float], float]


@dataclasses.dataclass(frozen=True)
class Card:
    """Constants of the card, each divided by its polar inertia so that torques are angular accelerations."""

    magnet_per_t: float
    weight: float
    tilt_inertia: float
    tilt_drag: float
    spin_drag: float
    rub: float
    rub_speed_rad_s: float
    fluid_time_s: float
    stop_rad: float
    magnetism: Magnetism

    @classmethod
    def build(cls, given: Mapping[str, Any], effects: Effects) -> Card:
        """From the names and units of an instructor's compass; what is not given takes its default."""
        moment = given.get("moment_a_m2", 0.15)
        field_t = given.get("reference_field_ut", 19.0) * 1e-6
        period_s, damping = given.get("period_s", 8.0), given.get("damping", 0.7)
        ratio = given.get("tilt_inertia_ratio", 0.75)
        inertia = moment * field_t * period_s**2 / (4.0 * math.pi**2)
        vertical_t = field_t * math.tan(math.radians(given.get("reference_dip_deg", 67.0)))
        tilt_rad = math.radians(given.get("residual_tilt_deg", 2.0))
        weight = moment * vertical_t / math.tan(tilt_rad) - moment * field_t
        rub_rad = math.radians(given.get("friction_deg", 0.5)) if "friction" in effects else 0.0
        tilt_drag = 2.0 * given.get("tilt_damping", 0.7) * math.sqrt(ratio * inertia * weight)
        return cls(
            magnet_per_t=moment / inertia,
            weight=weight / inertia,
            tilt_inertia=ratio,
            tilt_drag=tilt_drag / inertia,
            spin_drag=2.0 * damping * math.sqrt(inertia * moment * field_t) / inertia,
            rub=moment * field_t * rub_rad / inertia,
            rub_speed_rad_s=math.radians(given.get("friction_speed_deg_s", 0.5)),
            fluid_time_s=given.get("fluid_time_s", 6.0),
            stop_rad=math.radians(given.get("tilt_stop_deg", 18.0)),
            magnetism=Magnetism.build(given.get("magnetism", {}), effects),
        )

    def spin(self, momentum: Vector, e3: Vector) -> Vector:
        """Angular velocity belonging to an angular momentum: the card is a body of revolution about e3."""
        along = dot(momentum, e3)
        return (momentum - along * e3) / self.tilt_inertia + along * e3

    def pull(self, e1: Vector, e3: Vector, field: Vector, felt: Vector, case_floor: Vector) -> Vector:
        """Torque of magnet, weight and tilt stop."""
        torque = self.magnet_per_t * cross(e1, field) + self.weight / GRAVITY_M_S2 * cross(e3, felt)
        axis = cross(e3, case_floor)
        sine = math.sqrt(dot(axis, axis))
        tilt_rad = math.atan2(sine, dot(e3, case_floor))
        if tilt_rad > self.stop_rad:
            torque = torque + 20.0 * self.weight * (tilt_rad - self.stop_rad) / sine * axis
        return torque

    def drag(self, spin: Vector, e3: Vector, fluid: Vector, case: Vector) -> Vector:
        """Torque of the fluid and of the pivot's friction."""
        slip = spin - fluid
        along = dot(slip, e3)
        rub = self.rub * math.tanh(dot(spin - case, e3) / self.rub_speed_rad_s)
        return -self.tilt_drag * (slip - along * e3) - (self.spin_drag * along + rub) * e3


def card_rates(card: Card, field: Vector, latitude: Latitude, effects: Effects) -> Rates:
    """The card's equations of motion."""
    swirl = "swirl" in effects

    def rates(segment: Segment, time_s: float, state: Vector) -> Vector:
        pose = segment.pose_at(time_s)
        e1, e3, momentum, fluid_spin = unit(state[0:3]), unit(state[3:6]), state[6:9], float(state[9])
        floor = pose.axes.floor
        case_yaw = dot(pose.rotation, floor)
        fluid = pose.rotation + ((fluid_spin if swirl else 0.0) - case_yaw) * floor
        spin = card.spin(momentum, e3)
        felt = apparent_gravity(pose, latitude(time_s), effects)
        torque = card.pull(e1, e3, card.magnetism.met(field, pose.axes), felt, floor)
        torque = torque + card.drag(spin, e3, fluid, pose.rotation)
        fluid_rate = (case_yaw - fluid_spin) / card.fluid_time_s
        return np.concatenate([cross(spin, state[0:3]), cross(spin, state[3:6]), torque, [fluid_rate]])

    return rates


def resting_card(card: Card, field: Vector, pose: Pose, latitude_rad: float, effects: Effects) -> Vector:
    """The state of a card that hangs still in the steady flight before the first leg."""
    met = card.magnetism.met(field, pose.axes)
    felt = apparent_gravity(pose, latitude_rad, effects)
    north_rad = math.atan2(float(met[1]), float(met[0]))

    def directions(turn: Vector) -> tuple[Vector, Vector]:
        attitude = Rotation.from_euler("z", north_rad) * Rotation.from_rotvec(turn)
        matrix = attitude.as_matrix()
        return matrix[:, 0], matrix[:, 2]

    def torque(turn: Vector) -> Vector:
        return card.pull(*directions(turn), met, felt, pose.axes.floor)

    found: Any = root(torque, np.zeros(3), tol=1e-13)
    e1, e3 = directions(found.x)
    if float(np.abs(torque(found.x)).max()) > 1e-9:
        raise RuntimeError("the card finds no rest before the first leg")
    return np.concatenate([e1, e3, np.zeros(4)])


def card_reading_deg(segment: Segment, time_s: float, state: Vector) -> float:
    """What stands under the lubber line [deg, compass]."""
    nose = segment.pose_at(time_s).axes.nose
    e1, e3 = state[0:3], state[3:6]
    return math.degrees(math.atan2(dot(nose, cross(e3, e1)), dot(nose, e1)))
