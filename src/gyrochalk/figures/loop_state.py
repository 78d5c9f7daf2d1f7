"""The slaving loop at one instant: what every link of the chain carries, whether it acts, and where it is broken."""

from __future__ import annotations

import dataclasses
from typing import Literal

from gyrochalk.figures.finding import degrees, seconds, side
from gyrochalk.figures.readings import Reading, column, reading, value_at
from gyrochalk.figures.words import Words
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_quantity

Device = Literal["detector", "comparison", "amplifier", "motor", "gyro", "card"]
State = Literal["acting", "rest", "signal", "broken"]
Wires = Literal["whole", "open", "dead", "reversed", "shorted", "swapped", "silent"]

DEVICES: tuple[Device, ...] = ("detector", "comparison", "amplifier", "motor", "gyro", "card")
RATES = {0: "not connected", 1: "slow rate", 2: "fast rate", 3: "held to align"}
RESTING = 0.05
"""Below this a value shows as 0.0 and its link is at rest [deg or deg/min]."""
NEEDED = (
    "actual.heading",
    "detector.heading",
    "detector.field",
    "detector.tilt_bank",
    "slaved.heading",
    "slaved.difference",
    "slaved.demanded",
    "slaved.correction",
    "slaved.indicator",
    "slaved.mode",
)
_WIRING: tuple[tuple[str, Wires], ...] = (
    (" open", "open"),
    (" without voltage", "dead"),
    (" reversed", "reversed"),
    (" shorted", "shorted"),
    (" swapped", "swapped"),
)
"""How the words for a wiring fault end, and what it does to the three wires."""


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


def faults_at(run: Run, time_s: float) -> tuple[str, ...]:
    """The faults present at an instant, in words."""
    last = float(run.time_s[-1])
    return tuple(
        span.text
        for span in run.spans
        if span.kind == "fault" and span.start_s <= time_s and (time_s < span.end_s or time_s >= last <= span.end_s)
    )


def wires_of(faults: tuple[str, ...]) -> tuple[Wires, int]:
    """What has happened to the three wires from the detector, and which wire or leg a fault names."""
    for text in faults:
        if text == "detector without excitation":
            return "silent", 1
        for ending, wires in _WIRING:
            if text.startswith(("detector leg", "detector line")) and text.endswith(ending):
                number = next(int(part) for part in text.split() if part.isdigit())
                return wires, number
    return "whole", 1


def sample_before(run: Run, time_s: float) -> int:
    """Index of the last sample at or before an instant."""
    return max(0, min(int(run.time_s.searchsorted(time_s + 1e-9)), run.time_s.size) - 1)


def loop_state(run: Run, time_s: float) -> LoopState:
    """What the loop does at one instant. Raises MaterialError (figure-channel) if the run has no slaved compass."""
    for name in NEEDED:
        column(run, name)
    faults = faults_at(run, time_s)
    wires, wire = wires_of(faults)
    detector, slaved = reading(run, "detector", time_s), reading(run, "slaved", time_s)
    mode = int(run["slaved.mode"].values[sample_before(run, time_s)])
    broken = _broken(faults, slaved, detector)
    state = LoopState(
        time_s,
        value_at(run, "actual.heading", time_s),
        detector,
        slaved,
        value_at(run, "slaved.difference", time_s),
        value_at(run, "slaved.demanded", time_s),
        value_at(run, "slaved.correction", time_s),
        value_at(run, "slaved.indicator", time_s),
        value_at(run, "detector.tilt_bank", time_s),
        value_at(run, "actual.bank", time_s) if "actual.bank" in run.columns else 0.0,
        value_at(run, "detector.field", time_s),
        mode,
        any(span.kind == "cut-off" and span.start_s <= time_s < span.end_s for span in run.spans),
        (),
        {},
        broken,
        "silent" if not detector.valid else wires,
        wire,
        faults,
    )
    return dataclasses.replace(state, links=_links(state), notes=_notes(state))


def _broken(faults: tuple[str, ...], slaved: Reading, detector: Reading) -> frozenset[Device]:
    found: set[Device] = set()
    if "correction motor stopped" in faults:
        found.add("motor")
    if not slaved.valid:
        found.add("gyro")
    if not detector.valid:
        found.add("detector")
    return frozenset(found)


def _links(now: LoopState) -> tuple[Link, ...]:
    return (
        Link("detector", "comparison", _sensed(now), _field(now), "signal" if now.wires == "whole" else "broken"),
        Link("comparison", "amplifier", _difference(now), _standing(now), _acting(now, now.difference_deg)),
        Link("amplifier", "motor", rate(now.demanded), _asking(now), _to_motor(now)),
        Link("motor", "gyro", rate(now.correction), _precessing(now), _to_gyro(now)),
        Link("gyro", "card", _shown(now), "turns the card", "signal" if now.slaved.valid else "broken"),
        Link("card", "comparison", _shown(now), "fed back", "signal"),
    )


def rate(deg_min: float) -> str:
    """A rate of correction with its sign: "+3.0°/min"; none at all is "0.0°/min"."""
    text = format_quantity(deg_min, "deg/min", 1)
    return f"+{text}" if deg_min >= RESTING else text


def signed(deg: float) -> str:
    """An angle with its sign: "+12.3°"."""
    text = format_quantity(deg, "deg", 1)
    return f"+{text}" if deg >= RESTING else text


def _sensed(now: LoopState) -> str:
    return format_heading(now.detector.heading_deg, "magnetic", 1) if now.detector.valid else "no signal"


def _field(now: LoopState) -> str:
    if now.wires not in ("whole", "silent"):
        return next(text for text in now.faults if text.startswith(("detector leg", "detector line")))[9:]
    return format_quantity(now.field_ut, "uT", 1)


def _shown(now: LoopState) -> str:
    return format_heading(now.slaved.heading_deg, "magnetic", 1) if now.slaved.valid else "no heading"


def _difference(now: LoopState) -> str:
    return signed(now.difference_deg) if now.detector.valid else "no signal"


def _standing(now: LoopState) -> str:
    if not now.detector.valid:
        return "nothing to compare"
    if abs(now.difference_deg) < RESTING:
        return "they agree"
    return "detector is higher" if now.difference_deg > 0 else "detector is lower"


def _acting(now: LoopState, value: float) -> State:
    if not now.detector.valid:
        return "rest"
    return "acting" if abs(value) >= RESTING else "rest"


def _asking(now: LoopState) -> str:
    if now.mode == 0:
        return "cut off" if now.cut_off else "switched off"
    return f"asks for {'nothing' if abs(now.demanded) < RESTING else 'more' if now.demanded > 0 else 'less'}"


def _to_motor(now: LoopState) -> State:
    if now.mode == 0:
        return "broken"
    return "acting" if abs(now.demanded) >= RESTING else "rest"


def _precessing(now: LoopState) -> str:
    if abs(now.correction) < RESTING:
        return "no torque"
    return "precesses it up" if now.correction > 0 else "precesses it down"


def _to_gyro(now: LoopState) -> State:
    if "motor" in now.broken:
        return "broken"
    return "acting" if abs(now.correction) >= RESTING else "rest"


def _notes(now: LoopState) -> dict[Device, str]:
    turning = abs(now.correction) >= RESTING
    return {
        "detector": f"tilted {degrees(abs(now.tilt_deg))}" if abs(now.tilt_deg) >= RESTING else "level",
        "comparison": "at the null" if abs(now.difference_deg) < RESTING and now.detector.valid else "",
        "amplifier": RATES.get(now.mode, RATES[0]),
        "motor": "stopped" if "motor" in now.broken else ("turns" if turning else "at rest"),
        "gyro": "holds" if now.slaved.valid else "toppled",
        "card": side(now.slaved.error_deg) if now.slaved.valid else "lost",
    }


def loop_finding(now: LoopState, words: Words) -> str:
    """What the loop does, in a sentence: "At 70 s the detector is 41° low; the motor turns the card down at 3.0°/min"."""
    when = f"At {seconds(now.time_s)}"
    if not now.slaved.valid:
        return f"{when} the gyro has toppled: the {words.slaved} shows nothing that means anything"
    if not now.detector.valid:
        return f"{when} no signal comes from the {words.detector}: the {words.slaved} is an unslaved gyro"
    apart = f"the {words.slaved} stands {degrees(abs(now.difference_deg))} from its {words.detector}"
    if now.mode == 0:
        why = "slaving is cut off by the turn" if now.cut_off else "slaving is off"
        return f"{when} {why}: {apart} and nothing corrects it"
    if "motor" in now.broken:
        return f"{when} the motor is stopped: {apart} and nothing corrects it"
    if abs(now.correction) < RESTING:
        agree = abs(now.difference_deg) < RESTING
        return f"{when} the loop is at rest: {f'card and {words.detector} agree' if agree else apart}"
    towards = "up" if now.correction > 0 else "down"
    fault = f", with {now.faults[0]}," if now.faults else ""
    error = side(now.detector.error_deg)
    sensed = f"{when}{fault} the {words.detector} {'is right' if error == 'right' else f'reads {error}'}"
    return f"{sensed}; the motor turns the card {towards} at {format_quantity(abs(now.correction), 'deg/min', 1)}"
