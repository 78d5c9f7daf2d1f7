"""Runs with every channel the loop and the Earth's field are drawn from: made up by formulas, no simulation."""

from __future__ import annotations

import dataclasses
import functools
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from gyrochalk.systems.run import Event, Run, Span
from tests.figures.sample_runs import make_run

Floats = NDArray[np.float64]
LEVEL_UT, DIP_DEG = 19.0, 67.0


def static_error(heading_deg: Floats, bank_deg: Floats, dip_deg: float = DIP_DEG) -> Floats:
    """Error of a detector hanging square to the wings in a steady turn: the trade's static law, pitch level."""
    psi, phi, dip = np.radians(heading_deg), np.radians(bank_deg), np.radians(dip_deg)
    reading = np.arctan2(np.sin(psi) * np.cos(phi) - np.tan(dip) * np.sin(phi), np.cos(psi))
    error = np.degrees(reading - psi)
    return np.asarray((error + 180.0) % 360.0 - 180.0)


def loop_run(
    time_s: Floats,
    heading_deg: Floats,
    bank_deg: Floats,
    slaved_deg: Floats,
    *,
    mode: float = 1.0,
    spans: tuple[Span, ...] = (),
    events: tuple[Event, ...] = (),
    valid: dict[str, NDArray[np.bool_]] | None = None,
    sensed: float = 1.0,
    motor: float = 1.0,
) -> Run:
    """A run whose detector follows the static law and whose loop is the plain one: band 2°, rate 3 °/min."""
    detector = static_error(heading_deg, bank_deg)
    difference = (detector - slaved_deg + 180.0) % 360.0 - 180.0
    demanded = (mode > 0) * 3.0 * np.clip(difference / 2.0, -1.0, 1.0) * sensed
    none = np.zeros_like(time_s)
    extra = {
        "actual.bank": ("deg", bank_deg),
        "actual.pitch": ("deg", none),
        "actual.load": ("g", 1.0 / np.cos(np.radians(bank_deg))),
        "actual.load_bank": ("deg", bank_deg),
        "actual.load_pitch": ("deg", none),
        "field.horizontal": ("uT", none + LEVEL_UT),
        "field.dip": ("deg", none + DIP_DEG),
        "card.tilt_bank": ("deg", 1.05 * bank_deg),
        "card.tilt_pitch": ("deg", none - 1.8),
        "detector.tilt_bank": ("deg", bank_deg),
        "detector.tilt_pitch": ("deg", none),
        "detector.field": ("uT", (none + 17.3) * sensed),
        "slaved.difference": ("deg", difference),
        "slaved.demanded": ("deg/min", demanded),
        "slaved.correction": ("deg/min", demanded * motor),
        "slaved.indicator": ("1", np.tanh(difference) * (mode > 0) * sensed),
        "slaved.mode": ("1", none + mode),
    }
    card = 0.9 * static_error(heading_deg - 12.0, bank_deg)
    errors = {"card": card, "gyro": -0.004 * time_s, "slaved": slaved_deg, "detector": detector}
    return make_run(time_s, heading_deg, errors, extra, events, spans, valid)


@functools.cache
def circle(**changes: float) -> Run:
    """A circle to the right in two minutes after twenty seconds straight ahead."""
    t = np.arange(0.0, 180.05, 0.2)
    turned = np.clip(t - 20.0, 0.0, 120.0) * 3.0
    ease = np.clip(np.minimum(t - 20.0, 140.0 - t) / 4.0, 0.0, 1.0)
    slaved = -2.1 * np.sin(np.radians(turned)) * (turned > 0)
    spans = (Span(20.0, 140.0, "turn", "turn right through 360°"),)
    events = (Event(20.0, "turn starts", "turn starts"), Event(140.0, "turn ends", "turn ends"))
    return loop_run(t, 8.0 + turned, 15.36 * ease, slaved, spans=spans, events=events, **changes)  # type: ignore[arg-type]


def with_fault(text: str, **changes: float) -> Run:
    """The circle with a fault from 10 s to the end."""
    run = circle(**changes)
    return dataclasses.replace(run, spans=(*run.spans, Span(10.0, float(run.time_s[-1]), "fault", text)))


def silent() -> Run:
    """The circle with a detector that gives no signal from 10 s on."""
    run = with_fault("detector without excitation", sensed=0.0)
    none = np.zeros(run.time_s.size, dtype=bool)
    dead = {
        n: dataclasses.replace(run[n], valid=none) for n in ("detector.heading", "detector.error", "slaved.difference")
    }
    return dataclasses.replace(run, columns={**run.columns, **dead})


def toppled() -> Run:
    """The circle with a slaved gyro that has toppled."""
    run = circle()
    none = np.zeros(run.time_s.size, dtype=bool)
    lost = {n: dataclasses.replace(run[n], valid=none) for n in ("slaved.heading", "slaved.error")}
    return dataclasses.replace(run, columns={**run.columns, **lost})


def free() -> Run:
    """The circle without slaving."""
    return circle(mode=0.0)


def held() -> Run:
    """Alignment with the switch held down: hundreds of degrees a minute."""
    run = circle(mode=3.0)
    fast = {
        n: dataclasses.replace(run[n], values=run[n].values * 300.0) for n in ("slaved.demanded", "slaved.correction")
    }
    return dataclasses.replace(run, columns={**run.columns, **fast})


@functools.cache
def steady() -> Run:
    """Straight and level with the loop at rest."""
    t = np.arange(0.0, 60.05, 0.5)
    none = np.zeros_like(t)
    return loop_run(t, none + 274.0, none, none)


def random_loop_run(seed: int) -> Run:
    """Turns of random bank both ways, a slaved compass out by anything up to half a turn."""
    rng = np.random.default_rng(seed)
    t = np.arange(0.0, rng.uniform(60.0, 400.0), rng.choice([0.1, 0.5, 1.0]))
    bank = rng.uniform(5.0, 40.0) * np.sin(t / rng.uniform(15.0, 90.0) + rng.uniform(0.0, 6.0))
    heading = rng.uniform(0.0, 360.0) + rng.uniform(-3.0, 3.0) * t
    size = 10 ** rng.uniform(-0.5, 2.2)
    slaved = size * np.sin(t / rng.uniform(20.0, 200.0) + rng.uniform(0.0, 6.0))
    return loop_run(t, heading, bank, slaved, mode=float(rng.choice([1.0, 2.0, 3.0])))


RUNS: dict[str, Callable[[], Run]] = {
    "circle": circle,
    "motor": lambda: with_fault("correction motor stopped", motor=0.0),
    "line-open": lambda: with_fault("detector line 2 open"),
    "leg-dead": lambda: with_fault("detector leg 1 without voltage"),
    "leg-reversed": lambda: with_fault("detector leg 3 reversed"),
    "shorted": lambda: with_fault("detector lines other than 3 shorted"),
    "swapped": lambda: with_fault("detector lines other than 1 swapped"),
    "silent": silent,
    "toppled": toppled,
    "free": free,
    "held": held,
    "steady": steady,
}
"""Every run by name."""
