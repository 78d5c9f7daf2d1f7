"""`gyrochalk gallery`: every picture in every theme."""

from __future__ import annotations

from pathlib import Path

from gyrochalk.lesson import Flights, Workspace, find_workspace
from gyrochalk.lesson.gallery import build_gallery

DEMO_FOLDERS = ("", "course")


def gallery(out: Path | None) -> None:
    """Build the gallery from the demo demonstrations of this workspace into `out` (None: its out folder)."""
    workspace = _workspace()
    for path in build_gallery(Flights(workspace), out or workspace.out):
        print(path)


def _workspace() -> Workspace:
    """This workspace, or the demo course beside it."""
    for folder in DEMO_FOLDERS:
        if (Path(folder) / "course.yaml").is_file():
            return Workspace(Path(folder))
    return find_workspace(Path())
