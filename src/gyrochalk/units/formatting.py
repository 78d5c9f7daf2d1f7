"""How a number is shown: the one rounding rule, the minus sign, the unit.

The rule is `docs/decisions/0010-rounding.md`: round half away from zero, on the decimal number a person would read.
"""

from __future__ import annotations

import contextlib
import contextvars
import math
from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Context, Decimal

from gyrochalk.units.table import UNITS

MINUS = "−"
_CONTEXT = Context(prec=400)
_MARK: contextvars.ContextVar[str] = contextvars.ContextVar("decimal mark", default=".")


@contextlib.contextmanager
def written_with(decimal_mark: str) -> Iterator[None]:
    """While this is open, numbers shown to people carry `decimal_mark` between whole and decimals: "." or ",".

    Only what this thread shows within it; numbers for programs (files, drawings) never pass through here.
    """
    token = _MARK.set(decimal_mark)
    try:
        yield
    finally:
        _MARK.reset(token)


def marked(text: str) -> str:
    """A number written with a point, with the decimal mark in force."""
    return text.replace(".", _MARK.get())


def as_decimal(number: float) -> Decimal:
    """A number as the shortest decimal that names it, the one a person reads: 0.15 and not 0.1499999999999999944."""
    return Decimal(repr(float(number)))


def round_half_away(number: float, decimals: int) -> Decimal:
    """The number rounded to `decimals` digits after the point, a half going away from zero; never minus zero.

    `decimals` may be negative: -1 rounds to tens. Raises ValueError for a number that is not finite.
    """
    if not math.isfinite(number):
        raise ValueError(f"{number} cannot be shown as a number")
    rounded = as_decimal(number).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP, _CONTEXT)
    return abs(rounded) if rounded.is_zero() else rounded


def format_number(number: float, decimals: int) -> str:
    """A number with a fixed count of digits after the point and the true minus sign: "−7.9"."""
    return marked(format(round_half_away(number, decimals), "f").replace("-", MINUS))


def format_quantity(value: float, unit: str, decimals: int) -> str:
    """A number with its unit as it is shown to people: "2.0°", "−7.9 °/h", "30 min".

    `unit` is a plain unit name, `decimals` the digits after the point. Raises ValueError if `value` is not finite.
    """
    shown = UNITS[unit]
    space = "" if shown.tight or not shown.shown else " "
    return f"{format_number(value, decimals)}{space}{shown.shown}"
