"""The number at the head of what a person wrote, kept as a decimal with every digit they gave."""

from __future__ import annotations

import re
from decimal import Decimal

from gyrochalk.errors import MaterialError, Problem

LONGEST_TEXT = 80
LARGEST_EXPONENT = 30

_MINUS_SIGNS = str.maketrans({"−": "-", "–": "-", "‐": "-", "‑": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " "})
_NUMBER = re.compile(
    r"""(?P<sign>[+-]?)\s*
        (?P<digits>[0-9]{1,3}(?:\ [0-9]{3})+(?![0-9])(?:[.,][0-9]+)?   # 10 000
          |[0-9]+(?:[.,][0-9]+)*                                      # 10000, 3.5, 3,5
          |[.,][0-9]+)                                                # .5
        (?P<exponent>[eE][+-]?[0-9]{1,4})?""",
    re.VERBOSE,
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_NOT_FINITE = re.compile(r"[+-]?(nan|inf|infinity)\b", re.IGNORECASE)


def shorten(text: str) -> str:
    """What a person wrote, on one line, made fit for a message."""
    line = "".join(char if char.isprintable() else "?" for char in " ".join(text.split()))
    return line if len(line) <= LONGEST_TEXT else line[: LONGEST_TEXT - 1] + "…"


def tidy(text: str) -> str:
    """The text with one kind of minus sign and one kind of space."""
    return text.translate(_MINUS_SIGNS).strip()


def split_number(text: str, example: str) -> tuple[Decimal, str]:
    """The number at the head of `text` and what follows it; `example` is what a reader could have written instead.

    A decimal point or a decimal comma, every kind of minus sign, groups of three digits parted by spaces. A comma
    that could part thousands is refused, since guessing would be wrong by a thousand.
    Raises MaterialError (number-unreadable).
    """
    tidied = tidy(text)
    if len(tidied) > LONGEST_TEXT:
        raise _unreadable(f"{shorten(text)} is too long for a number with a unit", example)
    if _NOT_FINITE.match(tidied):
        raise _unreadable(f"{shorten(text)} is not a finite number", example)
    match = _NUMBER.match(tidied)
    if match is None:
        raise _unreadable(f"{shorten(text) or 'an empty text'} does not begin with a number", example)
    number = _decimal(match, text, example)
    return number, tidied[match.end() :].strip()


def _decimal(match: re.Match[str], text: str, example: str) -> Decimal:
    digits = match["digits"].replace(" ", "")
    if _THOUSANDS.fullmatch(digits):
        plain = digits.replace(",", "")
        cure = f"write {plain} or {digits.replace(',', '.')} with the unit"
        raise _unreadable(f"{shorten(text)} may mean {plain} or {digits.replace(',', '.')}", example, cure)
    if len(re.findall(r"[.,]", digits)) > 1:
        raise _unreadable(f"{shorten(text)} has more than one decimal point or comma", example)
    number = Decimal(match["sign"] + digits.replace(",", ".") + (match["exponent"] or ""))
    if not -LARGEST_EXPONENT <= number.adjusted() <= LARGEST_EXPONENT:
        raise _unreadable(f"{shorten(text)} is far outside what can be meant here", example)
    return number


def _unreadable(what: str, example: str, cure: str | None = None) -> MaterialError:
    allowed = "allowed is a number with its unit"
    return MaterialError(Problem("number-unreadable", what, allowed, cure or f"write for example {example}"))
