"""The aircraft's own magnetism at a mounting place: B' = (I + S)·B_body + h, and the exact deviation it causes.

λ = 1 + (a+e)/2; A = (d−b)/2λ; B = (P+cZ)/λH; C = (Q+fZ)/λH; D = (a−e)/2λ; E = (b+d)/2λ.
"""

from __future__ import annotations

import math

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.motion import Vector
from gyrochalk.physics.vectors import dot
from gyrochalk.physics.world import Floats


@kernel
def with_iron(field_body: Vector, iron: Floats, load: Vector) -> Vector:
    """The field [T] at a mounting place, body axes: soft and hard iron and switched loads added."""
    x, y, z = field_body
    return (
        iron[0, 0] * x + iron[0, 1] * y + iron[0, 2] * z + iron[3, 0] + load[0],
        iron[1, 0] * x + iron[1, 1] * y + iron[1, 2] * z + iron[3, 1] + load[1],
        iron[2, 0] * x + iron[2, 1] * y + iron[2, 2] * z + iron[3, 2] + load[2],
    )


@kernel
def into_body(v: Vector, nose: Vector, wing: Vector, down: Vector) -> Vector:
    """A vector in NED given in body axes."""
    return dot(v, nose), dot(v, wing), dot(v, down)


@kernel
def out_of_body(v: Vector, nose: Vector, wing: Vector, down: Vector) -> Vector:
    """A vector in body axes given in NED."""
    return (
        v[0] * nose[0] + v[1] * wing[0] + v[2] * down[0],
        v[0] * nose[1] + v[1] * wing[1] + v[2] * down[1],
        v[0] * nose[2] + v[1] * wing[2] + v[2] * down[2],
    )


def coefficients(
    iron: Floats, horizontal_t: float, vertical_t: float
) -> tuple[float, float, float, float, float, float]:
    """λ and the exact coefficients A, B, C, D, E (as ratios, not degrees) of a mounting place in a level aircraft.

    `iron` (4, 3) as in `world.Card`; `horizontal_t`, `vertical_t` the Earth's H and Z [T].
    """
    a, b, c = iron[0, 0] - 1.0, iron[0, 1], iron[0, 2]
    d, e, f = iron[1, 0], iron[1, 1] - 1.0, iron[1, 2]
    lam = 1.0 + (a + e) / 2.0
    scale = lam * horizontal_t
    return (
        lam,
        (d - b) / (2.0 * lam),
        (iron[3, 0] + c * vertical_t) / scale,
        (iron[3, 1] + f * vertical_t) / scale,
        (a - e) / (2.0 * lam),
        (b + d) / (2.0 * lam),
    )


def exact_deviation(heading: float, a: float, b: float, c: float, d: float, e: float) -> float:
    """Deviation δ [rad], heading minus compass heading, on magnetic heading `heading` [rad], from exact coefficients.

    tan δ = (A + B sin z + C cos z + D sin 2z + E cos 2z)/(1 + B cos z − C sin z + D cos 2z − E sin 2z).
    """
    s, k, s2, k2 = math.sin(heading), math.cos(heading), math.sin(2.0 * heading), math.cos(2.0 * heading)
    return math.atan2(a + b * s + c * k + d * s2 + e * k2, 1.0 + b * k - c * s + d * k2 - e * s2)
