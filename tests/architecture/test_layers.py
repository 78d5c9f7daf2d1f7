"""The layers hold, and the linter that says so does notice when they do not."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.architecture.tree import PACKAGE, ROOT

LINTER = Path(sys.executable).with_name("lint-imports" + Path(sys.executable).suffix)


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    """Run the import linter on the package that stands in `folder`, with the project's own contracts."""
    return subprocess.run(
        [str(LINTER), "--no-cache", "--config", str(ROOT / ".importlinter")],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(folder), "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        check=False,
        encoding="utf-8",
    )


def test_every_contract_is_kept() -> None:
    result = lint(PACKAGE.parent)
    assert result.returncode == 0, result.stdout


@pytest.mark.parametrize(
    ("module", "statement", "contract"),
    [
        ("units/planted.py", "import gyrochalk.lesson", "A package uses only packages that come before it"),
        ("physics/planted.py", "from gyrochalk import units", "The compiled kernels know numbers"),
        ("figures/planted.py", "import fastapi", "Pictures and numbers are made without a web framework"),
        ("document/planted.py", "import markdown_it", "A page model is rendered, never parsed"),
        ("lesson/planted.py", "import typer", "Only the command line talks to a terminal"),
    ],
)
def test_a_planted_violation_is_found(tmp_path: Path, module: str, statement: str, contract: str) -> None:
    shutil.copytree(PACKAGE, tmp_path / "gyrochalk", ignore=shutil.ignore_patterns("__pycache__"))
    (tmp_path / "gyrochalk" / module).write_text(f'"""Planted."""\n\n{statement}\n', encoding="utf-8")
    result = lint(tmp_path)
    assert result.returncode == 1, result.stdout
    verdicts = [line for line in result.stdout.splitlines() if line.endswith(("KEPT", "BROKEN"))]
    assert [line.endswith("BROKEN") for line in verdicts if line.startswith(contract)] == [True]


def test_a_package_outside_the_layers_is_found(tmp_path: Path) -> None:
    shutil.copytree(PACKAGE, tmp_path / "gyrochalk", ignore=shutil.ignore_patterns("__pycache__"))
    stray = tmp_path / "gyrochalk" / "stray"
    stray.mkdir()
    (stray / "__init__.py").write_text('"""Planted."""\n', encoding="utf-8")
    assert lint(tmp_path).returncode == 1
