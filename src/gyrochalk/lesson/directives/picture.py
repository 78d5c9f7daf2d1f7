"""`![caption](images/panel.png)`: the instructor's own picture, put inside the page."""

from __future__ import annotations

import base64
import re
from pathlib import Path
from urllib.parse import unquote

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.mentions import Picture
from gyrochalk.lesson.workspace import Workspace

LARGEST_BYTES = 4_000_000
KINDS: dict[str, tuple[str, bytes]] = {
    ".png": ("image/png", b"\x89PNG\r\n\x1a\n"),
    ".jpg": ("image/jpeg", b"\xff\xd8\xff"),
    ".jpeg": ("image/jpeg", b"\xff\xd8\xff"),
    ".gif": ("image/gif", b"GIF8"),
    ".webp": ("image/webp", b"RIFF"),
    ".svg": ("image/svg+xml", b""),
}
"""Kinds of picture by the ending of the file name: media type, and how such a file begins."""


def embed(picture: Picture, lesson: Path, workspace: Workspace) -> str:
    """The picture as a `data:` address.

    `lesson` is the lesson's file: a relative path counts from its folder, or else from the workspace's. Raises
    `MaterialError`, with the place, if the picture is missing, outside the workspace, too large or of another kind.
    """
    path = _find(picture, lesson, workspace)
    kind = KINDS.get(path.suffix.lower())
    if kind is None:
        what = f"{picture.target} is not a picture this can show"
        raise _unusable(picture, what, "pictures end in " + ", ".join(KINDS), "save it as PNG or JPEG")
    if path.stat().st_size > LARGEST_BYTES:
        what = f"{picture.target} has {path.stat().st_size / 1e6:.1f} MB"
        raise _unusable(picture, what, f"at most {LARGEST_BYTES / 1e6:.0f} MB a picture", "save it smaller")
    data = path.read_bytes()
    media, beginning = kind
    if not data.startswith(beginning) or (media == "image/svg+xml" and b"<svg" not in data[:10_000]):
        what = f"{picture.target} is not what its name says"
        raise _unusable(picture, what, f"a file ending in {path.suffix} holds {media}", "save it again")
    return f"data:{media};base64,{base64.b64encode(data).decode('ascii')}"


def _find(picture: Picture, lesson: Path, workspace: Workspace) -> Path:
    target = unquote(picture.target.partition("#")[0].partition("?")[0])
    if re.match(r"[A-Za-z][A-Za-z0-9+.-]*:|//|\\\\", target):
        what = f"{picture.target} is not a file of the workspace"
        raise _unusable(picture, what, "a page needs no network", "save the picture in images/ and name it from there")
    candidates = [folder / target for folder in (lesson.parent, workspace.root)]
    found = next((path for path in candidates if path.is_file()), None)
    inside = workspace.holds(found) if found else any(workspace.holds(path) for path in candidates)
    if not inside or Path(target).is_absolute():
        what = f"{picture.target} lies outside the workspace"
        raise _unusable(picture, what, "pictures lie in images/", "copy it there and name it images/…")
    if found is None:
        where = picture.place
        what = f"there is no picture {picture.target or '(no name)'}"
        problem = Problem("file-missing", what, "a file in images/", "check the name and the folder")
        raise MaterialError(problem.at(where.file, where.line, where.column))
    return found


def _unusable(picture: Picture, what: str, allowed: str, cure: str) -> MaterialError:
    where = picture.place
    return MaterialError(Problem("picture-unusable", what, allowed, cure, where.file, where.line, where.column))
