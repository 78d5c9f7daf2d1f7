"""The index page of a course: its lessons in teaching order, and how each stands."""

from __future__ import annotations

import dataclasses

from gyrochalk import __version__
from gyrochalk.demonstration.course import Course
from gyrochalk.document import Block, Heading, Link, ListBlock, Origin, Page, Paragraph, Runs, Table, Text


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
        """How the lesson stands, in words."""
        if self.problems:
            return "not built: " + ("1 problem" if len(self.problems) == 1 else f"{len(self.problems)} problems")
        parts = [f"{self.false} false"] if self.false else []
        parts += [f"{self.stale} out of date"] if self.stale else []
        if parts:
            return f"{', '.join(parts)} of {self.numbers} numbers"
        return f"all {self.numbers} numbers agree" if self.numbers else "states no numbers"


def index_page(course: Course, entries: tuple[Entry, ...]) -> Page:
    """The index page of a course."""
    blocks: list[Block] = [Heading(2, (Text("Lessons"),))]
    if entries:
        caption = (Text("In teaching order, and whether their numbers agree with the simulated flights."),)
        header: tuple[Runs, ...] = ((Text("Lesson"),), (Text("Minutes"),), (Text("Numbers"),))
        blocks.append(Table(header, tuple(_row(entry) for entry in entries), ("left", "right", "left"), caption))
    else:
        blocks.append(Paragraph((Text("This course has no lessons yet."),)))
    if course.objectives:
        items = tuple(
            (Paragraph((Text(f"{objective.identity}: {objective.text}"),)),) for objective in course.objectives
        )
        blocks += [Heading(2, (Text("Objectives"),)), ListBlock(items)]
    return Page(course.title, tuple(blocks), Origin(version=__version__), course.school, "", course.language)


def _row(entry: Entry) -> tuple[Runs, ...]:
    minutes = str(entry.minutes) if entry.minutes else ""
    return ((Link(f"{entry.name}.html", (Text(entry.title),)),), (Text(minutes),), (Text(entry.state),))
