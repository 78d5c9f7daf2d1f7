"""The slaving loop at one instant: what every link of the chain carries, whether it acts, and where it is broken."""

from __future__ import annotations

import dataclasses
from typing import Literal

from gyrochalk.figures.readings import Reading

Device = Literal["detector", "comparison", "amplifier", "motor", "gyro", "card"]
State = Literal["acting", "rest", "signal", "broken"]
Wires = Literal["whole", "open", "dead", "reversed", "shorted", "swapped", "silent"]

DEVICES: tuple[Device, ...] = ("detector", "comparison", "amplifier", "motor", "gyro", "card")
RESTING = 0.05
"""Below this a value shows as 0.0 and its link is at rest [deg or deg/min]."""


@dataclasses.dataclass(frozen=True, slots=True)
class Link:
    """One link of the chain: from `start` to `end`, the `value` it carries as text, its `sense` in words, its state."""

    start: Device
    end: Device
    value: str
    sense: str
    state: State

    @property
    def name(self) -> str:
        """What the link is called where a picture is read back."""
        return f"{self.start}-{self.end}"


@dataclasses.dataclass(frozen=True, slots=True)
class LoopState:
    """The whole loop at `time_s`.

    `links` in the order of the chain; `notes` what each device is doing; `broken` the devices that do not work;
    `wires` the state of the three wires from the detector, `wire` the one concerned (1..3, for two wires the one that
    stays whole); `faults` in words; `mode` 0 free, 1 slow, 2 fast, 3 held to align;
    `cut_off` whether the turn rate holds it off.
    """

    time_s: float
    actual_deg: float
    detector: Reading
    slaved: Reading
    difference_deg: float
    demanded: float
    correction: float
    indicator: float
    tilt_deg: float
    bank_deg: float
    field_ut: float
    mode: int
    cut_off: bool
    links: tuple[Link, ...]
    notes: dict[Device, str]
    broken: frozenset[Device]
    wires: Wires
    wire: int
    faults: tuple[str, ...]

    def link(self, start: Device, end: Device) -> Link:
        """The link between two neighbours."""
        return next(link for link in self.links if (link.start, link.end) == (start, end))
