"""Runs made up by simple formulas for testing pictures. The numbers are invented: they are no simulation."""

from __future__ import annotations

import functools
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from gyrochalk.systems.plans import North
from gyrochalk.systems.run import Column, Event, Provenance, Run, Span
from gyrochalk.units import wrap_180, wrap_360

Floats = NDArray[np.float64]
INVENTED = Provenance("WMM2025", "2026-01-01", "0.1.0", 0.01, 100, 2)
_NORTHS: dict[str, North] = {
    "actual": "magnetic",
    "card": "compass",
    "gyro": "gyro",
    "slaved": "magnetic",
    "detector": "magnetic",
}


def make_run(
    time_s: Floats,
    actual_deg: Floats,
    errors: Mapping[str, Floats],
    extra: Mapping[str, tuple[str, Floats]] | None = None,
    events: tuple[Event, ...] = (),
    spans: tuple[Span, ...] = (),
    valid: Mapping[str, NDArray[np.bool_]] | None = None,
) -> Run:
    """A run from an actual heading, an error per instrument and further channels as (unit, values)."""
    valid = valid or {}
    columns = {"actual.heading": Column("actual.heading", "deg", "actual heading", wrap_360(actual_deg), "magnetic")}
    for name, error in errors.items():
        heading = wrap_360(actual_deg + error)
        ok = valid.get(name)
        columns[f"{name}.heading"] = Column(f"{name}.heading", "deg", f"{name} heading", heading, _NORTHS[name], ok)
        columns[f"{name}.error"] = Column(f"{name}.error", "deg", f"{name} error", wrap_180(error), None, ok)
    for name, (unit, values) in (extra or {}).items():
        columns[name] = Column(name, unit, name, values)
    return Run(time_s, columns, events, spans, INVENTED)


@functools.cache
def orbit() -> Run:
    """A circle of two minutes to the right: card and detector far out, the slaved compass hardly."""
    t = np.arange(0.0, 180.05, 0.1)
    turned = np.clip(t - 20.0, 0.0, 120.0) * 3.0
    in_turn = ((t >= 20.0) & (t <= 140.0)).astype(float)
    ease = np.convolve(in_turn, np.ones(40) / 40, mode="same")
    detector = -38.2 * ease * np.cos(np.radians(turned))
    card = -24.0 * ease * np.cos(np.radians(turned - 35.0)) + 2.0 * np.exp(-np.maximum(t - 140, 0) / 8) * ease
    slaved = np.clip(np.cumsum(np.clip(detector - 0.0, -1, 1)) * 0.1 * 3 / 60 * 0.9, -4, 4)
    gyro = -0.0033 * t + 0.9 * ease * np.sin(np.radians(2 * turned))
    events = (
        Event(0.0, "leg", "straight and level"),
        Event(20.0, "turn starts", "turn starts"),
        Event(140.0, "turn ends", "turn ends"),
    )
    spans = (Span(20.0, 140.0, "turn", "right turn, rate one"),)
    extra = {
        "actual.bank": ("deg", 15.4 * ease),
        "actual.turn_rate": ("deg/s", 3.0 * in_turn),
        "slaved.indicator": ("1", np.clip((detector - slaved) / 2, -1, 1)),
        "slaved.mode": ("1", np.ones_like(t)),
        "slaved.correction": ("deg/min", 3.0 * np.clip((detector - slaved) / 2, -1, 1)),
    }
    errors = {"card": card, "gyro": gyro, "slaved": slaved, "detector": detector}
    return make_run(t, 345.0 + turned, errors, extra, events, spans)


@functools.cache
def cold_start() -> Run:
    """Switched on 90° off: slow alignment takes half an hour."""
    t = np.arange(0.0, 2400.5, 1.0)
    slaved = np.where(t < 1760, -90.0 + t * 0.05, -2.0 * np.exp(-(t - 1760) / 40.0))
    gyro = np.full_like(t, -90.0) - t * 0.003
    detector = 0.15 * np.sin(t / 300.0)
    card = 0.4 + 0.2 * np.sin(t / 210.0)
    mode = np.where(t < 2, 0.0, 1.0)
    events = (Event(0.0, "slaved", "slaved selected"), Event(1800.0, "aligned", "aligned"))
    spans = (Span(0.0, 1800.0, "fast alignment", "alignment"),)
    errors = {"card": card, "gyro": gyro, "slaved": slaved, "detector": detector}
    extra = {"slaved.mode": ("1", mode), "slaved.indicator": ("1", np.sign(detector - slaved))}
    return make_run(t, np.full_like(t, 43.0), errors, extra, events, spans)


@functools.cache
def drift() -> Run:
    """An hour on a westerly heading: the free gyro wanders, the slaved one is held; the free one topples at the end."""
    t = np.arange(0.0, 3600.5, 1.0)
    gyro = -11.85 * t / 3600.0
    toppled = t < 3300.0
    errors = {
        "gyro": gyro,
        "slaved": -0.23 * (1 - np.exp(-t / 40)),
        "detector": 0.05 * np.sin(t / 60),
        "card": 0.3 + 0 * t,
    }
    events = (
        Event(600.0, "load on", "landing light on"),
        Event(660.0, "load off", "landing light off"),
        Event(3300.0, "toppled", "the gyro topples"),
    )
    return make_run(t, np.full_like(t, 268.0), errors, {}, events, (), {"gyro": toppled})


@functools.cache
def tumble() -> Run:
    """Errors that pass through ±180° and a heading that goes round twice."""
    t = np.arange(0.0, 240.05, 0.1)
    turned = 3.0 * t
    errors = {"detector": 170.0 * np.sin(np.radians(turned)) + 0.9 * t, "slaved": 3.0 * np.sin(t / 20)}
    spans = tuple(Span(60.0 * i, 60.0 * i + 50, "turn", "right turn") for i in range(4))
    events = tuple(Event(20.0 * i, "load on", f"radio {i} on") for i in range(12))
    return make_run(t, 10.0 + turned, errors, {"actual.bank": ("deg", 40 + 0 * t)}, events, spans)


RUNS = {"orbit": orbit, "cold-start": cold_start, "drift": drift, "tumble": tumble}
