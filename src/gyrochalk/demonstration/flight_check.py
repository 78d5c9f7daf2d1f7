"""Whether the legs of a flight can be flown one after another, and how long they last at most."""

from __future__ import annotations

import dataclasses
import math

from gyrochalk.demonstration.flight_keys import (
    AccelerateKeys,
    ClimbKeys,
    GreatCircleKeys,
    LegKeys,
    StandKeys,
    TaxiKeys,
    TurnKeys,
)
from gyrochalk.demonstration.refusal import Path
from gyrochalk.demonstration.section import Section
from gyrochalk.errors import Problem
from gyrochalk.units import convert, format_quantity

STANDARD_GRAVITY_M_S2 = 9.80665
STEEPEST_BANK_DEG = 80.0
STEEPEST_PATH = 0.7
FASTEST_KT = 1000.0
SETTLING_S = 60.0


@dataclasses.dataclass
class FlightCheck:
    """Follows speed, height and time from leg to leg; `problems` has what cannot be flown, with its path."""

    tas_kt: float
    height_ft: float | None = None
    longest_s: float = 0.0
    problems: list[tuple[Path, Problem]] = dataclasses.field(default_factory=list)

    def follow(self, legs: tuple[LegKeys, ...]) -> FlightCheck:
        """Go through all legs."""
        for index, leg in enumerate(legs):
            kind, keys = next(iter(leg.given().items()))
            self._leg((index, kind), kind, keys)
        return self

    def _leg(self, path: Path, kind: str, keys: Section) -> None:
        if isinstance(keys, TurnKeys):
            self._turn(path, keys)
        elif isinstance(keys, AccelerateKeys):
            self._accelerate(path, keys)
        elif isinstance(keys, ClimbKeys):
            self._climb(path, keys, -1.0 if kind == "descend" else 1.0)
        elif isinstance(keys, GreatCircleKeys):
            self._needs_speed(path, "a great circle")
            self.longest_s = math.inf
        else:
            if isinstance(keys, StandKeys) and self.tas_kt > 0.0:
                what = f"the aircraft stands still at {format_quantity(self.tas_kt, 'kt', 0)}"
                self._refuse(path, what, "a speed of 0 kt", "write hold, or speed: 0 kt")
            if isinstance(keys, TaxiKeys) and keys.given().get("turn_deg"):
                self._needs_speed(path, "a taxi leg with a turn")
            self.longest_s += keys.given()["duration_s"]

    def _turn(self, path: Path, keys: TurnKeys) -> None:
        given = keys.given()
        through_deg = given.get("right", given.get("left", 360.0))
        if not self._needs_speed(path, "a turn"):
            return
        tas_m_s = convert(self.tas_kt, "kt", "m/s")
        if "bank_deg" in given:
            rate = math.tan(math.radians(keys.bank_deg)) * STANDARD_GRAVITY_M_S2 / tas_m_s
        else:
            rate = math.radians(given.get("rate_deg_s", 3.0))
        bank_deg = math.degrees(math.atan(rate * tas_m_s / STANDARD_GRAVITY_M_S2))
        if bank_deg > STEEPEST_BANK_DEG:
            self._refuse(
                (*path, "rate") if "rate_deg_s" in given else path,
                f"{format_quantity(math.degrees(rate), 'deg/s', 1)} at {format_quantity(self.tas_kt, 'kt', 0)} "
                f"needs {format_quantity(bank_deg, 'deg', 1)} of bank",
                f"{format_quantity(STEEPEST_BANK_DEG, 'deg', 0)} of bank at most",
                "turn more gently or fly slower",
            )
        self.longest_s += through_deg / math.degrees(rate) + SETTLING_S

    def _accelerate(self, path: Path, keys: AccelerateKeys) -> None:
        given = keys.given()
        gain_kt_s = convert(keys.acceleration_g * STANDARD_GRAVITY_M_S2, "m/s", "kt")
        start_kt = self.tas_kt
        if "to_tas_kt" in given:
            self.tas_kt = keys.to_tas_kt
            if (self.tas_kt - start_kt) * gain_kt_s <= 0:
                verb = "reaches" if self.tas_kt == start_kt else "leads away from"
                what = f"{keys.acceleration_g:g} g {verb} {self.tas_kt:g} kt from {start_kt:g} kt"
                what = what.replace("reaches", "has nothing to change to reach")
                self._refuse(
                    (*path, "to"),
                    what,
                    "a speed above the present one when by is positive, below when negative",
                    "change by or to",
                )
            self.longest_s += abs((self.tas_kt - start_kt) / gain_kt_s)
            return
        self.tas_kt = start_kt + gain_kt_s * keys.duration_s
        self.longest_s += keys.duration_s
        if not 0.0 <= self.tas_kt <= FASTEST_KT:
            self._refuse(
                (*path, "for"),
                f"the speed would be {format_quantity(self.tas_kt, 'kt', 0)} at the end",
                f"0 kt to {FASTEST_KT:g} kt",
                "accelerate for less time",
            )
            self.tas_kt = min(max(self.tas_kt, 0.0), FASTEST_KT)

    def _climb(self, path: Path, keys: ClimbKeys, sign: float) -> None:
        given = keys.given()
        if not self._needs_speed(path, "a climb" if sign > 0 else "a descent"):
            return
        if convert(keys.vertical_speed_ft_min, "ft/min", "kt") > STEEPEST_PATH * self.tas_kt:
            self._refuse(
                (*path, "at"),
                f"{keys.vertical_speed_ft_min:g} ft/min at {self.tas_kt:g} kt is too steep",
                f"{STEEPEST_PATH:.0%} of the true airspeed at most",
                "climb or descend more gently",
            )
        if "duration_s" in given:
            self.longest_s += keys.duration_s + SETTLING_S
            if self.height_ft is not None:
                self.height_ft += sign * keys.vertical_speed_ft_min * keys.duration_s / 60.0
            return
        self._climb_to(path, keys, sign)

    def _climb_to(self, path: Path, keys: ClimbKeys, sign: float) -> None:
        if self.height_ft is None:
            return
        to_go_ft = sign * (keys.to_height_ft - self.height_ft)
        if to_go_ft <= 0.0:
            way = "climb" if sign > 0 else "descent"
            self._refuse(
                (*path, "to"),
                f"a {way} to {keys.to_height_ft:g} ft begins at {format_quantity(self.height_ft, 'ft', 0)}",
                f"a height {'above' if sign > 0 else 'below'} that",
                "change the height, or the height of the place",
            )
        self.longest_s += abs(to_go_ft) / keys.vertical_speed_ft_min * 60.0 + SETTLING_S
        self.height_ft = keys.to_height_ft

    def _needs_speed(self, path: Path, what: str) -> bool:
        if self.tas_kt > 0.0:
            return True
        self._refuse(path, f"{what} begins at 0 kt", "a speed above 0 kt", "set speed, or accelerate first")
        return False

    def _refuse(self, path: Path, what: str, allowed: str, cure: str) -> None:
        self.problems.append((path, Problem("flight-impossible", what, allowed, cure)))
