"""The aircraft's own magnetism at a mounting place: soft iron scales the field, hard iron adds to it."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .motion import Effects
from .vectors import Triad, Vector, dot, vec


@dataclasses.dataclass(frozen=True)
class Magnetism:
    """Soft iron (3, 3) and hard iron (3) [T] in nose, wing, floor axes."""

    soft: NDArray[np.float64]
    hard: Vector

    @classmethod
    def build(cls, given: Mapping[str, Any], effects: Effects) -> Magnetism:
        """From `soft` (rows a b c, d e f, g h k) and `hard_ut` (P, Q, R)."""
        on = 1.0 if "deviation" in effects else 0.0
        soft: NDArray[np.float64] = on * np.array(given.get("soft", np.zeros((3, 3))), dtype=np.float64)
        return cls(soft, on * 1e-6 * np.array(given.get("hard_ut", (0.0, 0.0, 0.0)), dtype=np.float64))

    def in_body(self, field: Vector, axes: Triad) -> Vector:
        """The field met, in nose, wing, floor components [T]."""
        plain = vec(float(field @ axes.nose), float(field @ axes.wing), float(field @ axes.floor))
        drawn = vec(*(dot(row, plain) for row in self.soft))
        return plain + drawn + self.hard

    def met(self, field: Vector, axes: Triad) -> Vector:
        """The field met, in north-east-down components [T]."""
        x, y, z = (float(part) for part in self.in_body(field, axes))
        return x * axes.nose + y * axes.wing + z * axes.floor
