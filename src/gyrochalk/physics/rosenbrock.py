"""One step of RODAS4, a stiffly accurate Rosenbrock method of order 4(3) with dense output of order 3.

Method and coefficients: E. Hairer and G. Wanner, Solving Ordinary Differential Equations II, section IV.10 (from
memory; `tests/physics/test_rosenbrock.py` verifies the order by convergence). The Jacobian is taken by differences.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.world import Floats, Ints

STAGES = 6
GAMMA = 0.25
C = np.array([0.0, 0.386, 0.21, 0.63, 1.0, 1.0])
D = np.array([0.25, -0.1043, 0.1035, -0.0362, 0.0, 0.0])
A = np.array(
    [
        [0.0, 0.0, 0.0, 0.0],
        [1.544, 0.0, 0.0, 0.0],
        [0.9466785280815826, 0.2557011698983284, 0.0, 0.0],
        [3.314825187068521, 2.896124015972201, 0.9986419139977817, 0.0],
        [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950],
    ]
)
G = np.array(
    [
        [0.0, 0.0, 0.0, 0.0, 0.0],
        [-5.6688, 0.0, 0.0, 0.0, 0.0],
        [-2.430093356833875, -0.2063599157091915, 0.0, 0.0, 0.0],
        [-0.1073529058151375, -9.594562251023355, -20.47028614809616, 0.0, 0.0],
        [7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160, 0.0],
        [8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054],
    ]
)
H = np.array(
    [
        [10.12623508344586, -7.487995877610167, -34.80091861555747, -7.992771707568823, 1.025137723295662],
        [-0.6762803392801253, 6.087714651680015, 16.43084320892478, 24.76722511418386, -6.594389125716872],
    ]
)

# Rows of the work array.
W_SLOPE, W_TRIAL, W_RIGHT, W_TIME_SLOPE, W_NEW, W_DENSE_1, W_DENSE_2, W_OTHER = 6, 7, 8, 9, 10, 11, 12, 13
WORK_ROWS = 14


@kernel
def factorise(matrix: Floats, pivots: Ints) -> bool:
    """LU factors of a small matrix in place, rows exchanged as noted in `pivots`; False if it is singular."""
    n = matrix.shape[0]
    for k in range(n):
        best = k
        for i in range(k + 1, n):
            if abs(matrix[i, k]) > abs(matrix[best, k]):
                best = i
        pivots[k] = best
        if not abs(matrix[best, k]) > 0.0:
            return False
        if best != k:
            for j in range(n):
                matrix[k, j], matrix[best, j] = matrix[best, j], matrix[k, j]
        for i in range(k + 1, n):
            if matrix[i, k] != 0.0:
                matrix[i, k] /= matrix[k, k]
                for j in range(k + 1, n):
                    matrix[i, j] -= matrix[i, k] * matrix[k, j]
    return True


@kernel
def solve(factors: Floats, pivots: Ints, right: Floats) -> None:
    """Solve with the factors of `factorise`, the answer in place of `right`."""
    n = factors.shape[0]
    for k in range(n):
        other = pivots[k]
        if other != k:
            right[k], right[other] = right[other], right[k]
    for k in range(n):
        for i in range(k + 1, n):
            right[i] -= factors[i, k] * right[k]
    for k in range(n - 1, -1, -1):
        for j in range(k + 1, n):
            right[k] -= factors[k, j] * right[j]
        right[k] /= factors[k, k]


def linearise_for(around: Callable[..., Any], slope: Callable[..., None]) -> Callable[..., None]:
    """The kernel that linearises a set of equations.

    `around(t, leg, settings, model)` is what does not depend on the state, worked out once for all columns of the
    Jacobian; `slope(y, dy, surroundings, settings, model)` writes the derivative. A kernel is made for each set of
    equations, because compiled code that takes a function as argument cannot be kept on disk.
    """

    @kernel
    def linearise(
        t: float,
        y: Floats,
        leg: int,
        settings: Floats,
        model: Any,
        scale: Floats,
        ahead: float,
        work: Floats,
        jacobian: Floats,
    ) -> None:
        """Write f, ∂f/∂t and ∂f/∂y at (t, y) into `work` and `jacobian`, by forward differences."""
        n = y.shape[0]
        f, trial, other = work[W_SLOPE], work[W_TRIAL], work[W_OTHER]
        here = around(t, leg, settings, model)
        slope(y, f, here, settings, model)
        slope(y, other, around(t + ahead, leg, settings, model), settings, model)
        for i in range(n):
            work[W_TIME_SLOPE, i] = (other[i] - f[i]) / ahead
            trial[i] = y[i]
        for j in range(n):
            shift = 1e-7 * scale[j]
            trial[j] = y[j] + shift
            slope(trial, other, here, settings, model)
            trial[j] = y[j]
            for i in range(n):
                jacobian[i, j] = (other[i] - f[i]) / shift

    return linearise


def step_for(around: Callable[..., Any], slope: Callable[..., None]) -> Callable[..., bool]:
    """The kernel that takes one trial step of the equations `around` and `slope`, as for `linearise_for`."""

    @kernel
    def rosenbrock_step(
        t: float,
        y: Floats,
        step: float,
        leg: int,
        settings: Floats,
        model: Any,
        work: Floats,
        jacobian: Floats,
        matrix: Floats,
        pivots: Ints,
    ) -> bool:
        """One trial step from (t, y): the new state, the error estimate (stage 6) and dense vectors in `work`.

        Needs `linearise` at (t, y) before it. Returns False if the step's matrix is singular.
        """
        n = y.shape[0]
        for i in range(n):
            for j in range(n):
                matrix[i, j] = -jacobian[i, j]
            matrix[i, i] += 1.0 / (step * GAMMA)
        if not factorise(matrix, pivots):
            return False
        trial, right, other = work[W_TRIAL], work[W_RIGHT], work[W_OTHER]
        there = around(t + step, leg, settings, model)
        for stage in range(STAGES):
            if stage == 0:
                for i in range(n):
                    right[i] = work[W_SLOPE, i]
            else:
                for i in range(n):
                    if stage < 5:
                        total = y[i]
                        for k in range(stage):
                            total += A[stage, k] * work[k, i]
                        trial[i] = total
                    else:
                        trial[i] += work[4, i]
                if stage < 4:
                    slope(trial, other, around(t + C[stage] * step, leg, settings, model), settings, model)
                else:
                    slope(trial, other, there, settings, model)
                for i in range(n):
                    right[i] = other[i]
                    for k in range(stage):
                        right[i] += G[stage, k] / step * work[k, i]
            for i in range(n):
                right[i] += step * D[stage] * work[W_TIME_SLOPE, i]
            solve(matrix, pivots, right)
            for i in range(n):
                work[stage, i] = right[i]
        for i in range(n):
            work[W_NEW, i] = trial[i] + work[5, i]
        return True

    return rosenbrock_step


@kernel
def prepare_dense(work: Floats) -> None:
    """Write the two dense-output vectors of the step just taken."""
    n = work.shape[1]
    for i in range(n):
        one, two = 0.0, 0.0
        for k in range(5):
            one += H[0, k] * work[k, i]
            two += H[1, k] * work[k, i]
        work[W_DENSE_1, i] = one
        work[W_DENSE_2, i] = two


@kernel
def dense(y: Floats, work: Floats, part: float, out: Floats) -> None:
    """The state at `part` (0..1) of the step just taken from `y`, written into `out`."""
    rest = 1.0 - part
    for i in range(y.shape[0]):
        curve = work[W_NEW, i] + rest * (work[W_DENSE_1, i] + part * work[W_DENSE_2, i])
        out[i] = y[i] * rest + part * curve


@kernel
def error_ratio(work: Floats, tolerance: Floats) -> float:
    """The greatest error estimate of the step over its tolerance; infinite if anything is not a number."""
    worst = 0.0
    for i in range(tolerance.shape[0]):
        ratio = abs(work[5, i]) / tolerance[i]
        if not math.isfinite(ratio) or not math.isfinite(work[W_NEW, i]):
            return math.inf
        worst = max(worst, ratio)
    return worst
