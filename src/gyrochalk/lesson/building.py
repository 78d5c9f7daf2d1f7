"""Build pages: one lesson, one self-contained file in the workspace's `out` folder."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from pathlib import Path

from gyrochalk import __version__
from gyrochalk.demonstration.course import Course, load_course
from gyrochalk.document import Block, ListBlock, Note, Origin, Page, Paragraph, Text, render_html
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.blocks import blocks_of
from gyrochalk.lesson.checking import Report, read_for, report_of
from gyrochalk.lesson.directives.rule import RULE
from gyrochalk.lesson.examination import Examination, examine
from gyrochalk.lesson.flights import Flights
from gyrochalk.lesson.index import Entry, index_page
from gyrochalk.lesson.reading import Lesson
from gyrochalk.lesson.workspace import COURSE_FILE, Workspace
from gyrochalk.lesson.writing import write_whole

INDEX = "index"
"""Name of the course's own page."""


@dataclasses.dataclass(frozen=True, slots=True)
class Built:
    """What came of building one lesson: its `report`, its line in the course's index, and its page.

    `page` and `path` are None where problems kept it from being built; an older page then stays as it was.
    """

    report: Report
    entry: Entry
    page: Page | None = None
    path: Path | None = None


def build_lesson(path: Path, workspace: Workspace, flights: Flights | None = None) -> Built:
    """Build the page of one lesson.

    `path` is the lesson's file; `flights` the runs of its workspace, if they are at hand. Never raises for what an
    author wrote: false claims and stale values are marked on the page, any other problem means no new page.
    """
    flights = flights or Flights(workspace)
    try:
        _require_free_name(path)
        lesson, flights = read_for(path, flights)
        found = examine(lesson, flights)
        report = report_of(found)
        if report.problems:
            return Built(report, _entry(path, report, lesson))
        page = page_of(found, flights)
        target = workspace.page(path)
        write_whole(target, render_html(page).encode("utf-8"))
    except MaterialError as error:
        report = Report(str(path), path.stem, (), error.problems)
        return Built(report, _entry(path, report))
    return Built(report, _entry(path, report, lesson), page, target)


def _require_free_name(path: Path) -> None:
    if path.stem.casefold() == INDEX:
        what = f'a lesson cannot be called "{path.stem}"'
        problem = Problem("name-duplicate", what, "that name is taken by the page of the course", "rename the file")
        raise MaterialError(problem.at(str(path)))


def page_of(found: Examination, flights: Flights) -> Page:
    """The page of an examined lesson."""
    lesson, course = found.lesson, found.course
    over = " · ".join(part for part in (course.school, course.title) if part)
    minutes = course.speech.say("page.minutes", count=lesson.front.minutes) if lesson.front.minutes else ""
    blocks = (*aims_of(lesson, course), *blocks_of(found))
    return Page(lesson.title, blocks, origin_of(found, flights), over, minutes, course.language)


def aims_of(lesson: Lesson, course: Course) -> tuple[Block, ...]:
    """What the lesson is for: its objectives, set apart at the top of the page."""
    texts = {objective.identity: objective.text for objective in course.objectives}
    aims = [texts[named.text] for named in lesson.front.objectives if named.text in texts]
    if not aims:
        return ()
    return (Note((ListBlock(tuple((Paragraph((Text(aim),)),) for aim in aims)),), course.speech.say("page.aims")),)


def origin_of(found: Examination, flights: Flights) -> Origin:
    """Where the numbers of a page come from."""
    names = [f.demonstration for f in found.findings.values() if f.demonstration not in ("", RULE) and not f.private]
    names += [name for mention, drawn in found.pictures.items() if not mention.private for name in drawn.flown]
    titles: list[str] = []
    models: list[str] = []
    warnings: list[str] = []
    for name in dict.fromkeys(names):
        _, variant = flights.variant(name)
        origin = flights.run(name).provenance
        titles.append(variant.title)
        models.append(", ".join(part for part in (origin.field_model, origin.field_date) if part))
        warnings += origin.warnings
    return Origin(
        tuple(dict.fromkeys(models)), __version__, tuple(dict.fromkeys(titles)), tuple(dict.fromkeys(warnings))
    )


def _entry(path: Path, report: Report, lesson: Lesson | None = None) -> Entry:
    return Entry(
        name=path.stem,
        title=report.title,
        minutes=lesson.front.minutes if lesson else None,
        numbers=len(report.findings),
        false=report.count("claim", "false"),
        stale=report.count("value", "stale"),
        problems=tuple(str(problem) for problem in report.problems),
    )


def course_entries(workspace: Workspace, entries: Mapping[str, Entry]) -> tuple[Entry, ...]:
    """Entries in teaching order, lessons the course does not list last; raises if the course file cannot be read."""
    course = load_course(workspace.root / COURSE_FILE)
    order = [name for name in course.lessons if name in entries]
    return tuple(entries[name] for name in [*order, *sorted(set(entries) - set(order))])


def build_index(workspace: Workspace, entries: tuple[Entry, ...]) -> Page:
    """Build the course's index page from its entries; raises `MaterialError` if it cannot be written."""
    page = index_page(load_course(workspace.root / COURSE_FILE), entries)
    write_whole(workspace.out / f"{INDEX}.html", render_html(page).encode("utf-8"))
    return page
