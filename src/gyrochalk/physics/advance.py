"""From one change of settings to the next: adaptive steps, samples by dense output, crossings found on the way."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.rosenbrock import (
    W_NEW,
    dense,
    error_ratio,
    linearise_for,
    prepare_dense,
    step_for,
)
from gyrochalk.physics.world import Floats, Ints

DONE = 0
CROSSED = 1
STEP_TOO_SMALL = 2
SHORTEST_STEP = 1e-9
"""A step [s] below which the integration gives up with the status STEP_TOO_SMALL."""

# Places in the `journey` array (numbers that go on from one interval to the next).
J_TIME, J_STEP, J_SAMPLE, J_TAKEN, J_REJECTED, J_WHICH = range(6)
JOURNEY = 6


@kernel
def crossed(before: Floats, after: Floats) -> int:
    """Index of the first guard that went from below zero to zero or above, else −1."""
    for k in range(before.shape[0]):
        if before[k] < 0.0 and after[k] >= 0.0:
            return k
    return -1


def crossing_finder(guard: Callable[..., None]) -> Callable[..., float]:
    """The kernel that finds when a guard is crossed within a step."""

    @kernel
    def find_crossing(
        t: float,
        step: float,
        y: Floats,
        leg: int,
        settings: Floats,
        model: Any,
        work: Floats,
        state: Floats,
        before: Floats,
        now: Floats,
    ) -> float:
        """Part (0..1) of the step just taken at which the first guard crosses, by bisection to 1e-9 s."""
        low, high = 0.0, 1.0
        while (high - low) * step > 1e-9:
            middle = 0.5 * (low + high)
            dense(y, work, middle, state)
            guard(t + middle * step, state, leg, settings, model, now)
            if crossed(before, now) >= 0:
                high = middle
            else:
                low = middle
        return high

    return find_crossing


@kernel
def keep_samples(
    t: float, step: float, part: float, y: Floats, work: Floats, samples: Floats, journey: Floats, out: Floats
) -> None:
    """Write the states at the sample times up to `part` of the step into `out`."""
    index = int(journey[J_SAMPLE])
    n = y.shape[0]
    end = t + part * step
    while index < samples.shape[0] and samples[index] <= end:
        dense(y, work, (samples[index] - t) / step, out[index, :n])
        index += 1
    journey[J_SAMPLE] = index


def advance_for(
    around: Callable[..., Any], slope: Callable[..., None], guard: Callable[..., None], tidy: Callable[..., None]
) -> Callable[..., int]:
    """The kernel that integrates one set of equations.

    `around` and `slope` give derivatives, as for `linearise_for`; `guard(t, y, leg, settings, model, values)` the
    functions whose upward zero crossing interrupts, `tidy(y)` renormalises after each step.
    """
    linearise, rosenbrock_step = linearise_for(around, slope), step_for(around, slope)
    find_crossing = crossing_finder(guard)

    @kernel
    def advance(
        end: float,
        y: Floats,
        leg: int,
        settings: Floats,
        model: Any,
        scale: Floats,
        tolerance: Floats,
        longest: float,
        samples: Floats,
        out: Floats,
        journey: Floats,
        work: Floats,
        jacobian: Floats,
        matrix: Floats,
        pivots: Ints,
        before: Floats,
        now: Floats,
    ) -> int:
        """Integrate y from `journey[J_TIME]` to `end` within one leg and one row of settings.

        A crossed guard returns CROSSED and its number in `journey[J_WHICH]`. `tolerance` (n,) bounds the error of one
        step, `longest` [s] the step itself.
        """
        guard(journey[J_TIME], y, leg, settings, model, before)
        while journey[J_TIME] < end:
            t = journey[J_TIME]
            left = end - t
            step = min(journey[J_STEP], longest, left)
            if left - step < 1e-3 * step:
                step = left
            ahead = min(1e-4, 0.01 * step)
            linearise(t, y, leg, settings, model, scale, ahead, work, jacobian)
            while True:
                sound = rosenbrock_step(t, y, step, leg, settings, model, work, jacobian, matrix, pivots)
                ratio = error_ratio(work, tolerance) if sound else 1e9
                factor = min(6.0, max(0.15, 0.9 / max(ratio, 1e-12) ** 0.25))
                if ratio <= 1.0:
                    break
                journey[J_REJECTED] += 1.0
                step *= factor
                if step < SHORTEST_STEP:
                    return STEP_TOO_SMALL
            journey[J_TAKEN] += 1.0
            if step < left or factor < 1.0:
                journey[J_STEP] = step * factor
            else:
                journey[J_STEP] = max(journey[J_STEP], step * factor)
            prepare_dense(work)
            part, which = 1.0, -1
            guard(t + step, work[W_NEW], leg, settings, model, now)
            which = crossed(before, now)
            state = work[7]
            if which >= 0:
                part = find_crossing(t, step, y, leg, settings, model, work, state, before, now)
            keep_samples(t, step, part, y, work, samples, journey, out)
            if which >= 0:
                dense(y, work, part, state)
                for i in range(y.shape[0]):
                    y[i] = state[i]
                journey[J_TIME] = t + part * step
                journey[J_WHICH] = which
                tidy(y)
                return CROSSED
            for i in range(y.shape[0]):
                y[i] = work[W_NEW, i]
            before[:] = now
            tidy(y)
            journey[J_TIME] = end if step == left else t + step
        return DONE

    return advance
