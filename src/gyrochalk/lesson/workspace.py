"""The folder a course lives in: where its lessons, demonstrations and pictures are, and what lies outside it."""

from __future__ import annotations

import dataclasses
import os
from pathlib import Path

from gyrochalk.demonstration.workspace import as_named, require_inside
from gyrochalk.errors import MaterialError, Problem

COURSE_FILE = "course.yaml"


@dataclasses.dataclass(frozen=True, slots=True)
class Workspace:
    """A workspace: the folder that holds `course.yaml`."""

    root: Path

    @property
    def lessons(self) -> Path:
        """Folder of the lessons."""
        return self.root / "lessons"

    @property
    def out(self) -> Path:
        """Folder of everything built; safe to delete."""
        return self.root / "out"

    def lesson_files(self) -> list[Path]:
        """Every lesson, by name."""
        return sorted(self.lessons.glob("*.md"))

    def page(self, lesson: Path) -> Path:
        """Where the page of a lesson is built."""
        return self.out / f"{lesson.stem}.html"

    def holds(self, path: Path) -> bool:
        """Whether a path, links followed, lies inside the workspace."""
        return path.resolve().is_relative_to(self.root.resolve())

    def require_inside(self, path: Path) -> None:
        """Raise `MaterialError` (file-outside) if a lesson named within the workspace lies, links followed, outside.

        A lesson named elsewhere is its caller's own affair: no workspace vouches for it.
        """
        named, root = (Path(os.path.normpath(one.absolute())) for one in (path, self.root))
        if named.is_relative_to(root):
            require_inside(path, self.root, str(path))


def find_workspace(path: Path, file: str | None = None) -> Workspace:
    """The workspace a file or folder lies in: the nearest folder at or above `path` with a `course.yaml`.

    A relative path gives a relative workspace where it can, so that messages name files as the user does. Raises
    `MaterialError` if there is none; `file` is the name the message prints (default: the path).
    """
    as_written = () if ".." in path.parts else path.parents
    for folder in (path, *as_written, *path.resolve().parents):
        if (folder / COURSE_FILE).is_file():
            return Workspace(as_named(folder, path))
    raise MaterialError(
        Problem(
            "workspace-missing",
            "no course.yaml lies in this folder or any above it",
            "a lesson lives in a workspace, a folder with a course.yaml",
            "make one with: gyrochalk new FOLDER",
            file or str(path),
        )
    )
