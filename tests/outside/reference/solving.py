"""Carrying a state through a flight with a general adaptive solver, started afresh at every corner."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

from .motion import Segment
from .vectors import Vector

Rates = Callable[[Segment, float, Vector], Vector]
RELATIVE = 1e-10
ABSOLUTE = 1e-12


@dataclasses.dataclass(frozen=True)
class Piece:
    """The state along one segment, as a continuous function of time."""

    segment: Segment
    start_s: float
    end_s: float
    state: Callable[[float], Vector]


@dataclasses.dataclass(frozen=True)
class Track:
    """The state along a whole flight."""

    pieces: Sequence[Piece]

    def piece_at(self, time_s: float) -> Piece:
        for piece in self.pieces:
            if time_s <= piece.end_s:
                return piece
        return self.pieces[-1]

    def __call__(self, time_s: float) -> Vector:
        return self.piece_at(time_s).state(time_s)

    def sampled(self, times_s: Vector, read: Callable[[Segment, float, Vector], Any]) -> Vector:
        """`read(segment, time, state)` at each of the times, as an array."""
        pieces = [self.piece_at(float(t)) for t in times_s]
        return np.array([read(p.segment, float(t), p.state(float(t))) for p, t in zip(pieces, times_s, strict=True)])


def solve_piece(
    rates: Rates,
    segment: Segment,
    start_s: float,
    state: Vector,
    stop: Callable[[float, Vector], float] | None = None,
) -> tuple[Piece, Vector]:
    """One segment from `start_s` to its end, or to where `stop` passes zero; with the state reached."""
    if stop is not None:
        stop.terminal = True  # type: ignore[attr-defined]
    solution: Any = solve_ivp(
        lambda t, y: rates(segment, t, y),
        (start_s, segment.end_s),
        state,
        method="LSODA",
        rtol=RELATIVE,
        atol=ABSOLUTE,
        dense_output=True,
        events=stop,
    )
    if not solution.success:
        raise RuntimeError(f"the reference solver stopped at {solution.t[-1]} s: {solution.message}")
    return Piece(segment, start_s, float(solution.t[-1]), solution.sol), np.asarray(solution.y[:, -1])


def solve_flight(rates: Rates, segments: Sequence[Segment], state: Vector) -> Track:
    """The whole flight, segment by segment."""
    pieces = []
    for segment in segments:
        if segment.duration_s > 0.0:
            piece, state = solve_piece(rates, segment, segment.start_s, state)
            pieces.append(piece)
    return Track(pieces)
