"""A slaved compass on the bench: everything at rest unless a flight is given, the Earth's rate off."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from gyrochalk.systems.effects import FULL
from gyrochalk.systems.instruments import Loop
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import FlightPlan, Leg, Stand
from gyrochalk.systems.run import Run
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate

Floats = NDArray[np.float64]

FIELD = StatedField(20.0, 60.0)
SLOW = Loop(automatic="never")
NO_EARTH_RATE = FULL - {"earth rate"}


def on_bench(duration_s: float = 120.0, heading_deg: float = 0.0, **parts: Any) -> Setup:
    """A setup at rest at 52N on a magnetic heading; `parts` are fields of `Setup`."""
    plan = FlightPlan((Stand(duration_s),), heading_deg=heading_deg, tas_kt=0.0)
    return Setup(**{"place": Place(52.0, 0.0), "flight": plan, "field": FIELD, "effects": NO_EARTH_RATE, **parts})


def in_flight(*legs: Leg, heading_deg: float = 0.0, tas_kt: float = 120.0, **parts: Any) -> Setup:
    """A setup in still air from 52N; `parts` are fields of `Setup`."""
    plan = FlightPlan(legs, heading_deg=heading_deg, tas_kt=tas_kt)
    return Setup(**{"place": Place(52.0, 0.0), "flight": plan, "field": FIELD, **parts})


def at(run: Run, channel: str, time_s: float) -> float:
    """A channel's sample nearest to a time."""
    return float(run[channel].values[int(np.argmin(np.abs(run.time_s - time_s)))])


def between(run: Run, channel: str, start_s: float, end_s: float) -> Floats:
    """A channel's samples in a stretch of time, its ends left out."""
    return np.asarray(run[channel].values[(run.time_s > start_s) & (run.time_s < end_s)])


def told(run: Run) -> list[tuple[float, str]]:
    """Time, to a hundredth of a second, and kind of every event but the legs'."""
    return [(round(event.time_s, 2), event.kind) for event in run.events if event.kind != "leg"]


def texts(run: Run, kind: str) -> list[str]:
    """What the events of a kind say."""
    return [event.text for event in run.events if event.kind == kind]


__all__ = ["FIELD", "NO_EARTH_RATE", "SLOW", "at", "between", "in_flight", "on_bench", "simulate", "texts", "told"]
