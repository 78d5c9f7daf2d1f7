"""The number a person stated in a lesson, with the precision they wrote it to."""

from __future__ import annotations

import dataclasses
import re
from decimal import Decimal
from typing import Literal

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.units import North, Quantity, parse_heading, read_quantity

BoundWord = Literal["below", "above", "between"]

EXAMPLE = "30 min"

_ABOUT = re.compile(r"(?:about|around|roughly|approximately|nearly|almost|some)\s+|[≈~]\s*", re.IGNORECASE)
_BELOW = re.compile(
    r"(?:less than|not more than|no more than|at most|up to|below|under|within)\s+|[<≤]\s*", re.IGNORECASE
)
_ABOVE = re.compile(r"(?:more than|not less than|no less than|at least|above|over)\s+|[>≥]\s*", re.IGNORECASE)
_RANGES = (
    re.compile(r"between\s+(?P<low>.+?)\s+and\s+(?P<high>.+)", re.IGNORECASE),
    re.compile(r"(?:from\s+)?(?P<low>.*[0-9].*?)\s+to\s+(?P<high>.+)", re.IGNORECASE),
    re.compile(r"(?P<low>.*[0-9][^0-9–-]*?)(?<![0-9][eE])\s*[–-]\s*(?P<high>[0-9].*)"),
)
_HEADING = re.compile(r"(?P<figures>[0-9]+)(?:[.,][0-9]+)?\s*°?\s*(?P<north>T|M|C|G|true|magnetic|compass|gyro|grid)?")
_SIDE = re.compile(r"(?P<number>[0-9]+(?:[.,][0-9]+)?)\s*(?:°|deg)?\s*(?P<side>[NSEW])")
_POWER = re.compile(r"(?P<number>[+\-−]?(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)[eE][+\-−]?(?P<power>[0-9]+))")
_SIGN = re.compile(r"[+\-−–‐‑]")


@dataclasses.dataclass(frozen=True, slots=True)
class Stated:
    """A stated number.

    `number` exactly as written, in `unit` (a plain unit name, None if none was written); `decimals` digits after the
    point. `about` if the words say so; `bound` if they name one, `upper` the other end of a "between".
    `heading` if it can only be a heading (a north or a leading zero), `figures` if it has three figures as a heading
    must; `north` if one was named; `sides` which letters, plus first, stand for the sign.
    `signed` if a sign or a side (N, S, E, W) was written. `text` is what was written.
    """

    text: str
    number: Decimal
    unit: str | None
    decimals: int
    about: bool = False
    heading: bool = False
    figures: bool = False
    north: North | None = None
    signed: bool = False
    bound: BoundWord | None = None
    upper: Decimal | None = None
    sides: Literal["", "NS", "EW"] = ""

    @property
    def half_unit(self) -> Decimal:
        """Half a unit of the last written digit, in the stated unit."""
        return Decimal(5).scaleb(-self.decimals - 1)


def parse_stated(text: str) -> Stated:
    """The number with its unit that a person wrote in a lesson: "30 min", "about 2°", "045° M", "−7.9 °/h".

    Words before it may say about, below ("less than 3°"), above ("more than 3°") or between ("between 2 and 3°").
    Raises MaterialError: number-unreadable, unit-wrong, heading-unreadable, bound-unclear.
    """
    words = " ".join(text.split())
    opening = _ABOUT.match(words)
    about = opening is not None
    words = words[opening.end() :] if opening else words
    stated = _bounded(words) or _single(words)
    if about and stated.bound is not None:
        what = f"{text} says about and {stated.bound} at once"
        raise MaterialError(_unclear(what, "write one of them"))
    return dataclasses.replace(stated, text=" ".join(text.split()), about=about)


def _bounded(words: str) -> Stated | None:
    if opening := _BELOW.match(words):
        return dataclasses.replace(_single(words[opening.end() :]), bound="below")
    if opening := _ABOVE.match(words):
        return dataclasses.replace(_single(words[opening.end() :]), bound="above")
    for pattern in _RANGES:
        if match := pattern.fullmatch(words):
            return _range(words, _single(match["low"]), _single(match["high"]))
    return None


def _range(words: str, low: Stated, high: Stated) -> Stated:
    if low.unit not in {None, high.unit} or (low.north is not None and low.north != high.north):
        raise MaterialError(_unclear(f"{words} has two units", "write both ends in the same unit"))
    heading = low.heading or high.heading
    if not heading and low.number > high.number:
        raise MaterialError(_unclear(f"{words} begins with its greater end", "write the lesser end first"))
    return dataclasses.replace(
        high,
        number=low.number,
        upper=high.number,
        bound="between",
        heading=heading,
        figures=low.figures and high.figures,
        signed=low.signed or high.signed,
    )


def _single(words: str) -> Stated:
    if match := _SIDE.fullmatch(words):
        number = Decimal(match["number"].replace(",", "."))
        side = -number if match["side"] in "SW" else number
        sides: Literal["NS", "EW"] = "NS" if match["side"] in "NS" else "EW"
        return Stated(words, side, "deg", Quantity(number, None).decimals, signed=True, sides=sides)
    match = _HEADING.fullmatch(words)
    if match and (match["north"] or (len(match["figures"]) == 3 and match["figures"][0] == "0")):
        return _heading(words, match)
    if power := _POWER.match(words):
        what, allowed = f"{words} is written with a power of ten", "a number in plain figures"
        plain = (
            f"{Decimal(power['number'].replace(',', '.').replace('−', '-')):f}" if len(power["power"]) < 2 else "30 min"
        )
        raise MaterialError(Problem("number-unreadable", what, allowed, f"write {plain}{words[power.end() :]}"))
    quantity = read_quantity(words, example=EXAMPLE)
    unit = quantity.unit.name if quantity.unit else None
    figures = match is not None and len(match["figures"]) == 3
    return Stated(words, quantity.number, unit, quantity.decimals, figures=figures, signed=bool(_SIGN.match(words)))


def _heading(words: str, match: re.Match[str]) -> Stated:
    heading = parse_heading(words)
    number = Decimal(re.split(r"[^0-9.]", words.replace(",", "."), maxsplit=1)[0])
    return Stated(words, number, "deg", heading.decimals, heading=True, figures=True, north=heading.north)


def _unclear(what: str, cure: str) -> Problem:
    allowed = "a bound is less than, more than, or between two numbers of one unit"
    return Problem("bound-unclear", what, allowed, cure)
