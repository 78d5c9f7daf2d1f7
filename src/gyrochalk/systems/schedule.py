"""What changes during a flight: actions and faults as rows of settings between break times."""

from __future__ import annotations

import dataclasses
import functools
import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.physics.earth import EARTH_RATE
from gyrochalk.physics.electrics import line_map, open_line_map, shorted_lines_map
from gyrochalk.physics.gyro import SLOWEST_ROTOR
from gyrochalk.physics.world import (
    GYRO_CASE,
    GYRO_DRIFT,
    GYRO_NUT,
    GYRO_RESET,
    GYRO_RESET_TO,
    GYRO_ROTOR_FRACTION,
    GYRO_ROTOR_ON,
    GYRO_ROTOR_SINCE,
    GYRO_ROTOR_TIME,
    SET_CARD_LOAD_X,
    SET_DETECTOR_LOAD_X,
    SET_DISTURBANCE_NORTH,
    SET_GYRO,
    SET_HOLD,
    SET_LEGS_11,
    SET_MOTOR,
    SET_REARM,
    SET_SLAVED,
    SET_SLAVED_GYRO,
    SETTING_COLUMNS,
)
from gyrochalk.systems.actions import (
    ClutchToDetector,
    DetectorFault,
    Disturbance,
    GyroDrift,
    HoldToAlign,
    MotorStopped,
    SetGyro,
    SetNut,
    SetSlaving,
    SwitchLoad,
    SwitchRotor,
)
from gyrochalk.systems.instruments import Gyro
from gyrochalk.systems.run import Event, Span
from gyrochalk.systems.scales import DEG_H_RAD_S, UT_T
from gyrochalk.systems.setup import Setup

Floats = NDArray[np.float64]

WHOLE_LINES = {0: (0, 2, 1), 1: (2, 1, 0), 2: (1, 0, 2)}
"""Which leg arrives on each line when the two lines other than the key are swapped."""


@dataclasses.dataclass
class Rotor:
    """A rotor's supply: on or off since a time, from a fraction of full speed."""

    on: bool
    since_s: float
    fraction: float
    up_s: float
    down_s: float

    def time_constant(self) -> float:
        """Time constant [s] of the present running up or down."""
        return self.up_s if self.on else self.down_s

    def at(self, time_s: float) -> float:
        """Fraction of full speed at a time [s]."""
        goal = 1.0 if self.on else 0.0
        return goal + (self.fraction - goal) * math.exp(-(time_s - self.since_s) / self.time_constant())

    def threshold_s(self) -> float:
        """When the speed passes the least that holds the gyro; infinite if it does not."""
        goal = 1.0 if self.on else 0.0
        if (self.fraction - SLOWEST_ROTOR) * (goal - SLOWEST_ROTOR) >= 0.0:
            return math.inf
        return self.since_s + self.time_constant() * math.log((self.fraction - goal) / (SLOWEST_ROTOR - goal))


@dataclasses.dataclass
class State:
    """The settings in force at one moment of the flight."""

    slaved: bool
    hold: bool
    nuts_deg: list[float | None]
    rotors: list[Rotor]
    loads: set[str]
    rearm: bool = False
    resets: list[tuple[float, float] | None] = dataclasses.field(default_factory=lambda: [None, None])


@dataclasses.dataclass
class Schedule:
    """Break times (k+1,), settings (k, SETTING_COLUMNS), and what to tell people."""

    breaks: Floats
    settings: Floats
    events: list[Event]
    spans: list[Span]


Change = tuple[float, Callable[[State], None]]


def _rotor(gyro: Gyro) -> Rotor:
    return Rotor(gyro.rotor_running, 0.0, 1.0 if gyro.rotor_running else 0.0, gyro.run_up_s, gyro.run_down_s)


def _start(setup: Setup) -> State:
    gyros = (setup.gyro, setup.slaved_gyro)
    return State(setup.loop.slaved, False, [g.nut_latitude_deg for g in gyros], [_rotor(g) for g in gyros], set())


def _check_loads(setup: Setup) -> None:
    known = {name for name, _ in (*setup.compass.magnetism.loads_ut, *setup.detector.magnetism.loads_ut)}
    for action in setup.actions:
        if isinstance(action, SwitchLoad) and action.name not in known:
            raise MaterialError(
                Problem(
                    "load-unknown",
                    f"there is no electrical load {action.name!r} to switch at {action.at_s:g} s",
                    f"known loads are {', '.join(sorted(known)) or 'none'}",
                    "give the load its field under the magnetism of a mounting place",
                )
            )


class ScheduleBuilder:
    """Turns the actions of a setup into timed changes of a `State`, with their events and spans."""

    def __init__(self, setup: Setup, duration_s: float, compass_reading: Callable[[float], float]) -> None:
        """`compass_reading(time)` gives what the direct compass shows [rad], for setting a gyro by it."""
        self.setup, self.duration_s, self.compass_reading = setup, duration_s, compass_reading
        self.changes: list[Change] = []
        self.events: list[Event] = []
        self.spans: list[Span] = []

    def note(self, at_s: float, kind: str, text: str, change: Callable[[State], None]) -> None:
        """One change at `at_s` with its event."""
        if at_s <= self.duration_s:
            self.changes.append((at_s, change))
            self.events.append(Event(at_s, kind, text))

    def act(self) -> None:
        """All actions."""
        for action in self.setup.actions:
            at = action.at_s
            if isinstance(action, HoldToAlign):
                self._hold(at, at + action.duration_s)
            elif isinstance(action, SetSlaving):
                self._slaving(at, action.slaved)
            elif isinstance(action, ClutchToDetector):
                target = math.nan if action.heading_deg is None else math.radians(action.heading_deg)
                self.note(at, "clutch", "card set by its clutch", self._reset(1, 2.0, functools.partial(float, target)))
            elif isinstance(action, SetGyro):
                self._set_gyro(at, action.heading_deg)
            elif isinstance(action, SetNut):
                self._nut(at, action.latitude_deg)
            elif isinstance(action, SwitchRotor):
                self._rotor_switch(at, action.on)
            else:
                self._load(at, action.name, action.on)

    def _hold(self, start: float, end: float) -> None:
        def pressed(state: State) -> None:
            state.hold = True

        def released(state: State) -> None:
            state.hold = False

        self.note(start, "hold pressed", "alignment switch held down", pressed)
        self.note(end, "hold released", "alignment switch released", released)
        self.spans.append(Span(start, min(end, self.duration_s), "hold", "alignment switch held down"))

    def _slaving(self, at: float, slaved: bool) -> None:
        def change(state: State) -> None:
            state.slaved = slaved

        self.note(at, "slaved" if slaved else "free", "slaved selected" if slaved else "free selected", change)

    @staticmethod
    def _reset(gyro: int, kind: float, target: Callable[[], float]) -> Callable[[State], None]:
        def change(state: State) -> None:
            state.resets[gyro] = (kind, target())

        return change

    def _set_gyro(self, at: float, heading_deg: float | None) -> None:
        if heading_deg is None:
            change = self._reset(0, 1.0, lambda: self.compass_reading(at))
            self.note(at, "gyro set", "unslaved gyro set to the direct compass", change)
        else:
            change = self._reset(0, 1.0, lambda: math.radians(heading_deg))
            self.note(at, "gyro set", f"unslaved gyro set to {heading_deg:03.0f}°", change)

    def _nut(self, at: float, latitude_deg: float | None) -> None:
        def change(state: State) -> None:
            state.nuts_deg = [latitude_deg, latitude_deg]

        text = "latitude nut off" if latitude_deg is None else f"latitude nut set for {latitude_deg:g}°"
        self.note(at, "nut set", text, change)

    def _rotor_switch(self, at: float, on: bool) -> None:
        def change(state: State) -> None:
            for rotor in state.rotors:
                rotor.fraction, rotor.since_s, rotor.on = rotor.at(at), at, on
            state.rearm = on

        word = "on" if on else "off"
        self.note(at, f"rotor {word}", f"gyro supply switched {word}", change)

    def _load(self, at: float, name: str, on: bool) -> None:
        def change(state: State) -> None:
            (state.loads.add if on else state.loads.discard)(name)

        word = "on" if on else "off"
        self.note(at, f"load {word}", f"{name} switched {word}", change)

    def name_faults(self) -> None:
        """Events and spans of all faults."""
        for fault in self.setup.faults:
            text = fault_text(fault)
            end = self.duration_s if fault.until_s is None else min(fault.until_s, self.duration_s)
            if fault.at_s > self.duration_s:
                continue
            self.events.append(Event(fault.at_s, "fault starts", text))
            self.spans.append(Span(fault.at_s, end, "fault", text))
            if fault.until_s is not None and fault.until_s <= self.duration_s:
                self.events.append(Event(fault.until_s, "fault ends", f"{text} ends"))


def fault_text(fault: Disturbance | DetectorFault | MotorStopped | GyroDrift) -> str:
    """A fault in words."""
    if isinstance(fault, Disturbance):
        return f"detector disturbed by {math.hypot(*fault.field_ut):.1f} µT"
    if isinstance(fault, MotorStopped):
        return "correction motor stopped"
    if isinstance(fault, GyroDrift):
        return f"gyro drift {fault.drift_deg_h:g}°/h"
    names = {
        "no excitation": "detector without excitation",
        "leg dead": f"detector leg {fault.leg} without voltage",
        "leg reversed": f"detector leg {fault.leg} reversed",
        "line open": f"detector line {fault.leg} open",
        "lines shorted": f"detector lines other than {fault.leg} shorted",
        "lines swapped": f"detector lines other than {fault.leg} swapped",
    }
    return names[fault.kind]


def active(fault: Disturbance | DetectorFault | MotorStopped | GyroDrift, time_s: float) -> bool:
    """Whether a fault is present just after a time [s]."""
    return fault.at_s <= time_s and (fault.until_s is None or time_s < fault.until_s)


def detector_map(setup: Setup, time_s: float) -> Floats:
    """The electrical map (2, 2) of the detector and its lines just after a time [s]."""
    gains = np.array(setup.detector.leg_gains)
    receives, special = (0, 1, 2), None
    for fault in setup.faults:
        if not isinstance(fault, DetectorFault) or not active(fault, time_s):
            continue
        leg = fault.leg - 1
        if fault.kind == "no excitation":
            gains = gains * 0.0
        elif fault.kind == "leg dead":
            gains[leg] = 0.0
        elif fault.kind == "leg reversed":
            gains[leg] = -gains[leg]
        elif fault.kind == "lines swapped":
            receives = WHOLE_LINES[leg]
        else:
            special = (fault.kind, leg)
    if special is not None:
        return (open_line_map if special[0] == "line open" else shorted_lines_map)(gains, special[1])
    return line_map(gains, receives)


def settings_row(setup: Setup, state: State, time_s: float) -> Floats:
    """The settings in force just after a time [s]."""
    row = np.zeros(SETTING_COLUMNS)
    row[SET_SLAVED], row[SET_HOLD], row[SET_REARM] = state.slaved, state.hold, state.rearm
    stopped = any(isinstance(f, MotorStopped) and active(f, time_s) for f in setup.faults)
    row[SET_MOTOR] = 0.0 if stopped else 1.0
    row[SET_LEGS_11 : SET_LEGS_11 + 4] = detector_map(setup, time_s).reshape(-1)
    for fault in setup.faults:
        if isinstance(fault, Disturbance) and active(fault, time_s):
            row[SET_DISTURBANCE_NORTH : SET_DISTURBANCE_NORTH + 3] += np.array(fault.field_ut) * UT_T
    if "deviation" in setup.effects:
        for first, place in ((SET_CARD_LOAD_X, setup.compass), (SET_DETECTOR_LOAD_X, setup.detector)):
            for name, vector in place.magnetism.loads_ut:
                if name in state.loads:
                    row[first : first + 3] += np.array(vector) * UT_T
    for index, (first, gyro) in enumerate(((SET_GYRO, setup.gyro), (SET_SLAVED_GYRO, setup.slaved_gyro))):
        _gyro_settings(row[first:], setup, gyro, state, index, time_s)
    return row


def _gyro_settings(row: Floats, setup: Setup, gyro: Gyro, state: State, index: int, time_s: float) -> None:
    drift = gyro.drift_deg_h
    for fault in setup.faults:
        if isinstance(fault, GyroDrift) and active(fault, time_s):
            drift = fault.drift_deg_h
    row[GYRO_DRIFT] = drift * DEG_H_RAD_S if "drift" in setup.effects else 0.0
    nut = state.nuts_deg[index]
    idle = nut is None or "earth rate" not in setup.effects
    row[GYRO_NUT] = 0.0 if idle or nut is None else EARTH_RATE * math.sin(math.radians(nut))
    rotor = state.rotors[index]
    row[GYRO_ROTOR_ON], row[GYRO_ROTOR_SINCE] = rotor.on, rotor.since_s
    row[GYRO_ROTOR_FRACTION], row[GYRO_ROTOR_TIME] = rotor.fraction, rotor.time_constant()
    row[GYRO_CASE] = 1.0 if rotor.at(time_s + 1e-9) < SLOWEST_ROTOR else 0.0
    reset = state.resets[index]
    if reset is not None:
        row[GYRO_RESET], row[GYRO_RESET_TO] = reset


def schedule(
    setup: Setup,
    duration_s: float,
    corners_s: Floats,
    cut_offs_s: list[tuple[float, float]],
    compass_reading: Callable[[float], float],
) -> Schedule:
    """Breaks, settings, events and spans of a whole flight.

    `duration_s` of the flight; `corners_s`: starts of the flight's pieces; `cut_offs_s`: spans in which the turn
    rate cuts slaving off. Raises `MaterialError` load-unknown.
    """
    _check_loads(setup)
    builder = ScheduleBuilder(setup, duration_s, compass_reading)
    builder.act()
    builder.name_faults()
    changes = sorted(builder.changes, key=lambda change: change[0])
    times = {0.0, duration_s, *(float(t) for t in corners_s), *(t for t, _ in changes)}
    times |= {f.at_s for f in setup.faults} | {f.until_s for f in setup.faults if f.until_s is not None}
    for span in cut_offs_s:
        times |= set(span)
        builder.spans.append(Span(*span, "cut-off", "slaving cut off by the turn rate"))
        builder.events.append(Event(span[0], "cut-off starts", "turn rate cuts slaving off"))
        builder.events.append(Event(span[1], "cut-off ends", "slaving comes back"))
    state = _start(setup)
    breaks: list[float] = []
    rows: list[Floats] = []
    pending = sorted(t for t in times if 0.0 <= t <= duration_s)
    while pending:
        now = pending.pop(0)
        for time, change in changes:
            if time == now:
                change(state)
        if now >= duration_s:
            break
        if breaks and now - breaks[-1] < 1e-9:
            continue
        row = settings_row(setup, state, now)
        if any(start <= now < end for start, end in cut_offs_s):
            row[SET_SLAVED] = 0.0
        breaks.append(now)
        rows.append(row)
        state.resets, state.rearm = [None, None], False
        for rotor in state.rotors:
            threshold = rotor.threshold_s()
            if now + 1e-6 < threshold < (pending[0] if pending else duration_s) - 1e-6:
                pending.insert(0, threshold)
    return Schedule(np.array([*breaks, duration_s]), np.array(rows), builder.events, builder.spans)
