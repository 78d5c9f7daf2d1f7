"""Writing a file so that a reader sees the old one or the new one, never half of either."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from gyrochalk.errors import MaterialError, Problem


def write_whole(path: Path, data: bytes) -> None:
    """Write `data` beside `path` and rename it into place; a failure leaves what was there before.

    Raises `MaterialError` if the folder cannot be written to.
    """
    aside: Path | None = None
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
        aside = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        _keep_permissions(aside, path)
        aside.replace(path)
    except OSError as error:
        if aside is not None:
            aside.unlink(missing_ok=True)
        reason = error.strerror or type(error).__name__
        raise MaterialError(
            Problem(
                "cannot-write",
                f"the file cannot be written ({reason})",
                "a folder you may write to, with room on the disk",
                "close other programs that hold the file, or choose another folder",
                str(path),
            )
        ) from error


def _keep_permissions(aside: Path, path: Path) -> None:
    """A new file gets the permissions of the one it replaces, or those of an ordinary new file."""
    if path.exists():
        aside.chmod(path.stat().st_mode & 0o777)
    elif os.name == "posix":
        mask = os.umask(0)
        os.umask(mask)
        aside.chmod(0o666 & ~mask)
