"""`gyrochalk refresh`: bring the values of lessons up to date."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from gyrochalk.cli.console import counted, show_json, show_problems
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson import Change, Flights, Workspace, lessons_at, problem_for_program, refresh_lesson


def refresh(paths: Sequence[Path], *, as_json: bool) -> int:
    """Rewrite stale values; 1 if a lesson could not be read or a value not be worked out."""
    flights: dict[Workspace, Flights] = {}
    changed: dict[Path, list[Change]] = {}
    problems: list[Problem] = []
    for path, workspace in lessons_at(paths):
        try:
            changed[path], left = refresh_lesson(path, flights.setdefault(workspace, Flights(workspace)))
            problems += left
        except MaterialError as error:
            problems += error.problems
    problems = list(dict.fromkeys(problems))
    if as_json:
        _show_json(changed, problems)
    else:
        for path, changes in changed.items():
            _show(path, changes)
        show_problems(problems)
    return 1 if problems else 0


def _show(path: Path, changes: list[Change]) -> None:
    for change in changes:
        print(f'{change.finding.place}  "{change.was}" is now "{change.now}"')
    print(f"{path}: {counted(len(changes), 'value')} rewritten")


def _show_json(changed: dict[Path, list[Change]], problems: list[Problem]) -> None:
    from gyrochalk import __version__

    lessons = [
        {"file": str(path), "changes": [{"was": c.was, "now": c.now, **c.finding.for_program()} for c in changes]}
        for path, changes in changed.items()
    ]
    show_json(
        {
            "gyrochalk": __version__,
            "lessons": lessons,
            "problems": [problem_for_program(problem) for problem in problems],
        }
    )
