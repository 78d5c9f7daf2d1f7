"""The units people write and read in gyrochalk: a small table of our own.

N, S, g, h and NM mean what pilots mean. Every unit has one plain name (`deg/min`), used in files and in code, one way
of being shown (`°/min`) and other spellings that are accepted.
"""

from __future__ import annotations

import dataclasses
from decimal import Decimal
from fractions import Fraction
from itertools import product

DEGREES_IN_A_RADIAN = Fraction(Decimal("57.295779513082320876798154814105170332"))
FOOT_M = Fraction(3048, 10000)
NAUTICAL_MILE_M = Fraction(1852)
STANDARD_GRAVITY_M_S2 = Fraction(980665, 100000)


@dataclasses.dataclass(frozen=True, slots=True)
class Unit:
    """One unit of measurement.

    `name` is its plain name; `dimension` what it measures, with its article ("an angular rate"); `factor` how many
    base units of its dimension it holds, exactly; `shown` how it is displayed; `spellings` what else is accepted;
    `tight` whether it follows its number without a space.
    """

    name: str
    dimension: str
    factor: Fraction
    shown: str
    spellings: tuple[str, ...] = ()
    tight: bool = False

    @property
    def siblings(self) -> tuple[str, ...]:
        """Names of the units a person may write where this one is wanted, in the order of the table."""
        return tuple(unit.name for unit in UNITS.values() if unit.dimension == self.dimension)


def _rate_spellings(per: tuple[str, ...]) -> tuple[str, ...]:
    angles = ("deg", "°", "degree", "degrees", "degs")
    return tuple(angle + slash + time for angle, slash, time in product(angles, ("/", " / ", " per "), per))


def _table(*units: Unit) -> dict[str, Unit]:
    return {unit.name: unit for unit in units}


_HOUR = ("h", "hr", "hour")
_MINUTE = ("min", "minute")
_SECOND = ("s", "sec", "second")
_MOMENT = ("A·m²", "A m²", "A·m2", "A*m2", "A m^2", "Am2", "Am²")
_WALK = ("deg/√h", "°/√h", "°/sqrt(h)", "deg/sqrt h", "°/sqrt h")

UNITS: dict[str, Unit] = _table(
    Unit("deg", "an angle", Fraction(1), "°", ("°", "degree", "degrees", "degs"), tight=True),
    Unit("rad", "an angle", DEGREES_IN_A_RADIAN, "rad", ("radian", "radians")),
    Unit("deg/s", "an angular rate", Fraction(1), "°/s", _rate_spellings(_SECOND)),
    Unit("deg/min", "an angular rate", Fraction(1, 60), "°/min", _rate_spellings(_MINUTE)),
    Unit("deg/h", "an angular rate", Fraction(1, 3600), "°/h", _rate_spellings(_HOUR)),
    Unit("s", "a time", Fraction(1), "s", ("sec", "secs", "second", "seconds")),
    Unit("min", "a time", Fraction(60), "min", ("mins", "minute", "minutes")),
    Unit("h", "a time", Fraction(3600), "h", ("hr", "hrs", "hour", "hours")),
    Unit("ms", "a time", Fraction(1, 1000), "ms", ("millisecond", "milliseconds")),
    Unit("kt", "a speed", NAUTICAL_MILE_M / 3600, "kt", ("kts", "kn", "knot", "knots")),
    Unit("km/h", "a speed", Fraction(1000, 3600), "km/h", ("kph", "kmh")),
    Unit("m/s", "a speed", Fraction(1), "m/s"),
    Unit("ft/min", "a speed", FOOT_M / 60, "ft/min", ("fpm", "feet/min", "feet per minute", "ft per min")),
    Unit("ft", "a length", FOOT_M, "ft", ("foot", "feet")),
    Unit("m", "a length", Fraction(1), "m", ("metre", "metres", "meter", "meters")),
    Unit("km", "a length", Fraction(1000), "km", ("kilometre", "kilometres", "kilometer", "kilometers")),
    Unit("NM", "a length", NAUTICAL_MILE_M, "NM", ("nm", "nmi", "nautical mile", "nautical miles")),
    Unit("uT", "a magnetic field", Fraction(1), "µT", ("µT", "μT", "microtesla")),
    Unit("nT", "a magnetic field", Fraction(1, 1000), "nT", ("nanotesla",)),
    Unit("g", "an acceleration", STANDARD_GRAVITY_M_S2, "g", ("G",)),
    Unit("m/s2", "an acceleration", Fraction(1), "m/s²", ("m/s²", "m/s^2")),
    Unit("deg/sqrt(h)", "a random walk of an angle", Fraction(1), "°/√h", _WALK),
    Unit("Hz", "a frequency", Fraction(1), "Hz", ("hertz",)),
    Unit("kHz", "a frequency", Fraction(1000), "kHz", ("kilohertz",)),
    Unit("V", "a voltage", Fraction(1), "V", ("volt", "volts")),
    Unit("mV", "a voltage", Fraction(1, 1000), "mV", ("millivolt", "millivolts")),
    Unit("A m2", "a magnetic moment", Fraction(1), "A·m²", _MOMENT),
    Unit("1", "a plain number", Fraction(1), ""),
    Unit("%", "a share", Fraction(1), "%", ("percent", "per cent")),
)
"""Every unit by its plain name."""

_BY_SPELLING = {spelling: unit for unit in UNITS.values() for spelling in (unit.name, unit.shown, *unit.spellings)}


def find_unit(spelling: str) -> Unit | None:
    """The unit meant by a spelling a person used, or None. Capitals count: NM, N and nT are different things."""
    words = " ".join(spelling.split())
    return _BY_SPELLING.get(words) if words else None


def known_spellings() -> tuple[str, ...]:
    """Every accepted spelling of every unit, for finding the one nearest to a misspelt one."""
    return tuple(spelling for spelling in _BY_SPELLING if spelling not in {"", "1"})


def convert(number: float, unit: str, to: str) -> float:
    """A number of `unit` in the unit `to` (plain names of the same dimension); exact up to the last bit.

    Raises ValueError if the two units measure different things: that is a mistake in the program, not in a lesson.
    """
    return float(Fraction(number) * ratio(unit, to))


def ratio(unit: str, to: str) -> Fraction:
    """How many `to` there are in one `unit`, exactly; raises ValueError if they measure different things."""
    one, other = UNITS[unit], UNITS[to]
    if one.dimension != other.dimension:
        raise ValueError(f"{unit} is {one.dimension}, {to} is {other.dimension}")
    return one.factor / other.factor
