"""Links from lesson to lesson: on a page they lead to the other lesson's page."""

from __future__ import annotations

from pathlib import Path

from gyrochalk.errors import Problem
from gyrochalk.lesson.mentions import Crossing, lesson_named
from gyrochalk.lesson.workspace import Workspace
from gyrochalk.units import nearest


def crossing_problems(crossing: Crossing, lesson: Path, workspace: Workspace) -> list[Problem]:
    """What is wrong with a link to another lesson: nothing, or that there is no such lesson."""
    path = lesson_named(crossing.target) or ""
    there = {file.name: file for file in workspace.lesson_files()}
    wanted = lesson.parent / path
    if any(file.resolve() == wanted.resolve() for file in there.values()):
        return []
    near = nearest(wanted.name, there)
    allowed = "a link to a Markdown file leads to a lesson in lessons/"
    cure = f'did you mean "{near}"?' if near else "check the name"
    place, what = crossing.place, f"there is no lesson {path}"
    return [Problem("file-missing", what, allowed, cure, place.file, place.line, place.column)]


def page_of_crossing(address: str) -> str:
    """The address on a page of what an ordinary link names: a lesson's page for a lesson, all else as it is."""
    path = lesson_named(address)
    if path is None:
        return address
    mark, fragment = address.partition("#")[1:]
    return f"{Path(path).stem}.html{mark}{fragment}"
