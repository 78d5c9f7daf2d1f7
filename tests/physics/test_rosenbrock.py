"""The integrator: its order by halving the step, its dense output, its solver of small systems."""

from __future__ import annotations

import functools
import itertools
import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import OdeSolution, solve_ivp

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.rosenbrock import (
    W_NEW,
    WORK_ROWS,
    dense,
    factorise,
    linearise_for,
    prepare_dense,
    solve,
    step_for,
)

Floats = NDArray[np.float64]
END_S = 2.0
START = np.array([2.0, 0.0])


@kernel
def around(t: float, leg: int, settings: Floats, model: float) -> float:
    """What drives the oscillator at a time."""
    return math.cos(3.0 * t)


@kernel
def slope(y: Floats, dy: Floats, drive: float, settings: Floats, model: float) -> None:
    """A driven relaxation oscillator: nonlinear, dependent on time, the stiffer the greater `model`."""
    dy[0] = y[1]
    dy[1] = model * (1.0 - y[0] * y[0]) * y[1] - y[0] + drive


linearise, rosenbrock_step = linearise_for(around, slope), step_for(around, slope)


@functools.cache
def solution(stiffness: float) -> OdeSolution:
    """The oscillator's motion by scipy, far more exactly than is compared here."""

    def rates(t: float, y: Floats) -> list[float]:
        return [y[1], stiffness * (1.0 - y[0] * y[0]) * y[1] - y[0] + math.cos(3.0 * t)]

    found = solve_ivp(rates, (0.0, END_S), START, method="DOP853", rtol=1e-13, atol=1e-14, dense_output=True)
    assert found.success
    assert found.sol is not None
    return found.sol


def exact(t: float, stiffness: float = 6.0) -> Floats:
    """The state at a time."""
    return np.asarray(solution(stiffness)(t))


class Solver:
    """The arrays a step needs."""

    def __init__(self, stiffness: float = 6.0) -> None:
        self.work, self.jacobian, self.matrix = np.empty((WORK_ROWS, 2)), np.empty((2, 2)), np.empty((2, 2))
        self.pivots, self.settings, self.stiffness = np.empty(2, np.int64), np.empty(0), stiffness

    def step(self, t: float, y: Floats, step_s: float) -> Floats:
        """The state a step later."""
        model = self.stiffness
        linearise(t, y, 0, self.settings, model, np.ones(2), 1e-7, self.work, self.jacobian)
        sound = rosenbrock_step(
            t, y, step_s, 0, self.settings, model, self.work, self.jacobian, self.matrix, self.pivots
        )  # fmt: skip
        assert sound
        return np.asarray(self.work[W_NEW].copy())


def error_after(steps: int) -> float:
    """Error at the end of so many equal steps."""
    solver, y = Solver(), START
    for k in range(steps):
        y = solver.step(k * END_S / steps, y, END_S / steps)
    return float(np.max(np.abs(y - exact(END_S))))


def orders(errors: list[float]) -> list[float]:
    """The order each halving of the step shows."""
    return [math.log2(a / b) for a, b in itertools.pairwise(errors)]


def test_halving_the_step_divides_the_error_by_sixteen() -> None:
    errors = [error_after(steps) for steps in (25, 50, 100, 200)]
    print("errors", errors, "orders", orders(errors))
    assert min(orders(errors)) >= 3.8


def test_a_step_far_longer_than_a_fast_transient_damps_it() -> None:
    """L-stability: at a stiffness of 1e6 a speed of 1 dies within microseconds; a step of 0.01 s must not keep it."""
    after = Solver(1e6).step(0.0, np.array([2.0, 1.0]), 0.01)
    assert abs(after[1]) < 1e-3
    assert after[0] == pytest.approx(2.0, abs=1e-3)


def test_dense_output_has_order_three() -> None:
    """Between its ends a step's error falls with the fourth power of its length, as an order-3 formula's does."""
    worst = []
    for step_s in (0.02, 0.01, 0.005):
        solver, out, y = Solver(), np.empty(2), exact(0.3)
        solver.step(0.3, y, step_s)
        prepare_dense(solver.work)
        apart = []
        for part in np.linspace(0.0, 1.0, 21).tolist():
            dense(y, solver.work, part, out)
            apart.append(float(np.max(np.abs(out - exact(0.3 + part * step_s)))))
        worst.append(max(apart))
        assert apart[0] == 0.0
    print("dense errors", worst, "orders", orders(worst))
    assert min(orders(worst)) >= 3.8


def test_dense_output_ends_where_the_step_ends() -> None:
    solver, out, y = Solver(), np.empty(2), START
    after = solver.step(0.0, y, 0.05)
    prepare_dense(solver.work)
    dense(y, solver.work, 1.0, out)
    np.testing.assert_allclose(out, after, rtol=0.0, atol=1e-15)


@pytest.mark.parametrize("size", [1, 2, 3, 8, 9])
def test_small_systems_are_solved_as_numpy_solves_them(size: int) -> None:
    draw = np.random.default_rng(size)
    for _ in range(20):
        matrix, right = draw.normal(size=(size, size)), draw.normal(size=size)
        expected = np.linalg.solve(matrix, right)
        pivots = np.empty(size, np.int64)
        assert factorise(matrix, pivots)
        solve(matrix, pivots, right)
        np.testing.assert_allclose(right, expected, rtol=1e-9, atol=1e-11)


def test_a_leading_zero_is_pivoted_away_and_a_singular_matrix_is_told() -> None:
    matrix, right, pivots = np.array([[0.0, 2.0], [4.0, 1.0]]), np.array([2.0, 5.0]), np.empty(2, np.int64)
    assert factorise(matrix, pivots)
    solve(matrix, pivots, right)
    np.testing.assert_allclose(right, [1.0, 1.0])
    assert not factorise(np.array([[1.0, 2.0], [2.0, 4.0]]), pivots)
