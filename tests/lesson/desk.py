"""A small workspace for tests: one demonstration whose numbers are round, and a way to write lessons into it."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

COURSE = """\
gyrochalk: 1
title: Test course
objectives:
  - {id: T1, text: State the drift}
"""

DRIFT = """\
gyrochalk: 1
title: Ten minutes of drift
field: {horizontal: 19 uT, dip: 67 deg, variation: 0}
flight: {heading: 350M, legs: [{hold: 10 min}]}
gyros: {drift: 12 deg/h}
effects: textbook
sample: 1 s
measures:
  reading:
    channel: gyro.heading
    reducer: end
    description: what the unslaved gyro reads at the end
variants:
  double:
    title: Ten minutes of twice the drift
    gyros: {drift: 24 deg/h}
"""


@dataclasses.dataclass(frozen=True)
class Desk:
    """A workspace and what one does in it; the front matter of a lesson takes four lines."""

    root: Path

    def write(self, body: str, name: str = "l", front: str = "") -> Path:
        """Write a lesson."""
        path = self.root / "lessons" / f"{name}.md"
        path.write_text(f"---\ngyrochalk: 1\ntitle: A lesson\n{front}---\n{body}", encoding="utf-8", newline="")
        return path

    def demonstration(self, name: str, text: str) -> Path:
        """Write a demonstration."""
        path = self.root / "demonstrations" / f"{name}.yaml"
        path.write_text(text, encoding="utf-8")
        return path


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    """An empty workspace, which is also the folder the test runs in."""
    for folder in ("lessons", "demonstrations", "images"):
        (tmp_path / folder).mkdir()
    (tmp_path / "course.yaml").write_text(COURSE, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    made = Desk(Path())
    made.demonstration("drift", DRIFT)
    return made
