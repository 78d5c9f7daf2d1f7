"""A smooth curve through noisy samples: a penalised B-spline that outliers do not pull about.

The curve s minimises Σ w (y − s)²/σ² + (1/q) ∫ (s''')² dt + (1/r) ∫ (s'')² dt: q and r say how rough the true motion
may be (r keeps the ends quiet), σ is the noise found in the samples themselves, and the weights w fall with the size of
a sample's own residual (Cauchy). Samples of
the curve and of its slope may be given together. Every system is banded, so long flights take milliseconds.
"""

from __future__ import annotations

import dataclasses

import numpy as np
import scipy.sparse
from numpy.typing import NDArray
from scipy.interpolate import BSpline, PPoly
from scipy.linalg import solveh_banded

Floats = NDArray[np.float64]

ROUNDS = 6
OUTLIER_SIGMA = 3.0
SIGMA_OF_MEDIAN = 1.4826


@dataclasses.dataclass(frozen=True, eq=False)
class Samples:
    """Values of a curve (`slope` False) or of its slope at times [s].

    `floor` is the least noise they can have; `scale` what the curve (or slope) is multiplied by to give the values.
    """

    time_s: Floats
    values: Floats
    floor: float
    slope: bool = False
    scale: Floats | float = 1.0


@dataclasses.dataclass(frozen=True, slots=True)
class Roughness:
    """How rough a true motion may be: `third` is q in (unit/s³)² s, `second` is r in (unit/s²)² s."""

    third: float
    second: float


@dataclasses.dataclass(frozen=True, slots=True)
class Grid:
    """Evenly spaced knots from 0 to the end of a flight: `pieces` intervals of `step_s`."""

    step_s: float
    pieces: int

    def knots(self) -> Floats:
        """(pieces + 1,) times [s]."""
        return self.step_s * np.arange(self.pieces + 1, dtype=np.float64)

    def extended(self, degree: int) -> Floats:
        """The knots with `degree` more on each side, as a B-spline needs."""
        return self.step_s * np.arange(-degree, self.pieces + degree + 1, dtype=np.float64)


def smooth_curve(samples: list[Samples], grid: Grid, degree: int, roughness: Roughness) -> BSpline:
    """The smooth curve of `degree` through all samples; `roughness` in the unit of the curve."""
    designs = [_design(part, grid, degree) for part in samples]
    penalty = _penalty(grid, degree, roughness)
    sigma = [max(part.floor, 1e-9) * 3.0 for part in samples]
    weights = [np.ones_like(part.values) for part in samples]
    coefficients = np.zeros(grid.pieces + degree)
    for _ in range(ROUNDS):
        coefficients = _solve(samples, designs, sigma, weights, penalty)
        for index, (part, design) in enumerate(zip(samples, designs, strict=True)):
            residual = part.values - design @ coefficients
            spread = float(np.median(np.abs(residual))) * SIGMA_OF_MEDIAN
            sigma[index] = max(part.floor, spread)
            weights[index] = 1.0 / (1.0 + (residual / (OUTLIER_SIGMA * sigma[index])) ** 2)
    return BSpline(grid.extended(degree), coefficients, degree)


def pieces_of(curve: BSpline, grid: Grid) -> Floats:
    """(degree + 1, pieces) coefficients of a B-spline on the grid's intervals, highest power first."""
    degree = int(curve.k)
    pieces: Floats = np.asarray(PPoly.from_spline((curve.t, curve.c, degree)).c, dtype=np.float64)
    return np.ascontiguousarray(pieces[:, degree : degree + grid.pieces])


def _design(part: Samples, grid: Grid, degree: int) -> scipy.sparse.csr_array:
    knots = grid.extended(degree)
    inside = np.clip(part.time_s, 0.0, grid.step_s * grid.pieces)
    if not part.slope:
        rows = scipy.sparse.csr_array(BSpline.design_matrix(inside, knots, degree))
    else:
        lower = scipy.sparse.csr_array(BSpline.design_matrix(inside, knots[1:-1], degree - 1))
        rows = scipy.sparse.csr_array(lower @ _differences(grid.pieces + degree, 1) / grid.step_s)
    scale = np.broadcast_to(np.asarray(part.scale, dtype=np.float64), part.values.shape)
    return scipy.sparse.csr_array(scipy.sparse.diags_array(scale) @ rows)


def _differences(size: int, order: int) -> scipy.sparse.csr_array:
    matrix = scipy.sparse.eye_array(size, format="csr")
    for _ in range(order):
        matrix = scipy.sparse.csr_array(matrix[1:] - matrix[:-1])
    return scipy.sparse.csr_array(matrix)


def _penalty(grid: Grid, degree: int, roughness: Roughness) -> scipy.sparse.csr_array:
    third, second = (_differences(grid.pieces + degree, order) for order in (3, 2))
    on_third = third.T @ third / (roughness.third * grid.step_s**5)
    return scipy.sparse.csr_array(on_third + second.T @ second / (roughness.second * grid.step_s**3))


def _solve(
    samples: list[Samples],
    designs: list[scipy.sparse.csr_array],
    sigma: list[float],
    weights: list[Floats],
    penalty: scipy.sparse.csr_array,
) -> Floats:
    normal = penalty
    right = np.zeros(penalty.shape[0])
    for part, design, noise, weight in zip(samples, designs, sigma, weights, strict=True):
        weighted = scipy.sparse.csr_array(design.T @ scipy.sparse.diags_array(weight / noise**2))
        normal = scipy.sparse.csr_array(normal + weighted @ design)
        right += weighted @ part.values
    width = min(8, penalty.shape[0])
    banded = np.zeros((width, penalty.shape[0]))
    for offset in range(width):
        banded[offset, : penalty.shape[0] - offset] = normal.diagonal(offset)
    banded[0] += 1e-12 * banded[0].max()
    solved: Floats = solveh_banded(banded, right, lower=True)
    return solved
