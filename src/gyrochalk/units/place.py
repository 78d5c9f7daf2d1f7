"""Latitudes, longitudes, variations and deviations: an angle with a letter for its side."""

from __future__ import annotations

import re
from typing import Literal, NoReturn

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.units.written import shorten, tidy

Axis = Literal["latitude", "longitude", "variation", "deviation"]

_LETTERS: dict[Axis, tuple[str, str]] = {
    "latitude": ("N", "S"),
    "longitude": ("E", "W"),
    "variation": ("E", "W"),
    "deviation": ("E", "W"),
}
_LIMITS_DEG: dict[Axis, float] = {"latitude": 90.0, "longitude": 180.0, "variation": 180.0, "deviation": 180.0}
_EXAMPLES: dict[Axis, str] = {"latitude": "52.5 N", "longitude": "1.25 W", "variation": "12 W", "deviation": "3 E"}
_MARKS = re.compile(r"[°′'’″\"”]|\bdeg\b")
_PLACE = re.compile(
    r"(?P<before>[A-Z]\s*)?(?P<deg>[0-9]{1,3}(?:[.,][0-9]+)?)"
    r"(?:\s+(?P<min>[0-9]{1,2}(?:[.,][0-9]+)?))?(?:\s+(?P<s>[0-9]{1,2}(?:[.,][0-9]+)?))?\s*(?P<after>[A-Z])?",
    re.IGNORECASE,
)


def parse_angle_place(text: str, axis: Axis) -> float:
    """The latitude, longitude, variation or deviation a person wrote [deg], north and east positive.

    "52.5 N", "N 52.5", degrees and minutes "52 30 N", degrees, minutes and seconds "52 30 15 N", with or without the
    marks ° ′ ″. A variation or deviation of 0 needs no letter.
    Raises MaterialError: number-unreadable, unit-missing (no letter), unit-wrong (another axis's letter), out-of-range.
    """
    match = _PLACE.fullmatch(" ".join(_MARKS.sub(" ", tidy(text)).split()))
    if match is None or (match["before"] and match["after"]):
        _refuse("number-unreadable", f"{shorten(text) or 'an empty text'} is not a {axis}", axis)
    sign = _sign(text, (match["before"] or match["after"] or "").strip().upper(), axis, _number(match["deg"]) == 0.0)
    return sign * _degrees(text, match, axis) + 0.0


def _degrees(text: str, match: re.Match[str], axis: Axis) -> float:
    degrees, minutes, seconds = (_number(match[part]) for part in ("deg", "min", "s"))
    if minutes >= 60.0 or seconds >= 60.0:
        _refuse("out-of-range", f"{shorten(text)} has 60 minutes or seconds or more", axis)
    for coarse, fine in (("deg", "min"), ("min", "s")):
        if match[fine] and not match[coarse].isdigit():
            _refuse("number-unreadable", f"{shorten(text)} has a fraction before its last figure", axis)
    total = (degrees * 3600.0 + minutes * 60.0 + seconds) / 3600.0 if match["min"] else degrees
    if total > _LIMITS_DEG[axis]:
        _refuse("out-of-range", f"{shorten(text)} is beyond {_LIMITS_DEG[axis]:.0f}", axis)
    return total


def _sign(text: str, letter: str, axis: Axis, zero: bool) -> float:
    positive, negative = _LETTERS[axis]
    if not letter:
        if zero and axis in {"variation", "deviation"}:
            return 1.0
        cure = f"write for example {shorten(text)} {positive}"
        _refuse("unit-missing", f"{shorten(text)} has no letter {positive} or {negative}", axis, cure)
    if letter not in {positive, negative}:
        what = f"{shorten(text)} has the letter {letter}, but a {axis} has {positive} or {negative}"
        _refuse("unit-wrong", what, axis)
    return 1.0 if letter == positive else -1.0


def _number(digits: str | None) -> float:
    return float((digits or "0").replace(",", "."))


def _refuse(code: str, what: str, axis: Axis, cure: str | None = None) -> NoReturn:
    positive, negative = _LETTERS[axis]
    allowed = f"a {axis} is 0 to {_LIMITS_DEG[axis]:.0f} degrees {positive} or {negative}"
    raise MaterialError(Problem(code, what, allowed, cure or f"write for example {_EXAMPLES[axis]}"))
