"""`gyrochalk build`: lessons become self-contained pages."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from gyrochalk.cli.commands.check import summary
from gyrochalk.cli.console import show_json, show_problems
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson import (
    Built,
    Entry,
    Flights,
    Workspace,
    build_index,
    build_lesson,
    course_entries,
    lessons_at,
    problem_for_program,
)


def build(paths: Sequence[Path], *, as_json: bool) -> int:
    """Build pages, and the index of every course built whole; 1 if a number does not hold or anything is wrong."""
    flights: dict[Workspace, Flights] = {}
    built: dict[Workspace, list[Built]] = {}
    for path, workspace in lessons_at(paths):
        done = build_lesson(path, workspace, flights.setdefault(workspace, Flights(workspace)))
        built.setdefault(workspace, []).append(done)
        if not as_json:
            print(f"{summary(done.report)}; " + (f"page {done.path}" if done.path else "no page built"))
    problems = [problem for workspace, found in built.items() for problem in _index(workspace, found)]
    everything = [done for found in built.values() for done in found]
    told = list(dict.fromkeys([*(p for done in everything for p in done.report.all_problems), *problems]))
    if as_json:
        _show_json(everything, told)
    else:
        show_problems(told)
    return 1 if told else 0


def _index(workspace: Workspace, built: list[Built]) -> tuple[Problem, ...]:
    """Write the index if every lesson of the workspace was built just now."""
    entries: dict[str, Entry] = {done.entry.name: done.entry for done in built}
    if set(entries) != {path.stem for path in workspace.lesson_files()}:
        return ()
    try:
        build_index(workspace, course_entries(workspace, entries))
    except MaterialError as error:
        return error.problems
    return ()


def _show_json(built: list[Built], told: list[Problem]) -> None:
    from gyrochalk import __version__

    lessons = [{"page": str(done.path) if done.path else None, **done.report.for_program()} for done in built]
    problems = [problem_for_program(problem) for problem in told]
    show_json({"gyrochalk": __version__, "lessons": lessons, "problems": problems})
