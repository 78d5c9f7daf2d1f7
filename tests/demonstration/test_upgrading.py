"""Older files are brought up to date in a copy, with comments and layout as they were."""

from __future__ import annotations

from pathlib import Path

import pytest

from gyrochalk.demonstration import upgrade
from gyrochalk.errors import MaterialError

TEXT = "# mine\ngyrochalk: 1  # the format\ntitel:   Orbit  # spaced\n"


def test_a_file_of_this_version_is_left_alone(workspace: Path) -> None:
    path = workspace / "demonstrations" / "orbit.yaml"
    path.write_text("gyrochalk: 1\n", encoding="utf-8")
    assert upgrade(path) is None
    assert [found.name for found in path.parent.iterdir()] == ["orbit.yaml"]


def test_steps_are_taken_one_after_another_into_a_copy(workspace: Path) -> None:
    path = workspace / "demonstrations" / "orbit.yaml"
    path.write_text(TEXT, encoding="utf-8")
    steps = {1: lambda text: text.replace("titel", "title"), 2: lambda text: text + "seed: 1\n"}
    copy = upgrade(path, steps, newest=3)
    assert copy == path.with_name("orbit.v3.yaml")
    assert copy.read_text(encoding="utf-8") == (
        "# mine\ngyrochalk: 3  # the format\ntitle:   Orbit  # spaced\nseed: 1\n"
    )
    assert path.read_text(encoding="utf-8") == TEXT


def test_a_newer_file_is_refused(workspace: Path) -> None:
    path = Path("demonstrations/orbit.yaml")
    path.write_text("gyrochalk: 4\n", encoding="utf-8")
    with pytest.raises(MaterialError) as caught:
        upgrade(path)
    assert str(caught.value) == (
        "demonstrations/orbit.yaml:1:12  the format version is 4; this gyrochalk reads version 1; update gyrochalk  "
        "[version-newer]"
    )
