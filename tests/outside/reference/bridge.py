"""From the instructor's setup to a case of the reference: names only, no model of the product is used."""

from __future__ import annotations

import dataclasses
from typing import Any

from gyrochalk.systems.actions import HoldToAlign
from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Magnetism
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import Accelerate, Climb, FlightPlan, Hold, Leg, Stand, Taxi, Turn
from gyrochalk.systems.setup import Setup

KINDS: dict[type[Any], str] = {
    Stand: "stand",
    Hold: "hold",
    Taxi: "taxi",
    Turn: "turn",
    Accelerate: "accelerate",
    Climb: "climb",
}


def leg_case(leg: Leg) -> dict[str, Any]:
    """One leg as a dict; a leg stated by where it ends (heading, speed, height, place) is refused."""
    given = {"kind": KINDS[type(leg)], **dataclasses.asdict(leg)}
    ends = [key for key in ("to_heading_deg", "to_tas_kt", "to_height_ft") if given.get(key) is not None]
    if ends:
        raise ValueError(f"the reference takes no leg stated by {ends[0]}")
    return given


def setup_case(setup: Setup, sample_interval_s: float = 1.0) -> dict[str, Any]:
    """The same experiment for `fly_reference`."""
    plan, field = setup.flight, setup.field
    if not isinstance(plan, FlightPlan) or not isinstance(field, StatedField) or setup.loop_law != "full":
        raise ValueError("the reference takes a planned flight in a stated field with the full loop")
    heading_deg = plan.heading_deg - (field.variation_deg if plan.north == "true" else 0.0)
    holds = [(a.at_s, a.at_s + a.duration_s) for a in setup.actions if isinstance(a, HoldToAlign)]
    return {
        "latitude_deg": setup.place.latitude_deg,
        "heading_mag_deg": heading_deg,
        "tas_kt": plan.tas_kt,
        "wind_from_deg": plan.wind_from_deg,
        "wind_kt": plan.wind_kt,
        "field": dataclasses.asdict(field),
        "legs": [leg_case(leg) for leg in plan.legs],
        "compass": dataclasses.asdict(setup.compass),
        "gyro": dataclasses.asdict(setup.gyro),
        "slaved_gyro": dataclasses.asdict(setup.slaved_gyro),
        "detector": dataclasses.asdict(setup.detector),
        "loop": dataclasses.asdict(setup.loop),
        "holds": holds,
        "actions": [a for a in setup.actions if not isinstance(a, HoldToAlign)],
        "faults": list(setup.faults),
        "effects": setup.effects,
        "sample_interval_s": sample_interval_s,
    }


THIRTY_MINUTES = Setup(
    place=Place(52.0, 0.0),
    field=StatedField(19.0, 67.0, -3.0),
    flight=FlightPlan(
        legs=(
            Hold(120.0),
            Turn(by_deg=90.0, rate_deg_s=3.0),
            Hold(180.0),
            Accelerate(0.1, duration_s=20.0),
            Hold(100.0),
            Turn(by_deg=-200.0, bank_deg=15.0, roll_time_s=4.0),
            Climb(800.0, duration_s=300.0),
            Turn(by_deg=360.0, rate_deg_s=3.0),
            Accelerate(-0.08, duration_s=20.0),
            Hold(300.0),
            Turn(by_deg=-5.0, rate_deg_s=3.0),
            Hold(475.0),
        ),
        heading_deg=20.0,
        tas_kt=120.0,
        wind_from_deg=250.0,
        wind_kt=25.0,
    ),
    compass=DirectCompass(
        magnetism=Magnetism((1.5, -1.0, 2.0), ((0.02, 0.01, 0.0), (-0.01, -0.03, 0.005), (0.0, 0.01, 0.02)))
    ),
    detector=Detector(
        magnetism=Magnetism((0.2, -0.1, 0.3), ((0.004, 0.001, 0.0), (-0.002, -0.003, 0.005), (0.0, 0.001, 0.002)))
    ),
    gyro=Gyro(drift_deg_h=4.0, nut_latitude_deg=45.0, start_error_deg=1.0),
    slaved_gyro=Gyro(drift_deg_h=-3.0, start_error_deg=12.0, spin_bearing_true_deg=40.0),
    actions=(HoldToAlign(1500.0, 5.0),),
)
"""Half an hour with turns both ways, a circle, a climb, a burst of speed, deviation and every effect but noise."""
