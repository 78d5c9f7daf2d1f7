"""How soon the demo lesson stands there, from a clean clone and from a wheel."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tools.distribution import USE, install_wheel
from tools.environment import ROOT
from tools.evidence import Row, below, equal, rows, true
from tools.evidence.clone import fresh_clone, seconds_for, seconds_to_page

SOURCE = "timed here, wall clock"


@rows("make run and make lesson from a clean clone")
def start() -> Iterator[Row]:
    """Time the README's first command twice in one clone, then the one without serving."""
    with fresh_clone() as clone:
        first = seconds_to_page(clone, "make", "run")
        yield Row("clean clone to served page, downloads cached", first, below(180.0), "s", SOURCE)
        second = seconds_to_page(clone, "make", "run")
        yield Row("make run again, to served page", second, below(15.0), "s", SOURCE)
        again = seconds_for(clone, "make", "lesson")
        yield Row("make lesson again", again, below(15.0), "s", SOURCE)


@rows("the tests from a clean clone")
def suite() -> Iterator[Row]:
    """Run the README's second command in a clone of its own."""
    with fresh_clone() as clone:
        seconds_for(clone, "make", "test")
        yield Row("make test passes in a clean clone", True, true(), "", "run here")


@rows("a plain install of the wheel")
def wheel() -> Iterator[Row]:
    """Build the wheel, install it with nothing but pip into an empty environment, use its command."""
    with tempfile.TemporaryDirectory() as folder:
        scratch = Path(folder)
        build = [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(scratch), str(ROOT)]
        subprocess.run(build, check=True, capture_output=True)
        command = install_wheel(next(scratch.glob("*.whl")), scratch / "environment")
        for words, where in USE:
            done = subprocess.run([str(command), *words], cwd=scratch / where, check=False, capture_output=True)
            yield Row(
                f"from the wheel: gyrochalk {' '.join(words)}", done.returncode, equal(0), "exit code", "run here"
            )
