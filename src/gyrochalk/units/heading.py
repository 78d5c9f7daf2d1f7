"""Headings: three figures, clockwise from a north that is named."""

from __future__ import annotations

import dataclasses
import re
from decimal import Decimal
from typing import Literal, NoReturn

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.units.formatting import marked, round_half_away
from gyrochalk.units.wrapping import wrap_360
from gyrochalk.units.written import shorten, tidy

North = Literal["true", "magnetic", "compass", "gyro", "grid"]

NORTH_MARKS: dict[North, str] = {"true": "T", "magnetic": "M", "compass": "C", "gyro": "gyro", "grid": "G"}
"""What is written after a heading to say which north it is from."""

_NORTHS: dict[str, North] = {
    **{mark.casefold(): north for north, mark in NORTH_MARKS.items()},
    **{north.casefold(): north for north in NORTH_MARKS},
}
_HEADING = re.compile(r"(?P<figures>[+-]?[0-9]+)(?P<rest>[.,][0-9]+)?\s*(?P<degree>°|deg)?\s*(?P<north>[A-Za-z]*)")
_ALLOWED = "a heading is three figures from 000 to 360, with T, M or C after it for the north it is from"


@dataclasses.dataclass(frozen=True, slots=True)
class Heading:
    """A heading as a person wrote it.

    `degrees` clockwise from `north`, in [0, 360) (360 is held as 0); `north` is None where none was named;
    `decimals` how many digits stood after the point.
    """

    degrees: float
    north: North | None
    decimals: int = 0


def parse_heading(text: str) -> Heading:
    """The heading a person wrote: "045", "045T", "045M", "045C", "045.5° M".

    Three figures before any decimal point, from 000 to 360; T, M, C, G or the word (true, magnetic, compass, grid,
    gyro) names the north. Raises MaterialError (heading-unreadable).
    """
    match = _HEADING.fullmatch(tidy(text))
    if match is None:
        _refuse(f"{shorten(text) or 'an empty text'} is not a three-figure heading", "write for example 045M")
    letters = match["north"]
    if letters and letters.casefold() not in _NORTHS:
        cure = f"write for example {match['figures']}M"
        _refuse(f"{shorten(text)} names the unknown north {letters}", cure)
    north = _NORTHS[letters.casefold()] if letters else None
    decimal_part = (match["rest"] or "").replace(",", ".")
    if len(match["figures"]) > 12 or len(decimal_part) > 12:
        _refuse(f"{shorten(text)} is not a three-figure heading", "write for example 045M")
    _require_three_figures(text, match["figures"], decimal_part, north)
    return Heading(wrap_360(float(match["figures"] + decimal_part)), north, max(0, len(decimal_part) - 1))


def _require_three_figures(text: str, figures: str, decimal_part: str, north: North | None) -> None:
    number = Decimal(figures + decimal_part)
    turned = abs((number % 360 + 360) % 360)
    mended = f"{turned:0{3 + len(decimal_part)}f}{NORTH_MARKS[north] if north else ''}"
    if figures[0] in "+-":
        _refuse(f"{shorten(text)} has a sign, and a heading has none", f"write {mended}")
    if not 0 <= number <= 360:
        _refuse(f"{shorten(text)} is beyond 360", f"write {mended} if that is what is meant")
    if len(figures) != 3:
        _refuse(f"{shorten(text)} is not a three-figure heading", f"write {mended}")


def _refuse(what: str, cure: str) -> NoReturn:
    raise MaterialError(Problem("heading-unreadable", what, _ALLOWED, cure))


def format_heading(deg: float, north: North | None = None, decimals: int = 0) -> str:
    """A heading as it is shown to people: "043° M", "007.5° T", "000°".

    `deg` any finite angle clockwise from `north` [deg], `decimals` digits after the point. What rounds to 360 is
    shown as 000. Raises ValueError if `deg` is not finite.
    """
    rounded = round_half_away(wrap_360(deg), max(0, decimals))
    if rounded >= 360:
        rounded -= 360
    width = 3 if decimals <= 0 else 4 + decimals
    figures = marked(format(rounded, f"0{width}.{max(0, decimals)}f"))
    return f"{figures}°" if north is None else f"{figures}° {NORTH_MARKS[north]}"
