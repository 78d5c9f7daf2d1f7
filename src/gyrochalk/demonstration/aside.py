"""Files written aside and then put in place, so that nobody ever meets half a file."""

from __future__ import annotations

import contextlib
import secrets
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def written_aside(path: Path) -> Iterator[Path]:
    """A path beside `path` to write to; it takes the place of `path` when the block ends without an error.

    Raises OSError if the folder cannot be made or the file cannot be put in place.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    aside = path.with_name(f".{path.name}.{secrets.token_hex(6)}.part")
    try:
        yield aside
        aside.replace(path)
    finally:
        with contextlib.suppress(OSError):
            aside.unlink(missing_ok=True)
