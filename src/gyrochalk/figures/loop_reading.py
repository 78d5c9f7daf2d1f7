"""From a run to the state of the slaving loop at one instant."""

from __future__ import annotations

import dataclasses

from gyrochalk.figures.loop_state import Device, LoopState, Wires
from gyrochalk.figures.loop_words import links_of, notes_of
from gyrochalk.figures.readings import Reading, column, reading, value_at
from gyrochalk.systems.run import Run

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


def faults_at(run: Run, time_s: float) -> tuple[str, ...]:
    """The faults present at `time_s` from the start of the run, in words."""
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
    """Index of the last sample at or before `time_s`."""
    return max(0, min(int(run.time_s.searchsorted(time_s + 1e-9)), run.time_s.size) - 1)


def loop_state(run: Run, time_s: float) -> LoopState:
    """What the loop does at `time_s` from the start of the run.

    Raises MaterialError (figure-channel) if the run has no slaved compass.
    """
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
    return dataclasses.replace(state, links=links_of(state), notes=notes_of(state))


def _broken(faults: tuple[str, ...], slaved: Reading, detector: Reading) -> frozenset[Device]:
    found: set[Device] = set()
    if "correction motor stopped" in faults:
        found.add("motor")
    if not slaved.valid:
        found.add("gyro")
    if not detector.valid:
        found.add("detector")
    return frozenset(found)
