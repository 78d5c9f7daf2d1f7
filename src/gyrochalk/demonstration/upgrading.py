"""Brings a file of an older format up to date, into a copy; the file itself stays as it is."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from pathlib import Path

from gyrochalk.demonstration.aside import written_aside
from gyrochalk.demonstration.keys import FORMAT_VERSION
from gyrochalk.demonstration.loading import check_version
from gyrochalk.demonstration.yaml_source import Scalar, read_text, read_tree

Step = Callable[[str], str]
STEPS: Mapping[int, Step] = {}
"""What changes from each version to the next, as an edit of the text. Version 1 is the first, so there is none yet."""

_VERSION_LINE = re.compile(r"^gyrochalk:[ \t]*[0-9]+", re.MULTILINE)


def upgrade(path: Path, steps: Mapping[int, Step] = STEPS, newest: int = FORMAT_VERSION) -> Path | None:
    """Write a copy of `path` in the newest format beside it, and return the copy's path.

    None if the file is up to date. The copy is named after the new version: `orbit.v2.yaml`. Comments and layout stay.
    Raises `MaterialError`: version-newer, version-unknown, and whatever makes the file unreadable.
    """
    text = read_text(path)
    tree = read_tree(text, path.as_posix())
    node = tree.get("gyrochalk")
    version = int(node.text[:9]) if isinstance(node, Scalar) and node.text.isdecimal() else None
    if version is None or version not in steps:
        check_version(tree, path.as_posix(), newest)
        return None
    for number in range(version, newest):
        text = _VERSION_LINE.sub(f"gyrochalk: {number + 1}", steps[number](text), count=1)
    copy = path.with_name(f"{path.stem}.v{newest}{path.suffix}")
    with written_aside(copy) as aside:
        aside.write_text(text, encoding="utf-8", newline="\n")
    return copy
