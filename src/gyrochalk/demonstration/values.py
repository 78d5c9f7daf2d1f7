"""The kinds of value an instructor writes in a demonstration: quantities, headings, choices, switches, names.

Each kind reads the text as written (docs/decisions/0021) and says what it accepts both in a problem and in the JSON
Schema for editors.
"""

from __future__ import annotations

import dataclasses
import datetime
import math
import re
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from gyrochalk import units
from gyrochalk.demonstration.refusal import refuse, refuse_error
from gyrochalk.errors import MaterialError, Problem

SWEPT = {"$comment": "sweep"}
"""Stands in a schema where a value may be swept, until `json_schema` puts the reference there."""
NUMBER_PATTERN = r"[+\-−–]?\s*([0-9][0-9 ]*([.,][0-9]+)?|[.,][0-9]+)([eE][+\-]?[0-9]+)?"
YES = ("yes", "on", "true")
NO = ("no", "off", "false")


class Value:
    """One kind of value; subclasses read a text and describe themselves."""

    def read(self, text: str) -> Any:
        """What the text means; raises a pydantic error that carries the problem."""
        raise NotImplementedError

    def describe(self) -> JsonSchemaValue:
        """The JSON Schema of what may be written."""
        raise NotImplementedError

    def _take(self, written: object) -> Any:
        if isinstance(written, list):
            raise refuse(Problem("value-kind", "a list stands here", "a single value", "write one value"))
        if not isinstance(written, str):
            raise refuse(Problem("value-kind", "a group of keys stands here", "a single value", "write one value"))
        if not written.strip():
            raise refuse(Problem("value-missing", "there is no value", self.expected(), "write one or remove the key"))
        try:
            return self.read(written.strip())
        except MaterialError as error:
            raise refuse_error(error) from None

    def expected(self) -> str:
        """What may be written, in a few words."""
        return "a value"

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._take)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return self.describe()


@dataclasses.dataclass(frozen=True)
class Quantity(Value):
    """A number with its unit, as a number of `unit`, from `low` to `high` (`above`: not `low` itself).

    `word` may stand instead of a quantity and means None ("off", "never").
    """

    unit: str
    low: float
    high: float
    above: bool = False
    word: str = ""

    def read(self, text: str) -> float | None:
        """The number in `unit`, or None for the word."""
        if self.word and text == self.word:
            return None
        number = units.parse(text, self.unit)
        if not self._inside(number):
            raise refuse(_out_of_range(text, self.expected()))
        return number

    def _inside(self, number: float) -> bool:
        slack = 1e-12 * max(abs(self.low), abs(self.high))
        return (number > self.low if self.above else number >= self.low - slack) and number <= self.high + slack

    def expected(self) -> str:
        """The range in words: "0 kt to 700 kt"."""
        low, high = (units.format_number(limit, _decimals(limit)) for limit in (self.low, self.high))
        shown = "" if self.unit == "1" else f" {self.unit}"
        spread = f"more than {low}{shown}, at most {high}{shown}" if self.above else f"{low}{shown} to {high}{shown}"
        return f'{spread}, or "{self.word}"' if self.word else spread

    def describe(self) -> JsonSchemaValue:
        """A text with one of the units of the same kind."""
        pattern = quantity_pattern(self.unit)
        texts = {"type": "string", "pattern": f"^({pattern})$", "description": f"For example {self.example()}."}
        choices: list[JsonSchemaValue] = [texts, dict(SWEPT)]
        if self.unit == "1":
            choices.append({"type": "number", "minimum": self.low, "maximum": self.high})
        if self.word:
            choices.append({"enum": [self.word, False] if self.word in NO else [self.word]})
        return {"anyOf": choices}

    def example(self) -> str:
        """A quantity of this kind, as it could be written."""
        return self.write(min(max(self.low, 1.0), self.high))

    def write(self, number: float) -> str:
        """A number of `unit` as it could be written in the file."""
        return f"{number:.12g}" if self.unit == "1" else f"{number:.12g} {self.unit}"


_SPECIAL = re.compile(r"([.^$*+?()\[\]{}|\\])")


def quantity_pattern(unit: str) -> str:
    """A pattern that fits a number with any unit of the same dimension."""
    dimension = units.UNITS[unit].dimension
    if unit == "1":
        return NUMBER_PATTERN
    alike = [other for other in units.UNITS.values() if other.dimension == dimension]
    spellings = {text for other in alike for text in (other.name, other.shown, *other.spellings) if text}
    one = "|".join(_SPECIAL.sub(r"\\\1", text) for text in sorted(spellings, key=lambda text: (-len(text), text)))
    single = rf"{NUMBER_PATTERN}\s*({one})"
    return rf"({single}\s*)+" if dimension == "a time" else single


def _out_of_range(text: str, expected: str) -> Problem:
    return Problem("out-of-range", f"{text} is out of range", f"allowed is {expected}", "write a value in that range")


def _decimals(number: float) -> int:
    return next((count for count in range(9) if math.isclose(round(number, count), number, abs_tol=1e-12)), 9)


@dataclasses.dataclass(frozen=True)
class Angle(Value):
    """A latitude, longitude or variation with its letter [deg, north and east positive].

    `word` may stand instead and means None; `most` is the greatest size allowed.
    """

    axis: units.Axis
    word: str = ""
    most: float = 180.0

    def read(self, text: str) -> float | None:
        """Degrees, north and east positive."""
        if self.word and text == self.word:
            return None
        degrees = units.parse_angle_place(text, self.axis)
        if abs(degrees) > self.most:
            raise refuse(_out_of_range(text, f"at most {self.most:g} N or S, where headings still mean something"))
        return degrees

    def expected(self) -> str:
        """An example in words."""
        return f"a {self.axis}" + (f', or "{self.word}"' if self.word else "")

    def describe(self) -> JsonSchemaValue:
        """Degrees with a letter."""
        letters = "NSns" if self.axis == "latitude" else "EWew"
        optional = "?" if self.axis == "variation" else ""
        texts = {
            "type": "string",
            "pattern": rf"^([{letters}]\s*)?[0-9][0-9.,°′'\"″ ]*(deg)?\s*[{letters}]?$"
            if not optional
            else rf"^[0-9][0-9.,°′'\"″ ]*(deg)?\s*[{letters}]?$",
            "description": "For example 52.5 N." if self.axis == "latitude" else "For example 1.25 E.",
        }
        choices: list[JsonSchemaValue] = [texts, dict(SWEPT)]
        if optional:
            choices.append({"const": 0})
        if self.word:
            choices.append({"enum": [self.word, False]})
        return {"anyOf": choices}


@dataclasses.dataclass(frozen=True)
class HeadingValue(Value):
    """A three-figure heading from one of `norths`; the first of them where none is named.

    `words` may stand instead and mean None.
    """

    norths: tuple[units.North, ...] = ("magnetic", "true")
    words: tuple[str, ...] = ()

    def read(self, text: str) -> units.Heading | None:
        """The heading with its north filled in."""
        if text in self.words:
            return None
        heading = units.parse_heading(text)
        if heading.north is None:
            return dataclasses.replace(heading, north=self.norths[0])
        if heading.north not in self.norths:
            what = f"{text} is from {heading.north} north"
            raise refuse(Problem("choice-unknown", what, f"a heading from {self._norths()} north", self._cure(heading)))
        return heading

    def _norths(self) -> str:
        return " or ".join(self.norths)

    def _cure(self, heading: units.Heading) -> str:
        mark = units.NORTH_MARKS[self.norths[0]]
        digits = 3 + (heading.decimals + 1 if heading.decimals else 0)
        return f"write for example {heading.degrees:0{digits}.{heading.decimals}f}{mark}"

    def expected(self) -> str:
        """What may be written, in words."""
        return f"a three-figure heading from {self._norths()} north" + "".join(f', or "{word}"' for word in self.words)

    def describe(self) -> JsonSchemaValue:
        """Three figures; an editor may take them for a whole number."""
        pattern = r"^[0-3][0-9]{2}([.,][0-9]+)?\s*(°|deg)?\s*([A-Za-z]*)$"
        texts = {"type": "string", "pattern": pattern, "description": "For example 045M."}
        whole = {"type": "integer", "minimum": 0, "maximum": 360}
        choices: list[JsonSchemaValue] = [texts, whole, dict(SWEPT)]
        if self.words:
            choices.append({"enum": list(self.words)})
        return {"anyOf": choices}


@dataclasses.dataclass(frozen=True)
class Choice(Value):
    """One of a few words."""

    words: tuple[str, ...]

    def read(self, text: str) -> str:
        """The word itself."""
        if text in self.words:
            return text
        guess = units.nearest(text, self.words)
        cure = f'did you mean "{guess}"?' if guess else "write one of them"
        raise refuse(Problem("choice-unknown", f'"{short(text)}" is none of the choices', self.expected(), cure))

    def expected(self) -> str:
        """The words."""
        return f"allowed are {', '.join(self.words)}"

    def describe(self) -> JsonSchemaValue:
        """An enumeration."""
        booleans = [word in YES for word in self.words if word in {"on", "off", "yes", "no"}]
        return {"enum": [*self.words, *booleans]}


@dataclasses.dataclass(frozen=True)
class Switch(Value):
    """Yes or no, on or off, true or false."""

    def read(self, text: str) -> bool:
        """True for yes."""
        word = text.casefold()
        if word in YES or word in NO:
            return word in YES
        what = f'"{short(text)}" is neither yes nor no'
        raise refuse(Problem("choice-unknown", what, self.expected(), "write yes or no"))

    def expected(self) -> str:
        """The words."""
        return "allowed are yes, no, on, off, true, false"

    def describe(self) -> JsonSchemaValue:
        """A word, which an editor may take for a truth value."""
        return {"enum": [*YES, *NO, True, False]}


@dataclasses.dataclass(frozen=True)
class Whole(Value):
    """A whole number from `low` to `high`, without a unit."""

    low: int
    high: int

    def read(self, text: str) -> int:
        """The number."""
        if not re.fullmatch(r"[+-]?[0-9]{1,18}", text):
            what = f'"{short(text)}" is not a whole number'
            raise refuse(Problem("number-unreadable", what, self.expected(), f"write for example {self.low}"))
        number = int(text)
        if not self.low <= number <= self.high:
            raise refuse(_out_of_range(text, self.expected()))
        return number

    def expected(self) -> str:
        """The range."""
        return f"{self.low}" if self.low == self.high else f"a whole number from {self.low} to {self.high}"

    def describe(self) -> JsonSchemaValue:
        """An integer."""
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclasses.dataclass(frozen=True)
class Text(Value):
    """A sentence for people, at most `longest` characters."""

    longest: int = 500

    def read(self, text: str) -> str:
        """The text on one line."""
        line = " ".join(text.split())
        if len(line) > self.longest:
            what = f"the text has {len(line)} characters"
            raise refuse(Problem("out-of-range", what, f"at most {self.longest} characters", "shorten it"))
        return line

    def expected(self) -> str:
        """What it is."""
        return "a text"

    def describe(self) -> JsonSchemaValue:
        """A text."""
        return {"type": "string", "maxLength": self.longest}


FIRST_DATE, LAST_DATE = datetime.date(2010, 1, 1), datetime.date(2029, 12, 31)


@dataclasses.dataclass(frozen=True)
class DateValue(Value):
    """A day, year first: 2026-01-01 (UTC)."""

    def read(self, text: str) -> datetime.date:
        """The day."""
        match = re.fullmatch(r"([0-9]{4})-([0-9]{2})-([0-9]{2})", text)
        try:
            day = datetime.date(*(int(part) for part in match.groups())) if match else None
        except ValueError:
            day = None
        if day is None:
            what = f'"{short(text)}" is not a date'
            raise refuse(Problem("number-unreadable", what, self.expected(), "write for example 2026-01-01"))
        if not FIRST_DATE <= day <= LAST_DATE:
            allowed = f"{FIRST_DATE} to {LAST_DATE}, the years of the magnetic models at hand"
            cure = "choose a date in that range, or state the field with horizontal and dip"
            raise refuse(Problem("field-date", f"no magnetic model covers {day}", allowed, cure))
        return day

    def expected(self) -> str:
        """How it is written."""
        return "a date with the year first"

    def describe(self) -> JsonSchemaValue:
        """A date."""
        return {"type": "string", "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "description": "For example 2026-01-01."}


NAME = re.compile(r"[a-z0-9][a-z0-9-]*")


def check_name(text: str, what: str) -> Problem | None:
    """The problem of a name that is not small letters, figures and hyphens, or None."""
    if NAME.fullmatch(text) and len(text) <= 60:
        return None
    mended = re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")[:60] or "steady-flight"
    allowed = "small letters, figures and hyphens, beginning with a letter or figure, at most 60"
    return Problem("name-unreadable", f'"{short(text)}" is no {what}', allowed, f"write for example {mended}")


def short(text: str) -> str:
    """A text shortened to one line for a message."""
    line = " ".join(text.split())
    return line if len(line) <= 60 else line[:59] + "…"
