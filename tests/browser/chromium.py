"""The machine's own Chromium, and axe-core as `npm ci` installs it from the lock file beside this module."""

from __future__ import annotations

import contextlib
import json
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent
INSTALLED = HERE.parents[1] / "build" / "browser"
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def axe_source() -> str:
    """The text of axe-core, installed once into the build folder; the test is skipped where that cannot be done."""
    script = INSTALLED / "node_modules" / "axe-core" / "axe.min.js"
    lock = (HERE / "package-lock.json").read_bytes()
    kept = INSTALLED / "package-lock.json"
    if not (script.exists() and kept.exists() and kept.read_bytes() == lock):
        npm = shutil.which("npm")
        if npm is None:
            pytest.skip("npm is not here, so axe-core cannot be installed")
        INSTALLED.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=INSTALLED.parent) as folder:
            for name in ("package.json", "package-lock.json"):
                shutil.copyfile(HERE / name, Path(folder) / name)
            done = subprocess.run([npm, "ci", "--silent"], cwd=folder, check=False, capture_output=True)
            if done.returncode != 0:
                pytest.skip("npm could not install axe-core")
            shutil.copytree(folder, INSTALLED, dirs_exist_ok=True)
    return script.read_text(encoding="utf-8")


@contextlib.contextmanager
def browser() -> Iterator[Any]:
    """A headless Chromium; the test is skipped where there is none."""
    program = shutil.which("chromium")
    if program is None:
        pytest.skip("chromium is not here")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        opened = player.chromium.launch(executable_path=program, args=list(FLAGS))
        try:
            yield opened
        finally:
            opened.close()


def violations(page: Any, axe: str) -> list[str]:
    """What axe-core objects to on an open page: rule and the places, a line for each rule."""
    page.evaluate(axe)
    found = json.loads(page.evaluate("async () => JSON.stringify((await axe.run()).violations)"))
    return [f"{one['id']}: " + ", ".join(str(node["target"]) for node in one["nodes"][:4]) for one in found]
