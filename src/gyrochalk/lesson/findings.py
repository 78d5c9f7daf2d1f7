"""What came of checking one number of a lesson."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Literal

from gyrochalk.errors import Problem
from gyrochalk.lesson.source import Place

State = Literal["holds", "false", "fresh", "stale", "unchecked"]


@dataclasses.dataclass(frozen=True, slots=True)
class Finding:
    """One claim or value and what the run says about it.

    `kind` is "claim" or "value"; `place` where it stands; `stated` its text; `demonstration` the address flown (or
    "rule"), `measure` the measure's or rule's name, `options` as written. `state`: a claim "holds" or is "false", a
    value is "fresh" or "stale", either is "unchecked" if the run could not say. `computed` is what the run says as it
    would be written; `number` and `unit` the same unrounded. `margin` is how much room is left within `tolerance`
    (negative: beyond it), both in `unit`. `source` says in words where the number comes from; `physics` what the model
    says beside a textbook rule; `time_s` the moment of the run it belongs to [s].
    """

    kind: Literal["claim", "value"]
    place: Place
    stated: str
    demonstration: str
    measure: str
    options: Mapping[str, str]
    state: State
    private: bool = False
    computed: str | None = None
    number: float | None = None
    unit: str | None = None
    time_s: float | None = None
    margin: float | None = None
    tolerance: float | None = None
    source: str = ""
    physics: str | None = None
    problems: tuple[Problem, ...] = ()

    @property
    def good(self) -> bool:
        """Whether nothing need be done about it."""
        return self.state in ("holds", "fresh")

    def for_program(self) -> dict[str, object]:
        """The finding for `--json`."""
        row: dict[str, object] = {
            "kind": self.kind,
            "file": self.place.file,
            "line": self.place.line,
            "column": self.place.column,
            "stated": self.stated,
            "demonstration": self.demonstration,
            "measure": self.measure,
            "options": dict(self.options),
            "state": self.state,
            "holds": self.good,
            "computed": self.computed,
            "value": self.number,
            "unit": self.unit,
            "time_s": self.time_s,
            "margin": self.margin,
            "tolerance": self.tolerance,
            "source": self.source,
            "physics": self.physics,
            "private": self.private,
        }
        return row
