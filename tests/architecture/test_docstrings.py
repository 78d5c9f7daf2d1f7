"""Every public name tells an instructor what it is, and in which unit it takes its numbers."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.architecture.docstrings import faults, tells_unit
from tests.architecture.tree import PACKAGE, shown, sources


@pytest.mark.parametrize("package", sorted({path.relative_to(PACKAGE).parts[0] for path in sources("src/gyrochalk")}))
def test_public_names_are_explained(package: str) -> None:
    found = [f"{shown(path)}:{fault}" for path in sources(f"src/gyrochalk/{package}") for fault in faults(path)]
    assert not found, "\n".join(found)


def test_a_missing_explanation_is_found(tmp_path: Path) -> None:
    source = tmp_path / "planted.py"
    source.write_text(
        '"""Planted."""\n\n\ndef bank(tas_kt):\n    """How steep the turn is."""\n\n\nclass Bare:\n    x = 1\n',
        encoding="utf-8",
    )
    assert list(faults(source)) == [
        "4 bank: the docstring names neither `tas_kt` nor its unit in brackets",
        "8 Bare has no docstring",
    ]


@pytest.mark.parametrize(
    ("text", "parameter", "told"),
    [
        ("True airspeed `tas_kt`.", "tas_kt", True),
        ("True airspeed [kt].", "tas_kt", True),
        ("True airspeed [m/s].", "time_s", False),
        ("True airspeed, in kt.", "tas_kt", False),
        ("How many.", "count", True),
    ],
)
def test_how_a_unit_is_told(text: str, parameter: str, told: bool) -> None:
    assert tells_unit(text, parameter) is told
