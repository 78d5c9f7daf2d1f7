"""The index page of a course: its lessons in teaching order, and how each stands."""

from __future__ import annotations

import dataclasses

from gyrochalk import __version__
from gyrochalk.demonstration.course import Course
from gyrochalk.document import Block, Heading, Link, ListBlock, Origin, Page, Paragraph, Runs, Table, Text
from gyrochalk.units.words import ENGLISH, Speech


@dataclasses.dataclass(frozen=True, slots=True)
class Entry:
    """One lesson in the index: its file's `name` without ending, `title`, `minutes` [min], how many numbers it
    states, how many claims are `false` and values `stale`, and the `problems` that keep its page from being built."""

    name: str
    title: str
    minutes: int | None = None
    numbers: int = 0
    false: int = 0
    stale: int = 0
    problems: tuple[str, ...] = ()

    @property
    def state(self) -> str:
        """How the lesson stands, in English."""
        return self.said(ENGLISH)

    def said(self, speech: Speech) -> str:
        """How the lesson stands, in words."""
        say, count = speech.say, len(self.problems)
        if self.problems:
            return say("index.not_built_one" if count == 1 else "index.not_built", count=count)
        parts = [say("index.false", count=self.false)] if self.false else []
        parts += [say("index.stale", count=self.stale)] if self.stale else []
        if parts:
            return say("index.bad", parts=", ".join(parts), count=self.numbers)
        return say("index.agree" if self.numbers else "index.no_numbers", count=self.numbers)


def index_page(course: Course, entries: tuple[Entry, ...]) -> Page:
    """The index page of a course."""
    speech = course.speech
    say = speech.say
    blocks: list[Block] = [Heading(2, (Text(say("index.lessons")),))]
    if entries:
        caption = (Text(say("index.caption")),)
        header: tuple[Runs, ...] = tuple((Text(say(f"index.{key}")),) for key in ("lesson", "minutes", "numbers"))
        blocks.append(
            Table(header, tuple(_row(entry, speech) for entry in entries), ("left", "right", "left"), caption)
        )
    else:
        blocks.append(Paragraph((Text(say("index.none")),)))
    if course.objectives:
        items = tuple(
            (Paragraph((Text(f"{objective.identity}: {objective.text}"),)),) for objective in course.objectives
        )
        blocks += [Heading(2, (Text(say("index.objectives")),)), ListBlock(items)]
    return Page(course.title, tuple(blocks), Origin(version=__version__), course.school, "", course.language)


def _row(entry: Entry, speech: Speech) -> tuple[Runs, ...]:
    minutes = str(entry.minutes) if entry.minutes else ""
    return ((Link(f"{entry.name}.html", (Text(entry.title),)),), (Text(minutes),), (Text(entry.said(speech)),))
