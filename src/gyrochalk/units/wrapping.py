"""Angles brought back to one turn, so that 359 and 001 are two degrees apart and never 358."""

from __future__ import annotations

import math
from typing import overload

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@overload
def wrap_360(angle_deg: float) -> float: ...
@overload
def wrap_360(angle_deg: Floats) -> Floats: ...
def wrap_360(angle_deg: float | Floats) -> float | Floats:
    """An angle as a heading: clockwise from north, never 360 itself.

    `angle_deg` any finite angle [deg], a number or an array of any shape; the result has the same shape and lies in
    [0, 360). A number that is not a number stays one.
    """
    if isinstance(angle_deg, np.ndarray):
        turned = np.fmod(angle_deg, 360.0)
        turned = np.where(turned < 0.0, turned + 360.0, turned)
        return np.where(turned >= 360.0, 0.0, turned) + 0.0
    turn = math.fmod(angle_deg, 360.0)
    if turn < 0.0:
        turn += 360.0
    return 0.0 if turn >= 360.0 else turn + 0.0


@overload
def wrap_180(angle_deg: float) -> float: ...
@overload
def wrap_180(angle_deg: Floats) -> Floats: ...
def wrap_180(angle_deg: float | Floats) -> float | Floats:
    """An angle as a difference of headings: the short way round, right positive.

    `angle_deg` any finite angle [deg], a number or an array of any shape; the result has the same shape and lies in
    [-180, 180). A number that is not a number stays one.
    """
    if isinstance(angle_deg, np.ndarray):
        turned = np.fmod(angle_deg, 360.0)
        turned = np.where(turned >= 180.0, turned - 360.0, turned)
        return np.where(turned < -180.0, turned + 360.0, turned) + 0.0
    turn = math.fmod(angle_deg, 360.0)
    if turn >= 180.0:
        return turn - 360.0
    return (turn + 360.0 if turn < -180.0 else turn) + 0.0
