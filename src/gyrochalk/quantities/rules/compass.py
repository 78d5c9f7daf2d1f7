"""Rules about the direct-reading compass in turns and in accelerations."""

from __future__ import annotations

import math

from gyrochalk.quantities.rules.rule import DIP, LATITUDE, Given, Parameter, Rule
from gyrochalk.quantities.rules.static_law import (
    dipole_dip,
    error_in_acceleration,
    error_in_turn,
    reading_in_turn,
)
from gyrochalk.units import wrap_360

BANK = Parameter("bank", "deg", "the bank, right or left", 0.0, 60.0, default=16.5)
HEADING = Parameter("heading", "deg", "the magnetic heading", 0.0, 360.0, kind="heading")
TO = Parameter("to", "deg", "the heading to roll out on", 0.0, 360.0, kind="heading")
TURN = Parameter("turn", "1", "right (1) or left (-1)", -1.0, 1.0, default=1.0, kind="side")
ACCELERATION = Parameter("acceleration", "g", "the acceleration, forward positive", -1.0, 1.0, default=0.1)

_DIP_NOTE = "at the dip given, or else at the dip of a dipole field in that latitude"


def _dip(given: Given) -> float:
    return given["dip"] if "dip" in given else dipole_dip(given["lat"])


def _greatest_turning_error(given: Given) -> float:
    return abs(error_in_turn(0.0, given["bank"], _dip(given)))


def _roll_out_reading(given: Given) -> float:
    side = math.copysign(1.0, given["turn"])
    lag = given["lat"] * math.cos(math.radians(given["to"]))
    return wrap_360(given["to"] - side * (given["bank"] / 2.0 + lag))


def _steady_reading_at_roll_out(given: Given) -> float:
    side = math.copysign(1.0, given["turn"])
    return reading_in_turn(given["to"] - side * given["bank"] / 2.0, side * given["bank"], _dip(given))


def _sense(given: Given) -> float:
    east = math.sin(math.radians(given["heading"]))
    if abs(east) < 1e-9 or given["acceleration"] == 0.0:
        return 0.0
    return math.copysign(1.0, given["acceleration"] * given["lat"])


def _acceleration_error(given: Given) -> float:
    return error_in_acceleration(given["heading"], given["acceleration"], _dip(given))


COMPASS: tuple[Rule, ...] = (
    Rule(
        name="turning-lag",
        sentence=(
            "Turning through north or south at 15 to 18° of bank, the compass lags or leads by the latitude: it lags "
            "on north and leads on south (in the southern hemisphere lag and lead exchange)."
        ),
        mark="S",
        source="ifh-5-22",
        unit="deg",
        parameters=(LATITUDE, BANK, DIP),
        says=lambda given: abs(given["lat"]),
        model=_greatest_turning_error,
        model_note=f"the error of the steady card on north, {_DIP_NOTE}",
    ),
    Rule(
        name="roll-out",
        sentence=(
            "Roll out when the compass is short of north by the latitude and half the bank, "
            "or past south by the latitude less half the bank; on east and west by half the bank alone."
        ),
        mark="C",
        source="common practice",
        unit="deg",
        parameters=(TO, LATITUDE, Parameter("bank", "deg", "the bank", 0.0, 60.0, default=18.0), TURN, DIP),
        says=_roll_out_reading,
        model=_steady_reading_at_roll_out,
        model_note=f"what the steady card reads half the bank before the heading, {_DIP_NOTE}",
        north="compass",
        model_north="compass",
    ),
    Rule(
        name="ands",
        sentence=(
            "On east and west, accelerate and the compass shows a turn to the north, decelerate and it shows one "
            "to the south (the other way in the southern hemisphere); on north and south it shows none."
        ),
        mark="S",
        source="ifh-5-22",
        unit="1",
        parameters=(
            HEADING,
            ACCELERATION,
            Parameter("lat", "deg", "the latitude, north positive", -90.0, 90.0, default=45.0, kind="latitude"),
            DIP,
        ),
        says=_sense,
        model=_acceleration_error,
        model_unit="deg",
        model_note=f"the error of the steady card, right positive, {_DIP_NOTE}",
        wording={1.0: "a turn to the north", -1.0: "a turn to the south", 0.0: "no turn"},
    ),
    Rule(
        name="deviation-limit",
        sentence="The deviation of an installed direct-reading compass may not exceed 10° on any heading.",
        mark="S",
        source="cfr-25.1327",
        unit="deg",
        parameters=(),
        says=lambda given: 10.0,
    ),
)
