"""The folder of a course, the demonstrations in it, and how one is addressed."""

from __future__ import annotations

import os
from pathlib import Path

from gyrochalk.demonstration.refusal import listed
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.units import nearest

COURSE_FILE = "course.yaml"
FOLDER = "demonstrations"
SUFFIX = ".yaml"


def workspace_of(path: Path) -> Path:
    """The workspace a file lies in: the nearest folder above it with a course file, else a folder of demonstrations'
    parent, else the file's own folder."""
    absolute = path.absolute()
    for folder in absolute.parents:
        if (folder / COURSE_FILE).is_file():
            return as_named(folder, path)
    return as_named(absolute.parent.parent if absolute.parent.name == FOLDER else absolute.parent, path)


def as_named(folder: Path, path: Path) -> Path:
    """A folder the way the user names things: from the folder one is in if `path` is, else whole."""
    if path.is_absolute():
        return folder
    try:
        return Path(os.path.relpath(folder))
    except ValueError:  # another drive
        return folder


def require_inside(path: Path, workspace: Path, file: str) -> None:
    """Raise `MaterialError` (file-outside) if a file, links followed, lies outside the workspace; `file` is the name
    the message prints."""
    if not path.resolve().is_relative_to(workspace.resolve()):
        what = f"{path.name} lies outside the workspace"
        allowed = "everything a course reads lies in the folder of its course.yaml, links followed"
        raise MaterialError(Problem("file-outside", what, allowed, "copy the file into the workspace", file))


def demonstration_files(workspace: Path) -> dict[str, Path]:
    """Every demonstration file of a workspace by its id, in the order of the ids."""
    folder = workspace / FOLDER
    if not folder.is_dir():
        return {}
    return {path.stem: path for path in sorted(folder.glob(f"*{SUFFIX}")) if path.is_file()}


def demonstration_file(workspace: Path, demonstration_id: str) -> Path:
    """The file of a demonstration; raises `MaterialError` (demonstration-unknown) with the nearest id."""
    files = demonstration_files(workspace)
    if demonstration_id in files:
        return files[demonstration_id]
    guess = nearest(demonstration_id, files)
    allowed = f"the demonstrations are {listed(list(files))}" if files else f"the folder {FOLDER} holds none"
    cure = f'did you mean "{guess}"?' if guess else f"add {FOLDER}/NAME{SUFFIX}"
    what = f'there is no demonstration "{demonstration_id}"'
    raise MaterialError(Problem("demonstration-unknown", what, allowed, cure))


def parse_address(text: str) -> tuple[str, str | None]:
    """An address as id and variant: "orbit" is ("orbit", None), "orbit.textbook" ("orbit", "textbook")."""
    demonstration_id, _, variant = text.partition(".")
    return demonstration_id, variant or None
