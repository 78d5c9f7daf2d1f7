"""Whether a stated number agrees with the value from the run.

The rule is `docs/decisions/0011-when-a-claim-holds.md`: half a unit of the last written digit, zeros included, the
edge counting as agreement; worked in exact fractions of the decimal numbers a person reads.
"""

from __future__ import annotations

import dataclasses
from decimal import Decimal
from fractions import Fraction

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.stated import BoundWord, Stated
from gyrochalk.quantities.value import Value
from gyrochalk.units import UNITS, as_decimal, format_heading, format_quantity, ratio, read_quantity

WHOLE_PERCENT = 100
"""A tolerance of so much of the stated number would let zero and the double of it hold."""

Bound = BoundWord | tuple[str, str, str]
"""A bound by its word; between may carry its ends as texts: ("between", "2 deg", "3 deg")."""


@dataclasses.dataclass(frozen=True, slots=True)
class Comparison:
    """A stated number beside the value from the run.

    `holds` says whether they agree; `difference` is the value from the run minus the stated one, `tolerance` how
    large it may be, `margin` how much of it is left (negative: by how much they disagree), all in `unit`, the unit
    stated. `computed` is the value from the run in that unit, with one digit more than was stated.
    """

    holds: bool
    margin: float
    tolerance: float
    difference: float
    unit: str
    stated: Stated
    value: Value
    computed: str


def compare(stated: Stated, value: Value, within: str | None = None, bound: Bound | None = None) -> Comparison:
    """Compare what was stated with a value from the run.

    `within` is a percentage of the stated number ("20%") or a quantity ("0.5 deg"), needed where the words say about;
    `bound` is below, above or between, where the words do not say it themselves.
    Raises MaterialError: unit-missing, unit-wrong, heading-unreadable, north-wrong, tolerance-missing,
    tolerance-unreadable, bound-unclear.
    """
    stated = _with_bound(stated, bound)
    _require_alike(stated, value)
    unit = stated.unit or value.unit
    exact = Fraction(as_decimal(value.number)) * ratio(value.unit, unit)
    if stated.bound is not None:
        if within is not None:
            raise MaterialError(_unclear(f"{stated.text} is a bound and has a tolerance", "leave one of them out"))
        return _bounded(stated, value, exact, unit)
    tolerance = _tolerance(stated, value, within, unit)
    difference = _difference(exact, stated.number, value)
    return _comparison(stated, value, unit, exact, difference, tolerance, tolerance - abs(difference))


def _comparison(
    stated: Stated,
    value: Value,
    unit: str,
    exact: Fraction,
    difference: Fraction,
    tolerance: Fraction,
    margin: Fraction,
) -> Comparison:
    digits = max(0, stated.decimals + 1)
    if value.north is not None:
        computed = format_heading(float(exact), value.north, digits)
    elif stated.sides:
        computed = f"{format_quantity(abs(float(exact)), unit, digits)} {stated.sides[exact < 0]}"
    else:
        computed = format_quantity(float(exact), unit, digits)
    return Comparison(margin >= 0, float(margin), float(tolerance), float(difference), unit, stated, value, computed)


def _difference(exact: Fraction, number: Decimal, value: Value) -> Fraction:
    difference = exact - Fraction(number)
    return (difference + 180) % 360 - 180 if value.north is not None else difference


def _bounded(stated: Stated, value: Value, exact: Fraction, unit: str) -> Comparison:
    number, upper = Fraction(stated.number), Fraction(stated.upper if stated.upper is not None else stated.number)
    if stated.bound == "between":
        margin = _inside(exact, number, upper, value)
    elif value.north is not None:
        raise MaterialError(_unclear(f"{stated.text} is a bound on a heading", "write between two headings"))
    elif stated.bound == "above":
        margin = exact - number
    else:
        margin = number - (exact if stated.signed else abs(exact))
    return _comparison(stated, value, unit, exact, _difference(exact, stated.number, value), Fraction(0), margin)


def _inside(exact: Fraction, low: Fraction, high: Fraction, value: Value) -> Fraction:
    """How far inside a range a value lies; a range of headings goes clockwise from its first to its second."""
    if value.north is None:
        return min(exact - low, high - exact)
    middle = low + ((high - low) % 360) / 2
    away = abs((exact - middle + 180) % 360 - 180)
    return ((high - low) % 360) / 2 - away


def _with_bound(stated: Stated, bound: Bound | None) -> Stated:
    if bound is None:
        return stated
    word = bound if isinstance(bound, str) else bound[0]
    if word not in {"below", "above", "between"}:
        raise MaterialError(_unclear(f"is={word} is not a bound", "write is=below, is=above or is=between"))
    if stated.about:
        raise MaterialError(_unclear(f"{stated.text} says about and is={word} at once", "leave one of them out"))
    if stated.bound not in {None, word}:
        raise MaterialError(_unclear(f"{stated.text} says {stated.bound}, but is={word}", "let both say the same"))
    if not isinstance(bound, str):
        return _with_ends(stated, bound[1], bound[2])
    if word == "between" and stated.upper is None:
        raise MaterialError(_unclear(f"{stated.text} has only one end", "write for example between 2° and 3°"))
    return stated if stated.bound else dataclasses.replace(stated, bound=bound)


def _with_ends(stated: Stated, low: str, high: str) -> Stated:
    ends = [read_quantity(text, example="2 deg") for text in (low, high)]
    unit = ends[1].unit or ends[0].unit
    name = unit.name if unit else stated.unit
    if any(end.unit is not None and end.unit is not unit for end in ends):
        raise MaterialError(_unclear(f"between {low} and {high} has two units", "write both ends in the same unit"))
    return dataclasses.replace(stated, number=ends[0].number, upper=ends[1].number, unit=name, bound="between")


def _require_alike(stated: Stated, value: Value) -> None:
    if value.north is not None:
        _require_heading(stated, value)
        return
    wanted = UNITS[value.unit]
    if stated.heading:
        what = f"{stated.text} is a heading, and {value.measure} is {wanted.dimension}"
        plain = format_quantity(float(stated.number), "deg", stated.decimals)
        cure = f"write {plain}" if wanted.dimension == "an angle" else "choose another measure"
        raise MaterialError(Problem("unit-wrong", what, _allowed(value.unit), cure))
    if stated.unit is None and value.unit != "1":
        what, cure = f"{stated.text} has no unit", f"write for example {stated.text} {value.unit}"
        raise MaterialError(Problem("unit-missing", what, _allowed(value.unit), cure))
    if stated.unit is not None and UNITS[stated.unit].dimension != wanted.dimension:
        measures = UNITS[stated.unit].dimension
        what = f"{stated.text} is {measures}, and {value.measure} is {wanted.dimension}"
        cure = "write it in one of these, or choose another measure"
        raise MaterialError(Problem("unit-wrong", what, _allowed(value.unit), cure))


def _allowed(unit: str) -> str:
    names = UNITS[unit].siblings
    if unit == "1":
        return "allowed is a plain number without a unit"
    return f"allowed {'is' if len(names) == 1 else 'are'} {', '.join(names)}"


def _require_heading(stated: Stated, value: Value) -> None:
    if stated.unit not in {None, "deg"}:
        what = f"{stated.text} is {UNITS[stated.unit].dimension}, and {value.measure} is a heading"
        allowed = "a heading is three figures from 000 to 360"
        raise MaterialError(Problem("unit-wrong", what, allowed, "write for example 045°"))
    if not stated.figures or stated.signed:
        shown = format_heading(float(stated.number), value.north, stated.decimals)
        what = f"{stated.text} is stated about {value.measure}, which is a heading"
        allowed = "a heading is three figures from 000 to 360"
        raise MaterialError(Problem("heading-unreadable", what, allowed, f"write {shown}"))
    if any(not 0 <= number <= 360 for number in (stated.number, stated.upper or stated.number)):
        what = f"{stated.text} is stated about {value.measure}, which is a heading"
        allowed = "a heading is three figures from 000 to 360"
        turned = format_heading(float(stated.number), value.north, stated.decimals)
        raise MaterialError(Problem("heading-unreadable", what, allowed, f"write {turned} if that is meant"))
    if stated.north is not None and stated.north != value.north:
        what = f"{stated.text} is from {stated.north} north, and {value.measure} is from {value.north} north"
        cure = f"leave the letter out, or write {format_heading(float(stated.number), value.north, stated.decimals)}"
        raise MaterialError(Problem("north-wrong", what, "a heading is compared with its own north", cure))


def _tolerance(stated: Stated, value: Value, within: str | None, unit: str) -> Fraction:
    if within is None:
        if stated.about:
            what = f"{stated.text} says about, and nothing says how far off it may be"
            cure = "add ?within=20% or ?within=0.5 and its unit to the link"
            allowed = "about needs within, a percentage or a quantity"
            raise MaterialError(Problem("tolerance-missing", what, allowed, cure))
        return Fraction(stated.half_unit)
    allowed = f"within is a percentage such as 20% or a quantity such as 0.5 {UNITS[unit].name}".removesuffix(" 1")
    try:
        quantity = read_quantity(within)
    except MaterialError as error:
        raise MaterialError(_tolerance_refused(f"within={within} cannot be read", allowed)) from error
    if quantity.number <= 0:
        raise MaterialError(_tolerance_refused(f"within={within} leaves no room", allowed))
    if quantity.unit is not None and quantity.unit.name == "%" and UNITS[unit].name != "%":
        if quantity.number >= WHOLE_PERCENT:
            allowed = "a tolerance in percent is less than 100 %"
            raise MaterialError(_tolerance_refused(f"within={within} lets everything hold", allowed))
        share = abs(Fraction(stated.number)) * Fraction(quantity.number) / 100
        if value.north is not None or share == 0:
            what = f"within={within} of {stated.text} means nothing"
            raise MaterialError(_tolerance_refused(what, allowed))
        return share
    if (quantity.unit or UNITS["1"]).dimension != UNITS[unit].dimension:
        raise MaterialError(_tolerance_refused(f"within={within} does not measure what {stated.text} does", allowed))
    return quantity.to(unit)


def _tolerance_refused(what: str, allowed: str) -> Problem:
    return Problem("tolerance-unreadable", what, allowed, "write for example within=20%, or a quantity with its unit")


def _unclear(what: str, cure: str) -> Problem:
    allowed = "a bound is less than, more than, or between two numbers of one unit"
    return Problem("bound-unclear", what, allowed, cure)
