"""Where an axis carries its marks: round numbers, headings in thirties, time in the unit a person would use."""

from __future__ import annotations

import dataclasses
import math

DEGREE_STEPS = (1, 2, 5, 10, 15, 30, 45, 90, 180)
TIME_STEPS_S = (1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600)


def decimal_step(span: float, wanted: int) -> float:
    """The step of 1, 2 or 5 times a power of ten that gives about `wanted` marks over `span`."""
    rough = span / max(1, wanted)
    power = 10.0 ** math.floor(math.log10(rough))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= rough * 0.999)


def degree_step(span_deg: float, wanted: int) -> float:
    """As `decimal_step`, for `span_deg` [deg]: 1, 2, 5, 10, 15, 30, 45, 90 degrees, decimals below one."""
    rough = span_deg / max(1, wanted)
    if rough <= 0.999:
        return decimal_step(span_deg, wanted)
    return float(next((step for step in DEGREE_STEPS if step >= rough * 0.999), 180))


def marks(low: float, high: float, step: float) -> list[float]:
    """Multiples of `step` within [low, high]."""
    first = math.ceil(low / step - 1e-9)
    return [n * step for n in range(first, math.floor(high / step + 1e-9) + 1)]


def decimals_of(step: float) -> int:
    """How many decimals a mark needs."""
    return max(0, -math.floor(math.log10(step) + 1e-9))


@dataclasses.dataclass(frozen=True, slots=True)
class Clock:
    """The unit a time axis is read in: `unit` and how many seconds it holds."""

    unit: str
    seconds: float

    @classmethod
    def fitting(cls, span_s: float) -> Clock:
        """For `span_s` [s]: seconds up to five minutes, minutes up to two and a half hours, hours beyond."""
        if span_s <= 300.0:
            return cls("s", 1.0)
        return cls("min", 60.0) if span_s <= 9000.0 else cls("h", 3600.0)

    def step_s(self, span_s: float, wanted: int) -> float:
        """A round step of time [s] giving about `wanted` marks over `span_s`."""
        rough = span_s / max(1, wanted)
        if rough < 1.0:
            return decimal_step(span_s, wanted)
        return float(next((step for step in TIME_STEPS_S if step >= rough * 0.999), math.ceil(rough / 3600) * 3600))
