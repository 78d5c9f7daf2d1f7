"""Rules about turns at rate one."""

from __future__ import annotations

import math

from gyrochalk.quantities.rules.rule import Given, Parameter, Rule
from gyrochalk.units import convert

STANDARD_GRAVITY_M_S2 = 9.80665
RATE_ONE_DEG_S = 3.0

TAS = Parameter("tas", "kt", "the true airspeed", 1.0, 700.0)
SOME_TAS = Parameter("tas", "kt", "the true airspeed", 1.0, 700.0, default=100.0)
ROLL = Parameter("roll", "deg/s", "the roll rate", 1.0, 90.0, default=10.0)
CHANGE = Parameter("change", "deg", "how far to turn", 0.0, 3600.0)


def rate_one_bank(tas_kt: float) -> float:
    """The bank [deg] of a coordinated rate-one turn at the true airspeed `tas_kt`: tan φ = V ω/g."""
    speed_m_s = convert(tas_kt, "kt", "m/s")
    return math.degrees(math.atan(speed_m_s * math.radians(RATE_ONE_DEG_S) / STANDARD_GRAVITY_M_S2))


def turn_time(change_deg: float, tas_kt: float, roll_deg_s: float) -> float:
    """How long a rate-one turn takes, rolling in and out counted [s].

    `change_deg` how far it turns, `tas_kt` true airspeed, `roll_deg_s` roll rate. While the bank grows at p the nose
    turns ψ = g/(pV)·(−ln cos β). A turn too short to reach its bank takes twice the time to the bank it does reach.
    """
    speed_m_s, roll_rad_s = convert(tas_kt, "kt", "m/s"), math.radians(roll_deg_s)
    bank_rad = math.radians(rate_one_bank(tas_kt))
    scale = STANDARD_GRAVITY_M_S2 / (roll_rad_s * speed_m_s)
    rolling_rad = -2.0 * scale * math.log(math.cos(bank_rad))
    left_rad = math.radians(change_deg) - rolling_rad
    if left_rad < 0.0:
        return 2.0 * math.acos(math.exp(-math.radians(change_deg) / (2.0 * scale))) / roll_rad_s
    return 2.0 * bank_rad / roll_rad_s + left_rad / math.radians(RATE_ONE_DEG_S)


def _timed(given: Given) -> float:
    return turn_time(given["change"], given["tas"], given["roll"])


def _circle_min(given: Given) -> float:
    return turn_time(360.0, given["tas"], given["roll"]) / 60.0


TURNS: tuple[Rule, ...] = (
    Rule(
        name="rate-one-bank",
        sentence="For a rate-one turn, bank a tenth of the airspeed in knots plus 7 degrees.",
        mark="C",
        source="common practice",
        unit="deg",
        parameters=(TAS,),
        says=lambda given: given["tas"] / 10.0 + 7.0,
        model=lambda given: rate_one_bank(given["tas"]),
        model_note="the bank of a coordinated turn at 3° a second",
    ),
    Rule(
        name="rate-one-circle",
        sentence="A full circle at rate one takes two minutes.",
        mark="C",
        source="common practice",
        unit="min",
        parameters=(SOME_TAS, ROLL),
        says=lambda given: 2.0,
        model=_circle_min,
        model_note="the time with rolling in and rolling out counted",
    ),
    Rule(
        name="timed-turn",
        sentence="At rate one, divide the change of heading by 3 to have the seconds.",
        mark="C",
        source="common practice",
        unit="s",
        parameters=(CHANGE, SOME_TAS, ROLL),
        says=lambda given: given["change"] / RATE_ONE_DEG_S,
        model=_timed,
        model_note="the time with rolling in and rolling out counted",
    ),
)
