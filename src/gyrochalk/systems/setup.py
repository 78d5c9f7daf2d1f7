"""Everything one run needs, in one value."""

from __future__ import annotations

import dataclasses
from typing import Literal

from gyrochalk.systems.actions import Action, Fault
from gyrochalk.systems.effects import FULL
from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Loop
from gyrochalk.systems.places import FieldChoice, ModelField, Place
from gyrochalk.systems.plans import FlightPlan
from gyrochalk.systems.recorded import RecordedFlight


@dataclasses.dataclass(frozen=True, slots=True)
class Setup:
    """A complete experiment: place, field, flight, instruments, actions, faults, effects.

    `loop_law` "textbook" is the plain rate-and-lock loop, "full" the proportional one. `sample_interval_s` None
    chooses 0.1 s for flights up to 30 min and 1 s beyond. `tolerance_deg` bounds the error of any indicated heading.
    """

    place: Place
    flight: FlightPlan | RecordedFlight
    field: FieldChoice = ModelField()
    compass: DirectCompass = DirectCompass()
    gyro: Gyro = Gyro()
    slaved_gyro: Gyro = Gyro()
    detector: Detector = Detector()
    loop: Loop = Loop()
    loop_law: Literal["textbook", "full"] = "full"
    actions: tuple[Action, ...] = ()
    faults: tuple[Fault, ...] = ()
    effects: frozenset[str] = FULL
    earth: Literal["sphere", "WGS-84"] = "sphere"
    seed: int = 1
    sample_interval_s: float | None = None
    tolerance_deg: float = 0.01
