"""A new workspace: a copy of the small course that comes with the package."""

from __future__ import annotations

import shutil
import tempfile
from importlib import resources
from pathlib import Path

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.workspace import Workspace

FOLDERS = ("flights", "images", "out")
"""Folders a workspace may use, made empty."""


def start_workspace(folder: Path) -> Workspace:
    """Make a workspace in `folder`, which must be empty or not be there yet.

    Raises `MaterialError` if something lies there already or it cannot be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        what = "the folder is not empty" if folder.is_dir() else "a file of this name is there already"
        problem = Problem("workspace-exists", what, "an empty folder, or a name not yet used", "choose another name")
        raise MaterialError(problem.at(str(folder)))
    asked, folder = folder, folder.absolute()
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=folder.parent, prefix=f".{folder.name}.") as aside:
            made = Path(aside) / "made"
            with resources.as_file(resources.files("gyrochalk.lesson") / "starter") as starter:
                shutil.copytree(starter, made, copy_function=shutil.copyfile)
            for name in FOLDERS:
                (made / name).mkdir(exist_ok=True)
            if folder.exists():
                for part in sorted(made.iterdir()):
                    part.replace(folder / part.name)
            else:
                made.replace(folder)
    except OSError as error:
        what = f"the folder cannot be made ({error.strerror or type(error).__name__})"
        problem = Problem("cannot-write", what, "a place you may write to", "choose another folder")
        raise MaterialError(problem.at(str(folder))) from error
    return Workspace(asked)
