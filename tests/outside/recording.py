"""What a test measured, told to pytest, so that `make evidence` can print it as a row."""

from __future__ import annotations

from collections.abc import Callable

Tell = Callable[[str, object], None]
"""pytest's `record_property`."""


def tell(record_property: Tell, name: str, measured: float, goal: float, unit: str, source: str) -> None:
    """Say what was measured, what it may be at most, and by which source it is held."""
    told = {"name": name, "measured": float(measured), "goal": float(goal), "unit": unit, "source": source}
    for key, value in told.items():
        record_property(key, value)
