"""Compiled kernels are kept on disk under a key that the edit of any kernel file changes."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from tests.architecture.tree import PACKAGE

from gyrochalk.physics import compiled

PROGRAM = """
import math
from gyrochalk.physics.compiled import _FOLDER
from gyrochalk.physics.motion import leg_motion
from gyrochalk.physics.world import LEG_BANK, LEG_COLUMNS, LEG_SPEED
import numpy as np
row = np.zeros(LEG_COLUMNS)
row[LEG_BANK], row[LEG_SPEED] = math.pi / 4.0, 100.0
rates = leg_motion(1.0, row)[1]
print(f"{rates[0]:.9f} {_FOLDER}")
"""
"""The heading rate of a turn at 45° of bank and 100 m/s, which is g/100, and where the kernels are kept."""


def answer(folder: Path, cache: Path) -> tuple[float, str]:
    """What the program says, run on the package in `folder` with an own place for compiled kernels."""
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM],
        env=os.environ | {"PYTHONPATH": str(folder), "NUMBA_CACHE_DIR": str(cache)},
        cwd=folder,
        capture_output=True,
        check=True,
        encoding="utf-8",
    )
    number, kept = done.stdout.split(maxsplit=1)
    return float(number), kept.strip()


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """The package's lowest layers in a folder of their own."""
    target = tmp_path / "here" / "gyrochalk"
    target.mkdir(parents=True)
    shutil.copy(PACKAGE / "__init__.py", target)
    shutil.copytree(PACKAGE / "physics", target / "physics", ignore=shutil.ignore_patterns("__pycache__"))
    return target


def test_an_edit_in_another_file_is_seen_at_once(copied: Path, tmp_path: Path) -> None:
    """A constant is edited in a file whose kernel is called by another file's kernel, which itself stays as it was."""
    used = copied / "physics" / "turning.py"
    motion = copied / "physics" / "motion.py"
    used.write_text(
        '"""The rate of a turn."""\n\nimport math\n\nfrom gyrochalk.physics.compiled import kernel\n\nG = 9.80665\n\n\n'
        '@kernel\ndef turn_rate(bank, speed):\n    """g tan(bank)/speed."""\n    return G * math.tan(bank) / speed\n',
        encoding="utf-8",
    )
    text = motion.read_text(encoding="utf-8")
    changed = text.replace(
        "heading_rate += GRAVITY * math.tan(bank) / speed", "heading_rate += turn_rate(bank, speed)"
    ).replace(
        "from gyrochalk.physics.compiled import kernel",
        "from gyrochalk.physics.compiled import kernel\nfrom gyrochalk.physics.turning import turn_rate",
    )
    assert changed.count("turn_rate") == 2
    motion.write_text(changed, encoding="utf-8")
    stamp = motion.stat().st_mtime_ns

    first, kept_first = answer(copied.parent, tmp_path / "kernels")
    assert first == pytest.approx(0.0980665, abs=1e-9)
    assert answer(copied.parent, tmp_path / "kernels") == (first, kept_first)

    used.write_text(used.read_text(encoding="utf-8").replace("9.80665", "1.62"), encoding="utf-8")
    second, kept_second = answer(copied.parent, tmp_path / "kernels")
    assert motion.stat().st_mtime_ns == stamp
    assert second == pytest.approx(0.0162, abs=1e-9)
    assert kept_second != kept_first


def test_kernels_are_really_kept(copied: Path, tmp_path: Path) -> None:
    _, kept = answer(copied.parent, tmp_path / "kernels")
    assert Path(kept).is_relative_to(tmp_path / "kernels")
    assert list(Path(kept).rglob("*.nbc")) != []


def test_the_key_names_sources_python_and_compiler() -> None:
    assert re.fullmatch(r"[0-9a-f]{20}", compiled.sources_hash())
    assert compiled.sources_hash() in str(compiled.cache_folder())


@pytest.mark.parametrize(
    ("variable", "expected"),
    [("NUMBA_CACHE_DIR", "gyrochalk-"), ("XDG_CACHE_HOME", "kernels")],
)
def test_where_kernels_are_kept(variable: str, expected: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    if os.name == "nt" and variable == "XDG_CACHE_HOME":
        variable = "LOCALAPPDATA"
    for name in ("NUMBA_CACHE_DIR", "XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv(variable, str(tmp_path))
    if sys.platform == "darwin" and variable == "XDG_CACHE_HOME":
        monkeypatch.setenv("HOME", str(tmp_path))
    assert compiled.cache_folder().is_relative_to(tmp_path)
    assert expected in str(compiled.cache_folder())
