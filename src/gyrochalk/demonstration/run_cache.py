"""Runs kept in the user's cache folder, so that a lesson opens at once the second time."""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path

from gyrochalk.demonstration.aside import written_aside
from gyrochalk.demonstration.run_file import UnreadableRunError, read_run, write_run
from gyrochalk.systems.run import Run

MOST_BYTES = 500_000_000
"""When the kept runs are larger than this, the oldest go until four fifths are left."""


def cache_folder() -> Path:
    """The folder for kept runs: below XDG_CACHE_HOME if that is set, else where the platform keeps caches."""
    named = os.environ.get("XDG_CACHE_HOME")
    if named:
        return Path(named) / "gyrochalk" / "runs"
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA")
        return (Path(local) if local else Path.home() / "AppData" / "Local") / "gyrochalk" / "cache" / "runs"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "gyrochalk" / "runs"
    return Path.home() / ".cache" / "gyrochalk" / "runs"


def kept_run(name: str) -> Run | None:
    """The run kept under a fingerprint, or None; a file that cannot be read counts as none."""
    path = _path(name)
    if not path.is_file():
        return None
    try:
        run = read_run(path)
    except UnreadableRunError:
        return None
    with contextlib.suppress(OSError):
        os.utime(path)
    return run


def keep_run(name: str, run: Run) -> None:
    """Keep a run under its fingerprint; where the folder cannot be written to, nothing is kept and nothing said."""
    with contextlib.suppress(OSError):
        with written_aside(_path(name)) as aside:
            write_run(run, aside)
        _make_room()


def _path(name: str) -> Path:
    return cache_folder() / f"{name}.npz"


def _make_room() -> None:
    files = []
    for path in cache_folder().glob("*.npz"):
        with contextlib.suppress(OSError):
            status = path.stat()
            files.append((status.st_mtime, status.st_size, path))
    total = sum(size for _, size, _ in files)
    if total <= MOST_BYTES:
        return
    for _, size, path in sorted(files):
        with contextlib.suppress(OSError):
            path.unlink(missing_ok=True)
            total -= size
        if total <= 0.8 * MOST_BYTES:
            return
