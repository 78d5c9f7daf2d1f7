"""A number that comes from a run or a rule, with everything needed to state it."""

from __future__ import annotations

import dataclasses

from gyrochalk.units import North, format_heading, format_quantity


@dataclasses.dataclass(frozen=True, slots=True)
class Value:
    """One value from a run.

    `number` in `unit` (a plain unit name); `north` names the north a heading is from, else None; `time_s` is the
    moment of the run it belongs to [s from the start of the run], else None; `measure` is the name of the measure or
    rule it came from.
    """

    number: float
    unit: str
    north: North | None = None
    time_s: float | None = None
    measure: str = ""

    def text(self, decimals: int) -> str:
        """The value as it is shown to people: "2.0°", "043° M", "30 min"."""
        if self.north is not None:
            return format_heading(self.number, self.north, decimals)
        return format_quantity(self.number, self.unit, decimals)
