"""The front matter of a lesson: what it is called, what it uses, what it is for, how long it takes."""

from __future__ import annotations

import dataclasses
import re

from gyrochalk.demonstration.fields import Fields
from gyrochalk.demonstration.yaml_source import read_tree
from gyrochalk.errors import MaterialError, Problem, ProblemList
from gyrochalk.lesson.source import Place, Source

KEYS = ("gyrochalk", "title", "demonstrations", "objectives", "minutes")
LONGEST_MINUTES = 600


@dataclasses.dataclass(frozen=True, slots=True)
class Named:
    """A word of the front matter and where it stands."""

    text: str
    place: Place


@dataclasses.dataclass(frozen=True, slots=True)
class FrontMatter:
    """Front matter: `demonstrations` are ids, `objectives` ids of the course's register, `minutes` [min] or None.

    `lines` is how many lines of the file it takes, its fences included.
    """

    title: str
    demonstrations: tuple[Named, ...]
    objectives: tuple[Named, ...]
    minutes: int | None
    lines: int


def front_matter_of(source: Source) -> FrontMatter:
    """Read the front matter; raises `MaterialError` with every problem and its place."""
    last = _closing_line(source)
    problems = ProblemList()
    text = "\n" + "\n".join(source.lines[1:last])
    fields = Fields(read_tree(text, source.file), source.file, problems, KEYS)
    fields.check_format()
    front = FrontMatter(
        title=fields.text("title", required=True),
        demonstrations=_names(fields, "demonstrations", source.file),
        objectives=_names(fields, "objectives", source.file),
        minutes=_minutes(fields),
        lines=last + 1,
    )
    problems.refuse_if_any()
    return front


def _closing_line(source: Source) -> int:
    if source.lines[0].rstrip() == "---":
        for number, line in enumerate(source.lines[1:], start=1):
            if line.rstrip() == "---":
                return number
    what = "the lesson has no front matter" if source.lines[0].rstrip() != "---" else "the front matter is not closed"
    allowed = 'a lesson begins with a line "---", keys such as "gyrochalk: 1" and "title: …", and a line "---"'
    raise MaterialError(Problem("front-matter", what, allowed, "put those lines at the top", source.file, 1, 1))


def _names(fields: Fields, key: str, file: str) -> tuple[Named, ...]:
    seen: dict[str, Named] = {}
    for scalar in fields.texts(key):
        if scalar.text in seen:
            fields.report("name-duplicate", f'"{scalar.text}" is listed twice', "each once", "remove one", scalar.place)
        seen[scalar.text] = Named(scalar.text, Place(file, scalar.place.line, scalar.place.column))
    return tuple(seen.values())


def _minutes(fields: Fields) -> int | None:
    scalar = fields.scalar("minutes")
    if scalar is None:
        return None
    match = re.fullmatch(r"([1-9][0-9]{0,2})(?: min)?", scalar.text)
    if match and int(match[1]) <= LONGEST_MINUTES:
        return int(match[1])
    what = f'"{scalar.text}" is not a number of minutes'
    fields.report(
        "number-unreadable", what, f"1 to {LONGEST_MINUTES} whole minutes", "write for example 50 min", scalar.place
    )
    return None
