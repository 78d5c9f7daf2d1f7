"""A number with its unit, read from what a person wrote."""

from __future__ import annotations

import dataclasses
import itertools
import re
from decimal import Decimal
from fractions import Fraction

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.units.spelling import nearest
from gyrochalk.units.table import UNITS, Unit, find_unit, known_spellings, ratio
from gyrochalk.units.written import shorten, split_number, tidy

_TIME_PART = re.compile(r"([0-9]+(?:[.,][0-9]+)?)\s*([A-Za-z]+)\s*")


@dataclasses.dataclass(frozen=True, slots=True)
class Quantity:
    """A number exactly as written, and its unit.

    `number` keeps every digit given, zeros at its end included; `unit` is None where only a number was written.
    """

    number: Decimal
    unit: Unit | None

    @property
    def decimals(self) -> int:
        """How many digits were written after the decimal point (negative: the last digits are a power of ten)."""
        exponent = self.number.as_tuple().exponent
        return -exponent if isinstance(exponent, int) else 0

    def to(self, unit: str) -> Fraction:
        """The number in another unit of the same dimension, exactly."""
        return Fraction(self.number) * ratio(self.unit.name if self.unit else "1", unit)


def parse(text: str, to: str) -> float:
    """The quantity a person wrote, as a number of the unit `to`.

    `text` for example "3 deg/min"; `to` a plain unit name, for example "deg/h", which gives 180.0. A bare number is
    accepted only where `to` is "1". Raises MaterialError: number-unreadable, unit-missing, unit-wrong.
    """
    return float(parse_quantity(text, to).to(to))


def parse_quantity(text: str, to: str) -> Quantity:
    """The quantity a person wrote, every digit kept, provided it measures the same as the unit `to`.

    Raises MaterialError: number-unreadable, unit-missing, unit-wrong.
    """
    wanted = UNITS[to]
    example = example_of("3", wanted)
    quantity = read_quantity(text, example=example, units=wanted.siblings)
    if quantity.unit is None:
        if wanted.name != "1":
            raise _unit_missing(text, wanted)
        return quantity
    if quantity.unit.dimension != wanted.dimension:
        raise MaterialError(wrong_dimension(text, quantity, wanted))
    return quantity


def read_quantity(text: str, example: str = "3 deg/min", units: tuple[str, ...] = ()) -> Quantity:
    """The number and unit a person wrote, whatever it measures; the unit is None if there is only a number.

    "1 h 30 min" is read as 90 min. `units` are the names offered where the unit is unknown.
    Raises MaterialError: number-unreadable, unit-wrong.
    """
    if compound := _hours_and_minutes(text):
        return compound
    number, spelling = split_number(text, example)
    if not spelling:
        return Quantity(number, None)
    unit = find_unit(spelling)
    if unit is None:
        raise _unit_unknown(text, number, spelling, units)
    return Quantity(number, unit)


def _hours_and_minutes(text: str) -> Quantity | None:
    tidied = tidy(text)
    parts = _TIME_PART.findall(tidied)
    if not 2 <= len(parts) <= 3 or _TIME_PART.sub("", tidied):
        return None
    units = [find_unit(spelling) for _, spelling in parts]
    if any(unit is None or unit.dimension != "a time" for unit in units):
        return None
    pieces = [Quantity(Decimal(digits.replace(",", ".")), unit) for (digits, _), unit in zip(parts, units)]
    smallest = pieces[-1].unit
    factors = [unit.factor for unit in units if unit is not None]
    if smallest is None or any(b >= a for a, b in itertools.pairwise(factors)):
        return None
    whole = sum((piece.to(smallest.name) for piece in pieces[:-1]), Fraction(0))
    if whole.denominator != 1:
        return None
    return Quantity(pieces[-1].number + Decimal(whole.numerator), smallest)


def example_of(number: str, unit: Unit) -> str:
    """A quantity as a person could write it in a file: "3 deg/min", or "3" where no unit is wanted."""
    return number if unit.name == "1" else f"{number} {unit.name}"


def allowed_units(unit: Unit) -> str:
    """The units a person may write where `unit` is wanted, in words."""
    names = unit.siblings
    if unit.name == "1":
        return "allowed is a plain number without a unit"
    return f"allowed {'is' if len(names) == 1 else 'are'} {', '.join(names)}"


def wrong_dimension(text: str, quantity: Quantity, wanted: Unit) -> Problem:
    """The problem of a quantity that measures something else than `wanted`."""
    measures = quantity.unit.dimension if quantity.unit else "a plain number"
    cure = f"write for example {example_of(plain(quantity.number), wanted)}"
    return Problem("unit-wrong", f"{shorten(text)} is {measures}, not {wanted.dimension}", allowed_units(wanted), cure)


def plain(number: Decimal) -> str:
    """A decimal number as digits, without an exponent and with a hyphen for a minus sign."""
    return format(number, "f")


def _unit_missing(text: str, wanted: Unit) -> MaterialError:
    cure = f"write for example {example_of(shorten(text), wanted)}"
    return MaterialError(Problem("unit-missing", f"{shorten(text)} has no unit", allowed_units(wanted), cure))


def _unit_unknown(text: str, number: Decimal, spelling: str, units: tuple[str, ...]) -> MaterialError:
    names = units or tuple(name for name in UNITS if name != "1")
    guess = nearest(spelling, known_spellings())
    meant = find_unit(guess) if guess else None
    unit = meant.name if meant and meant.name in names else names[0]
    cure = f"write for example {example_of(plain(number), UNITS[unit])}"
    allowed = allowed_units(UNITS[names[0]]) if units else f"allowed are {', '.join(names)}"
    what = f"{shorten(text)} has the unknown unit {shorten(spelling)}"
    return MaterialError(Problem("unit-wrong", what, allowed, cure))
