"""What a measured number is held against."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable

Measured = float | int | bool | str


@dataclasses.dataclass(frozen=True, slots=True)
class Goal:
    """A goal as a person reads it, and whether a measured number meets it (NaN never does)."""

    text: str
    met_by: Callable[[float], bool]

    def holds(self, measured: Measured) -> bool:
        """Whether the number meets the goal; text in place of a number never does."""
        return not isinstance(measured, str) and not math.isnan(measured) and self.met_by(float(measured))


def below(bound: float) -> Goal:
    """Less than the bound."""
    return Goal(f"< {bound:g}", lambda number: number < bound)


def at_most(bound: float) -> Goal:
    """The bound or less."""
    return Goal(f"<= {bound:g}", lambda number: number <= bound)


def above(bound: float) -> Goal:
    """More than the bound."""
    return Goal(f"> {bound:g}", lambda number: number > bound)


def near(value: float, tolerance: float) -> Goal:
    """The value to within a tolerance."""
    return Goal(f"{value:g} ± {tolerance:g}", lambda number: abs(number - value) <= tolerance)


def equal(value: float) -> Goal:
    """Exactly the value: for counts."""
    return Goal(f"{value:g}", lambda number: number == value)


def true() -> Goal:
    """Yes."""
    return Goal("yes", lambda number: number == 1.0)
