"""Rewrite the texts of `value:` links to what the run says; every other byte of the file stays."""

from __future__ import annotations

import dataclasses
from pathlib import Path

from gyrochalk.errors import Problem
from gyrochalk.lesson.checking import read_for
from gyrochalk.lesson.examination import examine
from gyrochalk.lesson.findings import Finding
from gyrochalk.lesson.flights import Flights
from gyrochalk.lesson.mentions import Mention
from gyrochalk.lesson.source import Source
from gyrochalk.lesson.writing import write_whole


@dataclasses.dataclass(frozen=True, slots=True)
class Change:
    """One value that was rewritten: `was` its text before, `now` after; `finding` says the rest."""

    finding: Finding
    was: str
    now: str


def refresh(path: Path, flights: Flights | None = None) -> tuple[list[Change], list[Problem]]:
    """Bring every value of a lesson up to date.

    `path` is the lesson's file; `flights` the runs of its workspace, if they are at hand. Returns what was changed,
    and what could not be brought up to date. The file is written whole, and only if something changed. Raises
    `MaterialError` if the lesson cannot be read or written.
    """
    lesson, flights = read_for(path, flights)
    found = examine(lesson, flights)
    stale = [(m, f) for m, f in found.findings.items() if f.kind == "value" and f.state == "stale"]
    stale.sort(key=lambda pair: pair[0].start)
    unchecked = [f for f in found.findings.values() if f.kind == "value" and f.state == "unchecked"]
    changes = [Change(finding, mention.text, finding.computed or "") for mention, finding in stale]
    if changes:
        write_whole(path, lesson.source.encode(_rewritten(lesson.source, stale)))
    problems = [*found.problems] if unchecked else []
    return changes, problems


def _rewritten(source: Source, stale: list[tuple[Mention, Finding]]) -> str:
    text, end, pieces = source.text, 0, []
    for mention, finding in stale:
        pieces += [text[end : mention.start], _label(mention, finding.computed or "")]
        end = mention.end
    return "".join([*pieces, text[end:]])


def _label(mention: Mention, now: str) -> str:
    """The new link text: marks around the old number, such as `**40°**`, are kept."""
    if mention.text and mention.raw.count(mention.text) == 1:
        return mention.raw.replace(mention.text, now)
    return now
