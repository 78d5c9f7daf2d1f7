"""Check lessons: every number against its run, everything else for problems."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from pathlib import Path

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.examination import Examination, examine
from gyrochalk.lesson.findings import Finding
from gyrochalk.lesson.flights import Flights
from gyrochalk.lesson.reading import Lesson, parse
from gyrochalk.lesson.workspace import Workspace, find_workspace


@dataclasses.dataclass(frozen=True, slots=True)
class Report:
    """What came of checking one lesson: its `findings` in order of place, and the `problems` that stopped something.

    `file` is the lesson as messages name it; `unread` how many links of ours cannot be read as links, so that nothing
    checks them.
    """

    file: str
    title: str
    findings: tuple[Finding, ...]
    problems: tuple[Problem, ...]
    unread: int = 0

    @property
    def holds(self) -> bool:
        """Whether every number holds and nothing is wrong."""
        return not self.problems and all(finding.good for finding in self.findings)

    @property
    def all_problems(self) -> tuple[Problem, ...]:
        """Every problem, false claims and stale values among them, in order of place within the lesson."""
        told = [p for finding in self.findings if finding.state in ("false", "stale") for p in finding.problems]
        mine = [p for p in (*self.problems, *told) if p.file == self.file]
        others = [p for p in self.problems if p.file != self.file]
        return (*others, *sorted(mine, key=lambda p: (p.line or 0, p.column or 0)))

    def count(self, kind: str, state: str | None = None) -> int:
        """How many findings there are of a kind, or of a kind in one state."""
        return sum(1 for f in self.findings if f.kind == kind and state in (None, f.state))

    def for_program(self) -> dict[str, object]:
        """The report for `--json`."""
        return {
            "file": self.file,
            "title": self.title,
            "holds": self.holds,
            "numbers": [finding.for_program() for finding in self.findings],
            "problems": [problem_for_program(problem) for problem in self.all_problems],
        }


def problem_for_program(problem: Problem) -> dict[str, object]:
    """A problem for `--json`."""
    return dataclasses.asdict(problem)


def report_of(found: Examination) -> Report:
    """The report on an examined lesson."""
    lesson = found.lesson
    findings = tuple(sorted(found.findings.values(), key=lambda f: (f.place.line, f.place.column)))
    return Report(lesson.source.file, lesson.title, findings, tuple(found.problems), len(lesson.unread))


def check(path: Path, flights: Flights | None = None) -> Report:
    """Check one lesson.

    `path` is its file; `flights` the runs of its workspace, if they are at hand. Never raises for what an author
    wrote: a lesson that cannot be read is a report with problems alone.
    """
    try:
        lesson, flights = read_for(path, flights)
        return report_of(examine(lesson, flights))
    except MaterialError as error:
        return Report(str(path), path.stem, (), error.problems)


def read_for(path: Path, flights: Flights | None = None) -> tuple[Lesson, Flights]:
    """A lesson read and the runs of its workspace, in which it must lie, links followed; raises `MaterialError`."""
    if flights is not None:
        flights.workspace.require_inside(path)
        return parse(path), flights
    if not path.exists():
        return parse(path), Flights(find_workspace(path))
    workspace = find_workspace(path)
    workspace.require_inside(path)
    return parse(path), Flights(workspace)


def lessons_at(paths: Sequence[Path]) -> list[tuple[Path, Workspace]]:
    """The lessons that paths name, with the workspace of each.

    A folder stands for every lesson of the workspace it lies in; no path at all for the folder one is in. Raises
    `MaterialError` where there is no workspace or a workspace has no lessons.
    """
    found: dict[Path, Workspace] = {}
    for path in paths or [Path()]:
        workspace = find_workspace(path)
        files = workspace.lesson_files() if path.is_dir() else [path]
        if not files:
            what = "the workspace has no lessons"
            raise MaterialError(
                Problem("file-missing", what, "Markdown files in lessons/", "write one", workspace.root.as_posix())
            )
        found |= dict.fromkeys(files, workspace)
    return list(found.items())
