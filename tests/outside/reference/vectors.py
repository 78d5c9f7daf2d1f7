"""Three-vectors in north-east-down axes, and the directions an aircraft's axes point in."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]

DOWN: Vector = np.array([0.0, 0.0, 1.0])


class Triad(NamedTuple):
    """Directions of nose, right wing and floor [unit vectors, NED]; `level_wing` is the wing before banking."""

    nose: Vector
    wing: Vector
    floor: Vector
    level_wing: Vector


def vec(x: float, y: float, z: float) -> Vector:
    """Three numbers as a vector."""
    return np.array([x, y, z])


def cross(a: Vector, b: Vector) -> Vector:
    """Vector product a × b."""
    a1, a2, a3 = a.tolist()
    b1, b2, b3 = b.tolist()
    return np.array([a2 * b3 - a3 * b2, a3 * b1 - a1 * b3, a1 * b2 - a2 * b1])


def dot(a: Vector, b: Vector) -> float:
    """Scalar product a · b."""
    return float(a.dot(b))


def unit(a: Vector) -> Vector:
    """The vector shortened to length one."""
    return a / math.sqrt(dot(a, a))


def triad(heading_rad: float, pitch_rad: float, bank_rad: float) -> Triad:
    """Where nose, right wing and floor point: heading first, then the nose up, then the right wing down."""
    cos_h, sin_h = math.cos(heading_rad), math.sin(heading_rad)
    cos_p, sin_p = math.cos(pitch_rad), math.sin(pitch_rad)
    nose = vec(cos_p * cos_h, cos_p * sin_h, -sin_p)
    level_wing = vec(-sin_h, cos_h, 0.0)
    level_floor = vec(sin_p * cos_h, sin_p * sin_h, cos_p)
    cos_b, sin_b = math.cos(bank_rad), math.sin(bank_rad)
    return Triad(nose, cos_b * level_wing + sin_b * level_floor, cos_b * level_floor - sin_b * level_wing, level_wing)


def wrap_180_deg(angle_deg: Vector | float) -> Vector:
    """Angles brought into [-180, 180) degrees."""
    return np.asarray((np.asarray(angle_deg) + 180.0) % 360.0 - 180.0)
