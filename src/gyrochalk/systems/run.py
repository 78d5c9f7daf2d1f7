"""A run: what a simulated flight recorded, column by column."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from gyrochalk.systems.plans import North

Floats = NDArray[np.float64]


@dataclasses.dataclass(frozen=True, eq=False)
class Column:
    """One recorded channel: `values` (n,) in `unit`; `north` names the north a heading is from, else None.

    `valid` (n,) is False where the instrument shows nothing that means anything (a toppled gyro), else None.
    """

    name: str
    unit: str
    description: str
    values: Floats
    north: North | None = None
    valid: NDArray[np.bool_] | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class Event:
    """Something that happened at one moment: `kind` is a short stable name, `text` says it in words."""

    time_s: float
    kind: str
    text: str


@dataclasses.dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the flight to be shaded or named: "turn", "alignment", "disturbance", "climb" …"""

    start_s: float
    end_s: float
    kind: str
    text: str


@dataclasses.dataclass(frozen=True, slots=True)
class Provenance:
    """Where the numbers come from: field model and date, version, effort, and warnings in words."""

    field_model: str
    field_date: str
    version: str
    tolerance_deg: float
    steps_taken: int = 0
    steps_rejected: int = 0
    warnings: tuple[str, ...] = ()


@dataclasses.dataclass(frozen=True, eq=False)
class Run:
    """The recording of one simulated flight.

    `time_s` (n,) from 0, evenly spaced plus the last instant; `columns` by channel name, for example
    "slaved.error"; `events` and `spans` in order of time.
    """

    time_s: Floats
    columns: Mapping[str, Column]
    events: tuple[Event, ...]
    spans: tuple[Span, ...]
    provenance: Provenance

    def __getitem__(self, name: str) -> Column:
        return self.columns[name]
