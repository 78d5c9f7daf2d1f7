"""All keys of a demonstration file, and the `Setup` they describe."""

from __future__ import annotations

import datetime
from typing import Annotated, Any, ClassVar

from pydantic import model_validator

from gyrochalk.demonstration.effects_keys import EffectsKeys
from gyrochalk.demonstration.event_keys import ActionKeys, FaultKeys
from gyrochalk.demonstration.flight_check import FlightCheck
from gyrochalk.demonstration.flight_keys import HeadingKey, LegKeys, Speed, WindKeys
from gyrochalk.demonstration.instrument_keys import CompassKeys, DetectorKeys, GyroKeys, LoopKeys
from gyrochalk.demonstration.iron_keys import AircraftKeys
from gyrochalk.demonstration.place_keys import DEFAULT_PLACE, FieldKeys, PlaceKeys
from gyrochalk.demonstration.recorded_keys import RecordedKeys
from gyrochalk.demonstration.refusal import Path, listed, refuse, refuse_all
from gyrochalk.demonstration.section import Section, key
from gyrochalk.demonstration.values import Choice, DateValue, Quantity, Text, Whole
from gyrochalk.errors import Problem
from gyrochalk.systems.plans import FlightPlan
from gyrochalk.units import format_quantity

FORMAT_VERSION = 1


class FlightKeys(Section):
    """The flight: a start and legs, or a recorded flight."""

    target: ClassVar[type | None] = FlightPlan

    heading: HeadingKey = key("heading", "Heading at the start, 045M.")
    tas_kt: Speed = key("speed", "True airspeed at the start, 100 kt.")
    wind: WindKeys = key("wind", "The wind.")
    legs: tuple[LegKeys, ...] = key("legs", "The legs, one after another.")
    recorded: RecordedKeys = key("recorded", "A recorded flight instead of legs.")

    @model_validator(mode="after")
    def _can_be_flown(self) -> FlightKeys:
        written = self.model_fields_set
        if "recorded" in written:
            extra = [name for name in ("legs", "heading", "speed", "wind") if self._attribute(name) in written]
            if extra:
                what = f"recorded and {extra[0]} exclude each other"
                allowed = "legs with their start, or a recorded flight alone"
                raise refuse(Problem("key-conflict", what, allowed, f"remove {extra[0]} or recorded"), extra[0])
            return self
        if not self.given().get("legs"):
            what = "the flight has no legs"
            problem = Problem("flight-empty", what, "one leg or more", 'add for example "- hold: 10 min" below legs')
            raise refuse(problem, *(["legs"] if "legs" in written else []))
        found = self.check(None).problems
        if found:
            raise refuse_all([(("legs", *path), problem) for path, problem in found])
        return self

    def check(self, height_ft: float | None) -> FlightCheck:
        """Follow the legs from the start, at `height_ft` if it is known."""
        return FlightCheck(self.given().get("tas_kt", FlightPlan(()).tas_kt), height_ft).follow(self.legs)

    def plan(self) -> FlightPlan:
        """The flight as planned."""
        given = self.given()
        start: dict[str, Any] = {}
        if "tas_kt" in given:
            start["tas_kt"] = self.tas_kt
        if "heading" in given:
            start |= {"heading_deg": self.heading.degrees, "north": self.heading.north}
        if "wind" in given:
            start |= {"wind_from_deg": self.wind.wind_from.degrees, "wind_kt": self.wind.wind_kt}
        return FlightPlan(tuple(leg.leg() for leg in self.legs), **start)


class DemonstrationKeys(Section):
    """A demonstration: an experiment with aircraft heading instruments."""

    gyrochalk: Annotated[int, Whole(1, FORMAT_VERSION)] = key("gyrochalk", "Version of the file's format, 1.")
    title: Annotated[str, Text(120)] = key("title", "What it is called; the file's name if absent.")
    look_for: Annotated[str, Text(600)] = key("look_for", "One sentence on what to look for.")
    notes: Annotated[str, Text(4000)] = key("notes", "Anything the author wants to remember; shown to no class.")
    place: PlaceKeys = key("place", "Where it is flown, 52.5 N, 1 E.")
    date: Annotated[datetime.date, DateValue()] = key("date", "Date of the magnetic model; 2026-01-01 if absent.")
    field: FieldKeys = key("field", "A magnetic field stated outright, instead of the model.")
    earth: Annotated[str, Choice(("sphere", "WGS-84"))] = key("earth", "Shape of the Earth for transport wander.")
    aircraft: AircraftKeys = key("aircraft", "The aircraft's own magnetism.")
    flight: FlightKeys = key("flight", "The flight; ten minutes straight ahead if absent.")
    compass: CompassKeys = key("compass", "The direct-reading compass.")
    gyros: GyroKeys = key("gyros", "What both gyros have in common.")
    unslaved_gyro: GyroKeys = key("unslaved_gyro", "The unslaved gyro (DG).")
    slaved_gyro: GyroKeys = key("slaved_gyro", "The gyro of the slaved compass.")
    detector: DetectorKeys = key("detector", "The flux detector.")
    loop: LoopKeys = key("loop", "The slaving loop.")
    actions: tuple[ActionKeys, ...] = key("actions", "What the crew does.")
    faults: tuple[FaultKeys, ...] = key("faults", "What goes wrong.")
    effects: EffectsKeys = key("effects", "Which effects are on; full if absent.")
    seed: Annotated[int, Whole(0, 2**31 - 1)] = key("seed", "Seed of the random wander.")
    sample: Annotated[float, Quantity("s", 0.01, 600)] = key("sample", "Time between samples of the run.")
    tolerance: Annotated[float, Quantity("deg", 1e-6, 1)] = key("tolerance", "How exact every heading shall be.")
    measures: dict[str, Any] = key("measures", "Declared measures, by name.")
    variants: dict[str, Any] = key("variants", "Named variants: keys laid over those above.")

    @model_validator(mode="after")
    def _together(self) -> DemonstrationKeys:
        self.require("gyrochalk")
        self.only_one("date", "field", needed=False)
        found = [*self._flight_problems(), *self._load_problems()]
        if found:
            raise refuse_all(found)
        return self

    def _flight_problems(self) -> list[tuple[Path, Problem]]:
        flight = self.given().get("flight")
        if flight is None or not flight.given().get("legs"):
            return []
        place = self.place.place() if "place" in self.model_fields_set else DEFAULT_PLACE
        check = flight.check(place.height_ft)
        found: list[tuple[Path, Problem]] = [(("flight", "legs", *path), problem) for path, problem in check.problems]
        for name, word in (("actions", "at"), ("faults", "from")):
            for index, entry in enumerate(self.given().get(name, ())):
                if entry.at_s > check.longest_s:
                    found.append(((name, index, word), _too_late(entry.at_s, check.longest_s)))
        return found

    def _load_problems(self) -> list[tuple[Path, Problem]]:
        known = self.aircraft.loads() if "aircraft" in self.model_fields_set else ()
        found: list[tuple[Path, Problem]] = []
        for index, action in enumerate(self.given().get("actions", ())):
            load = action.load()
            if load is not None and load[1] not in known:
                names = f"the loads of the aircraft: {listed(known)}" if known else "loads named below aircraft"
                problem = Problem("choice-unknown", f'there is no load "{load[1]}"', names, "name it below loads")
                found.append((("actions", index, load[0]), problem))
        return found


def _too_late(at_s: float, longest_s: float) -> Problem:
    what = f"{format_quantity(at_s, 's', 0)} is after the end of the flight"
    allowed = f"a time within the flight, which lasts {format_quantity(longest_s, 's', 0)} at most"
    return Problem("out-of-range", what, allowed, "lengthen the flight or choose an earlier time")
