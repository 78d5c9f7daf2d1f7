"""The flight: its start, its legs, or a recorded flight instead."""

from __future__ import annotations

import re
from typing import Annotated, Any, ClassVar, Literal

from pydantic import model_validator

from gyrochalk.demonstration.place_keys import split_position
from gyrochalk.demonstration.refusal import refuse
from gyrochalk.demonstration.section import Section, key
from gyrochalk.demonstration.values import Angle, HeadingValue, Quantity
from gyrochalk.errors import Problem
from gyrochalk.systems.plans import (
    Accelerate,
    Climb,
    GreatCircle,
    Hold,
    Leg,
    Stand,
    Taxi,
    Turn,
)
from gyrochalk.units import Heading

Duration = Annotated[float, Quantity("s", 0, 86_400, above=True)]
HeadingKey = Annotated[Heading, HeadingValue()]
Speed = Annotated[float, Quantity("kt", 0, 1000)]
Pull = Annotated[float, Quantity("g", -2, 2)]
ClimbRate = Annotated[float, Quantity("ft/min", 0, 20_000, above=True)]
Height = Annotated[float, Quantity("ft", -1500, 60_000)]


class _Timed(Section):
    """A leg that lasts for a stated time."""

    shorthand: ClassVar[str] = "5 min"
    duration_s: Duration = key("for", "How long.")

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """A time alone."""
        return {"for": text}

    @model_validator(mode="after")
    def _needed(self) -> _Timed:
        self.require("for")
        return self


class StandKeys(_Timed):
    """Stand still."""

    target: ClassVar[type | None] = Stand

    def leg(self) -> Leg:
        """The leg."""
        return Stand(**self.given())


class HoldKeys(_Timed):
    """Fly straight and level."""

    target: ClassVar[type | None] = Hold

    def leg(self) -> Leg:
        """The leg."""
        return Hold(**self.given())


class TaxiKeys(_Timed):
    """Move on the ground, wings level, yawing evenly."""

    target: ClassVar[type | None] = Taxi
    turn_deg: Annotated[float, Quantity("deg", -3600, 3600)] = key("turn", "Angle turned through, right positive.")

    def leg(self) -> Leg:
        """The leg."""
        return Taxi(**self.given())


Through = Annotated[float, Quantity("deg", 0, 36_000, above=True)]
_TURN = re.compile(r"(?P<side>left|right)\s+(?P<to>to\s+)?(?P<rest>\S.*)")


class TurnKeys(Section):
    """A level coordinated turn."""

    target: ClassVar[type | None] = Turn
    shorthand: ClassVar[str] = "right 360 deg"

    right: Through = key("right", "Angle turned through to the right.")
    left: Through = key("left", "Angle turned through to the left.")
    right_to: HeadingKey = key("right_to", "Heading to turn to by the right.")
    left_to: HeadingKey = key("left_to", "Heading to turn to by the left.")
    to: HeadingKey = key("to", "Heading to turn to by the short way.")
    rate_deg_s: Annotated[float, Quantity("deg/s", 0, 30, above=True)] = key(
        "rate", "Steady turn rate; 3 deg/s if absent."
    )
    bank_deg: Annotated[float, Quantity("deg", 0, 80, above=True)] = key("bank", "Bank, instead of the rate.")
    roll_rate_deg_s: Annotated[float, Quantity("deg/s", 0.5, 90)] = key(
        "roll_rate", "How fast bank is put on and taken off."
    )
    roll_time_s: Annotated[float, Quantity("s", 0, 60, above=True)] = key(
        "roll_time", "Time for putting bank on and for taking it off, instead of the roll rate."
    )

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """ "right 360 deg", "left to 090M"."""
        match = _TURN.fullmatch(text)
        return {match["side"] + ("_to" if match["to"] else ""): match["rest"]} if match else None

    @model_validator(mode="after")
    def _choices(self) -> TurnKeys:
        self.only_one("right", "left", "right_to", "left_to", "to")
        self.only_one("rate", "bank", needed=False)
        self.only_one("roll_rate", "roll_time", needed=False)
        return self

    def leg(self) -> Leg:
        """The leg."""
        given = self.given()
        how = {
            name: value
            for name, value in given.items()
            if name in {"rate_deg_s", "bank_deg", "roll_rate_deg_s", "roll_time_s"}
        }
        if "right" in given:
            return Turn(by_deg=self.right, **how)
        if "left" in given:
            return Turn(by_deg=-self.left, **how)
        name = next(name for name in ("right_to", "left_to", "to") if name in given)
        heading: Heading = given[name]
        sides: dict[str, Literal["left", "right"]] = {"right_to": "right", "left_to": "left"}
        return Turn(to_heading_deg=heading.degrees, north=heading.north or "magnetic", direction=sides.get(name), **how)


class AccelerateKeys(Section):
    """Change speed along the track."""

    target: ClassVar[type | None] = Accelerate

    acceleration_g: Pull = key("by", "Acceleration, 0.1 g; negative: slow down.")
    duration_s: Duration = key("for", "How long.")
    to_tas_kt: Speed = key("to", "True airspeed to reach, instead of the time.")

    @model_validator(mode="after")
    def _choices(self) -> AccelerateKeys:
        self.require("by")
        self.only_one("for", "to")
        if self.acceleration_g == 0:
            raise refuse(Problem("out-of-range", "0 g changes no speed", "a value other than 0 g", "write 0.1 g"), "by")
        return self

    def leg(self) -> Leg:
        """The leg."""
        return Accelerate(**self.given())


class ClimbKeys(Section):
    """Climb, wings level."""

    target: ClassVar[type | None] = Climb

    vertical_speed_ft_min: ClimbRate = key("at", "Rate of climb, or of descent, 500 ft/min.")
    duration_s: Duration = key("for", "How long.")
    to_height_ft: Height = key("to", "Height to reach, instead of the time.")

    @model_validator(mode="after")
    def _choices(self) -> ClimbKeys:
        self.require("at")
        self.only_one("for", "to")
        return self

    def leg(self, sign: float = 1.0) -> Leg:
        """The leg; `sign` -1 for a descent."""
        given = self.given()
        return Climb(**{**given, "vertical_speed_ft_min": sign * given["vertical_speed_ft_min"]})


class GreatCircleKeys(Section):
    """Fly the great circle to a place."""

    target: ClassVar[type | None] = GreatCircle
    shorthand: ClassVar[str] = "60 N, 60 E"

    latitude_deg: Annotated[float, Angle("latitude")] = key("latitude", "Latitude of the place to reach.")
    longitude_deg: Annotated[float, Angle("longitude")] = key("longitude", "Longitude of the place to reach.")

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """ "60 N, 60 E"."""
        return split_position(text)

    @model_validator(mode="after")
    def _needed(self) -> GreatCircleKeys:
        self.require("latitude", "longitude")
        return self

    def leg(self) -> Leg:
        """The leg."""
        return GreatCircle(**self.given())


class LegKeys(Section):
    """One leg: exactly one of these keys."""

    stand: StandKeys = key("stand", "Stand still, at a speed of 0 kt.")
    hold: HoldKeys = key("hold", "Fly straight and level on the present heading.")
    taxi: TaxiKeys = key("taxi", "Move on the ground at the present speed, wings level.")
    turn: TurnKeys = key("turn", "A level coordinated turn.")
    accelerate: AccelerateKeys = key("accelerate", "Change speed along the track.")
    climb: ClimbKeys = key("climb", "Climb, wings level.")
    descend: ClimbKeys = key("descend", "Descend, wings level.")
    great_circle: GreatCircleKeys = key("great_circle", "Fly the great circle to a place.")

    @model_validator(mode="after")
    def _one(self) -> LegKeys:
        self.only_one(*self.names())
        return self

    def kind(self) -> str:
        """The leg's key."""
        return next(iter(self.given()))

    def leg(self) -> Leg:
        """The leg."""
        kind, keys = next(iter(self.given().items()))
        return keys.leg(-1.0) if kind == "descend" else keys.leg()  # type: ignore[no-any-return]


_WIND = re.compile(r"(?P<from>[0-9]{3}\S*)\s*/\s*(?P<speed>\S.*)")


class WindKeys(Section):
    """The wind."""

    shorthand: ClassVar[str] = "270T/20 kt"

    wind_from: Annotated[Heading, HeadingValue(("true",))] = key("from", "Where it blows from, 270T.")
    wind_kt: Annotated[float, Quantity("kt", 0, 250)] = key("speed", "Its speed, 20 kt.")

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """ "270T/20 kt"."""
        match = _WIND.fullmatch(text)
        return match.groupdict() if match else None

    @model_validator(mode="after")
    def _needed(self) -> WindKeys:
        self.require("from", "speed")
        return self
