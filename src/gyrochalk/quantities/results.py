"""In which unit the result of a reducer is stated."""

from __future__ import annotations

import dataclasses
from fractions import Fraction

from gyrochalk.units import UNITS


@dataclasses.dataclass(frozen=True, slots=True)
class Scale:
    """A unit made of a channel's unit and seconds: stated in `unit`, one of them is `factor` of `base`."""

    unit: str
    base: str
    factor: Fraction


PER_SECOND: dict[str, Scale] = {
    "deg": Scale("deg/h", "deg/s", Fraction(1)),
    "ft": Scale("ft/min", "ft/min", Fraction(60)),
    "kt": Scale("m/s2", "m/s2", Fraction(1852, 3600)),
}
"""How the rate of a channel in this unit is stated."""

TIMES_SECOND: dict[str, Scale] = {
    "kt": Scale("NM", "m", Fraction(1852, 3600)),
    "deg/s": Scale("deg", "deg", Fraction(1)),
    "deg/min": Scale("deg", "deg", Fraction(1, 60)),
}
"""How the total over time of a channel in this unit is stated."""


def result_unit(reducer: str, channel_unit: str) -> str | None:
    """The unit a reducer's result is stated in unless another is chosen, or None if it has no result there."""
    if reducer in {"first below", "first above", "settles below"} or reducer.startswith("time "):
        return "s"
    if reducer == "count":
        return "1"
    if reducer in {"rate", "total"}:
        scales = PER_SECOND if reducer == "rate" else TIMES_SECOND
        return scales[channel_unit].unit if channel_unit in scales else None
    return channel_unit


def same_dimension(unit: str, other: str) -> bool:
    """Whether two plain unit names measure the same."""
    return UNITS[unit].dimension == UNITS[other].dimension
