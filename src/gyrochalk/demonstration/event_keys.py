"""What the crew does and what goes wrong, at times."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import model_validator

from gyrochalk.demonstration.refusal import refuse
from gyrochalk.demonstration.section import Section, key
from gyrochalk.demonstration.values import Angle, Choice, HeadingValue, Quantity, Switch, Text, Whole
from gyrochalk.errors import Problem
from gyrochalk.systems import actions
from gyrochalk.units import Heading

At = Annotated[float, Quantity("s", 0, 86_400)]
Field = Annotated[float, Quantity("uT", -1000, 1000)]


class ActionKeys(Section):
    """One action of the crew: a time and exactly one of the other keys."""

    at_s: At = key("at", "When, from the start of the run.")
    hold_alignment: Annotated[float, Quantity("s", 0, 3600, above=True)] = key(
        "hold_alignment", "Hold the alignment switch for this long."
    )
    select: Annotated[str, Choice(("slaved", "free"))] = key("select", "Select slaved or free.")
    set_slaved_card: Annotated[Heading | None, HeadingValue(("magnetic",), ("detector",))] = key(
        "set_slaved_card", "Declutch and set the slaved card: to a heading, or to what the detector reads."
    )
    set_gyro: Annotated[Heading | None, HeadingValue(("magnetic",), ("compass",))] = key(
        "set_gyro", "Cage and set the unslaved gyro: to a heading, or to what the compass reads."
    )
    latitude_nut: Annotated[float | None, Angle("latitude", "off")] = key(
        "latitude_nut", "Set both latitude nuts, or off."
    )
    rotors: Annotated[bool, Switch()] = key("rotors", "Switch the rotor supply on or off.")
    switch_on: Annotated[str, Text(60)] = key("switch_on", "Switch an electrical load on.")
    switch_off: Annotated[str, Text(60)] = key("switch_off", "Switch an electrical load off.")

    @model_validator(mode="after")
    def _one(self) -> ActionKeys:
        self.require("at")
        self.only_one(*(name for name in self.names() if name != "at"))
        return self

    def load(self) -> tuple[str, str] | None:
        """The key and the load's name, if a load is switched."""
        given = self.given()
        return next(((name, given[name]) for name in ("switch_on", "switch_off") if name in given), None)

    def action(self) -> actions.Action:
        """The action."""
        given = self.given()
        at_s = given.pop("at_s")
        kind, value = next(iter(given.items()))
        heading_deg = value.degrees if isinstance(value, Heading) else None
        made: dict[str, actions.Action] = {
            "hold_alignment": actions.HoldToAlign(at_s, value),
            "select": actions.SetSlaving(at_s, value == "slaved"),
            "set_slaved_card": actions.ClutchToDetector(at_s, heading_deg),
            "set_gyro": actions.SetGyro(at_s, heading_deg),
            "latitude_nut": actions.SetNut(at_s, value),
            "rotors": actions.SwitchRotor(at_s, value),
            "switch_on": actions.SwitchLoad(at_s, value, on=True),
            "switch_off": actions.SwitchLoad(at_s, value, on=False),
        }
        return made[kind]


class DisturbanceKeys(Section):
    """A field added at the detector."""

    north: Field = key("north", "To the north.")
    east: Field = key("east", "To the east.")
    down: Field = key("down", "Down.")

    @model_validator(mode="after")
    def _some(self) -> DisturbanceKeys:
        if not self.model_fields_set:
            allowed = "one or more of north, east, down"
            raise refuse(Problem("key-missing", "the disturbance has no field", allowed, "add for example east: 5 uT"))
        return self

    def vector(self) -> tuple[float, float, float]:
        """North, east, down [µT]."""
        given = self.given()
        return (given.get("north", 0.0), given.get("east", 0.0), given.get("down", 0.0))


class DetectorFaultKeys(Section):
    """An electrical fault of the detector or its lines."""

    shorthand: ClassVar[str] = "leg dead"

    kind: Annotated[
        str, Choice(("no excitation", "leg dead", "leg reversed", "line open", "lines shorted", "lines swapped"))
    ] = key("kind", "What is wrong.")
    leg: Annotated[int, Whole(1, 3)] = key("leg", "Leg or line concerned; for two lines, the one that stays whole.")

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """The kind alone."""
        return {"kind": text}

    @model_validator(mode="after")
    def _needed(self) -> DetectorFaultKeys:
        self.require("kind")
        return self


class FaultKeys(Section):
    """One fault: from a time, until a time, and exactly one of the other keys."""

    at_s: At = key("from", "When it begins, from the start of the run.")
    until_s: At = key("until", "When it ends; the end of the run if absent.")
    disturbance: DisturbanceKeys = key("disturbance", "A field added at the detector.")
    detector: DetectorFaultKeys = key("detector", "An electrical fault of the detector or its lines.")
    motor: Annotated[str, Choice(("stopped",))] = key("motor", "The correction motor gives no torque: stopped.")
    drift: Annotated[float, Quantity("deg/h", -1000, 1000)] = key("drift", "Both gyros take up this drift.")

    @model_validator(mode="after")
    def _one(self) -> FaultKeys:
        self.require("from")
        self.only_one("disturbance", "detector", "motor", "drift")
        if "until_s" in self.model_fields_set and self.until_s <= self.at_s:
            what = "the fault ends before it begins"
            raise refuse(Problem("out-of-range", what, "a time after from", "change from or until"), "until")
        return self

    def fault(self) -> actions.Fault:
        """The fault."""
        given = self.given()
        at_s, until_s = given.pop("at_s"), given.pop("until_s", None)
        kind, value = next(iter(given.items()))
        if kind == "disturbance":
            return actions.Disturbance(at_s, until_s, value.vector())
        if kind == "detector":
            return actions.DetectorFault(value.kind, at_s, until_s, value.given().get("leg", 1))
        return actions.MotorStopped(at_s, until_s) if kind == "motor" else actions.GyroDrift(at_s, value, until_s)
