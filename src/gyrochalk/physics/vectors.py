"""Small vectors as tuples, so that kernels allocate nothing."""

from __future__ import annotations

import math

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.motion import Vector

TAU = 2.0 * math.pi


@kernel
def dot(a: Vector, b: Vector) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


@kernel
def cross(a: Vector, b: Vector) -> Vector:
    """Vector product a × b."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


@kernel
def scaled(a: Vector, factor: float) -> Vector:
    """`a` times `factor`."""
    return a[0] * factor, a[1] * factor, a[2] * factor


@kernel
def norm(a: Vector) -> float:
    """Length of `a`."""
    return math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2])


@kernel
def half_turn(angle: float) -> float:
    """`angle` [rad] wrapped to [−π, π)."""
    wrapped = angle - TAU * math.floor((angle + math.pi) / TAU)
    return wrapped - TAU if wrapped >= math.pi else wrapped


@kernel
def clamp(value: float, limit: float) -> float:
    """`value` kept within ±`limit`."""
    return min(max(value, -limit), limit)
