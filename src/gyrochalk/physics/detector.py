"""The flux detector: a damped pendulum, the plane it lies in, and the direction its lines report.

θ'' + 2ζω θ' + ω²(θ − θ_apparent) = 0 for each axis, angles from the case; the field is taken in the pendulum's own
plane, and an electrical map (identity when sound) stands between that field and what the lines report.
"""

from __future__ import annotations

import math

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.iron import into_body, with_iron
from gyrochalk.physics.motion import Vector
from gyrochalk.physics.vectors import clamp, cross, dot, norm, scaled
from gyrochalk.physics.world import (
    SET_DETECTOR_LOAD_X,
    SET_DETECTOR_LOAD_Y,
    SET_DETECTOR_LOAD_Z,
    SET_DISTURBANCE_DOWN,
    SET_DISTURBANCE_EAST,
    SET_DISTURBANCE_NORTH,
    SET_LEGS_11,
    SET_LEGS_12,
    SET_LEGS_21,
    SET_LEGS_22,
    Floats,
    Pendulum,
)


@kernel
def hanging_angles(gravity_body: Vector, pendulum: Pendulum) -> tuple[float, float]:
    """Lateral and longitudinal angles [rad] at which the pendulum would rest, within its freedom."""
    lateral = math.atan2(gravity_body[1], gravity_body[2])
    longitudinal = math.atan2(gravity_body[0], gravity_body[2])
    return clamp(lateral, pendulum.freedom), clamp(longitudinal, pendulum.freedom)


@kernel
def plane_axes(lateral: float, longitudinal: float, pendulum: Pendulum) -> tuple[Vector, Vector, Vector]:
    """Detector axes in body axes: x (the nose projected on its plane), y, and the plane's down normal."""
    tan_lateral = math.tan(clamp(lateral, pendulum.freedom))
    tan_longitudinal = math.tan(clamp(longitudinal, pendulum.freedom))
    length = math.sqrt(1.0 + tan_lateral * tan_lateral + tan_longitudinal * tan_longitudinal)
    normal = (tan_longitudinal / length, tan_lateral / length, 1.0 / length)
    flat = (1.0 - normal[0] * normal[0], -normal[0] * normal[1], -normal[0] * normal[2])
    x = scaled(flat, 1.0 / norm(flat))
    return x, cross(normal, x), normal


@kernel
def level_axes(nose: Vector, wing: Vector, down: Vector) -> tuple[Vector, Vector, Vector]:
    """The same axes, in body axes, of a detector whose plane is kept level."""
    normal = (nose[2], wing[2], down[2])
    flat = (1.0 - normal[0] * normal[0], -normal[0] * normal[1], -normal[0] * normal[2])
    x = scaled(flat, 1.0 / norm(flat))
    return x, cross(normal, x), normal


@kernel
def reported_field(
    lateral: float,
    longitudinal: float,
    field: Vector,
    nose: Vector,
    wing: Vector,
    down: Vector,
    settings: Floats,
    pendulum: Pendulum,
) -> tuple[float, float]:
    """The field along and across the detector [T] as its lines report it.

    `field` the Earth's field NED [T]; lateral and longitudinal the pendulum's angles [rad].
    """
    disturbed = (
        field[0] + settings[SET_DISTURBANCE_NORTH],
        field[1] + settings[SET_DISTURBANCE_EAST],
        field[2] + settings[SET_DISTURBANCE_DOWN],
    )
    load = (settings[SET_DETECTOR_LOAD_X], settings[SET_DETECTOR_LOAD_Y], settings[SET_DETECTOR_LOAD_Z])
    inside = with_iron(into_body(disturbed, nose, wing, down), pendulum.iron, load)
    if pendulum.tilt == 0.0:
        x, y, _ = level_axes(nose, wing, down)
    else:
        x, y, _ = plane_axes(lateral, longitudinal, pendulum)
    along, across = dot(inside, x), dot(inside, y)
    return (
        settings[SET_LEGS_11] * along + settings[SET_LEGS_12] * across,
        settings[SET_LEGS_21] * along + settings[SET_LEGS_22] * across,
    )


@kernel
def field_heading(along: float, across: float) -> float:
    """Heading [rad] that a field along and across the detector means: the nose is −(field's bearing) from north."""
    return math.atan2(-across, along)


@kernel
def plane_down(
    lateral: float, longitudinal: float, nose: Vector, wing: Vector, down: Vector, pendulum: Pendulum
) -> Vector:
    """The down normal, in body axes, of the plane the detector lies in."""
    if pendulum.tilt == 0.0:
        return nose[2], wing[2], down[2]
    _, _, normal = plane_axes(lateral, longitudinal, pendulum)
    return normal


@kernel
def plane_tilt(
    lateral: float, longitudinal: float, nose: Vector, wing: Vector, down: Vector, pendulum: Pendulum
) -> float:
    """Angle [rad] between the detector's plane and the horizontal."""
    if pendulum.tilt == 0.0:
        return 0.0
    _, _, normal = plane_axes(lateral, longitudinal, pendulum)
    vertical = (nose[2], wing[2], down[2])
    return math.atan2(norm(cross(normal, vertical)), dot(normal, vertical))
