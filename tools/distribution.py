"""Builds the source and binary distribution and tries the latter as an instructor would (`make wheel`).

The wheel is installed with a plain `pip install` into an empty environment outside the work tree, and a workspace is
made, checked and built there.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import time
import venv
from pathlib import Path

from tools.environment import ROOT, python_of

DIST = ROOT / "dist"
USE = ((["--version"], "."), (["new", "first course"], "."), (["check"], "first course"), (["build"], "first course"))
"""What the installed command is asked to do, as an instructor would, and in which folder."""


def main() -> int:
    """Build, install, try; the answer is the exit code."""
    shutil.rmtree(DIST, ignore_errors=True)
    subprocess.run([sys.executable, "-m", "build", "--no-isolation", "--outdir", str(DIST), str(ROOT)], check=True)
    wheel = next(DIST.glob("*.whl"))
    with tempfile.TemporaryDirectory() as scratch:
        began = time.monotonic()
        command = install_wheel(wheel, Path(scratch) / "environment")
        print(f"wheel: {wheel.name} installed in an empty environment in {time.monotonic() - began:.0f} s", flush=True)
        return try_out(command, Path(scratch))


def install_wheel(wheel: Path, folder: Path) -> Path:
    """Install a wheel with nothing but pip into a new environment; return the `gyrochalk` command there."""
    venv.EnvBuilder(with_pip=True).create(folder)
    subprocess.run([str(python_of(folder)), "-m", "pip", "install", "-qq", "--no-input", str(wheel)], check=True)
    return python_of(folder).with_name("gyrochalk" + python_of(folder).suffix)


def try_out(command: Path, scratch: Path) -> int:
    """Ask the version, make a workspace, check it and build it; the first exit code that is not 0."""
    for words, folder in USE:
        print(f"wheel: gyrochalk {' '.join(words)}", flush=True)
        code = subprocess.run([str(command), *words], cwd=scratch / folder, check=False).returncode
        if code != 0:
            return code
    return 0


if __name__ == "__main__":
    sys.exit(main())
