"""From the keys of a demonstration to the `Setup` that is simulated."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

from gyrochalk.demonstration.keys import DemonstrationKeys
from gyrochalk.demonstration.place_keys import DEFAULT_PLACE, choose_field
from gyrochalk.demonstration.recorded_keys import RecordedKeys
from gyrochalk.demonstration.section import Section
from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Loop, Magnetism
from gyrochalk.systems.places import Place
from gyrochalk.systems.plans import FlightPlan, Hold
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.systems.setup import Setup

DEFAULT_FLIGHT = FlightPlan((Hold(600.0),))
"""Ten minutes straight ahead, for a demonstration that names no flight."""

ReadRecording = Callable[[RecordedKeys], RecordedFlight]


def setup_of(keys: DemonstrationKeys, read_recording: ReadRecording) -> Setup:
    """The setup that the keys describe; `read_recording` reads a recorded flight where one is named."""
    given = keys.given()
    flight = _flight(given, read_recording)
    optional: dict[str, Any] = {name: given[name] for name in ("earth", "seed") if name in given}
    if "sample" in given:
        optional["sample_interval_s"] = given["sample"]
    if "tolerance" in given:
        optional["tolerance_deg"] = given["tolerance"]
    if "effects" in given:
        optional["effects"] = keys.effects.effects()
    return Setup(
        place=_place(given, flight),
        flight=flight,
        field=choose_field(given.get("date"), given.get("field")),
        compass=_instrument(given, "compass", DirectCompass(magnetism=_iron(given, "compass"))),
        gyro=_instrument(given, "unslaved_gyro", _instrument(given, "gyros", Gyro())),
        slaved_gyro=_instrument(given, "slaved_gyro", _instrument(given, "gyros", Gyro())),
        detector=_instrument(given, "detector", Detector(magnetism=_iron(given, "detector"))),
        loop=_instrument(given, "loop", Loop()),
        loop_law=_law(given),
        actions=tuple(sorted((entry.action() for entry in given.get("actions", ())), key=lambda action: action.at_s)),
        faults=tuple(sorted((entry.fault() for entry in given.get("faults", ())), key=lambda fault: fault.at_s)),
        **optional,
    )


def _flight(given: dict[str, Any], read_recording: ReadRecording) -> FlightPlan | RecordedFlight:
    flight = given.get("flight")
    if flight is None:
        return DEFAULT_FLIGHT
    if "recorded" in flight.given():
        return read_recording(flight.recorded)
    plan: FlightPlan = flight.plan()
    return plan


def _place(given: dict[str, Any], flight: FlightPlan | RecordedFlight) -> Place:
    if "place" in given:
        place: Place = given["place"].place()
        return place
    if isinstance(flight, RecordedFlight):
        return Place(float(flight.latitude_deg[0]), float(flight.longitude_deg[0]), float(flight.height_ft[0]))
    return DEFAULT_PLACE


def _instrument(given: dict[str, Any], name: str, base: Any) -> Any:
    section: Section | None = given.get(name)
    return base if section is None else section.build(base)


def _iron(given: dict[str, Any], place: str) -> Magnetism:
    aircraft = given.get("aircraft")
    if aircraft is None or place not in aircraft.given():
        return Magnetism()
    iron: Magnetism = aircraft.given()[place].magnetism()
    return iron


def _law(given: dict[str, Any]) -> Literal["textbook", "full"]:
    stated = given["loop"].given().get("law") if "loop" in given else None
    if stated is not None:
        return "textbook" if stated == "textbook" else "full"
    return "textbook" if "effects" in given and given["effects"].textbook() else "full"
