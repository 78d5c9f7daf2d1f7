"""Writes the pinned, hashed requirement files from the lists beside them (`make pins`).

The files name no registry: pip takes what they list from whatever registry it is set up for, and the hashes say that
it is the same thing.
"""

from __future__ import annotations

import subprocess
import sys
import venv
from pathlib import Path

from tools.environment import ROOT, python_of

REQUIREMENTS = ROOT / "requirements"
LISTS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "run.txt": (("run.in",), ()),
    "develop.txt": (("run.in", "develop.in", "build.in"), ()),
    "build.txt": (("build.in",), ("--constraint", "requirements/develop.txt")),
    "samples.txt": (("samples.in",), ("--no-deps",)),
    "pins.txt": (("pins.in",), ()),
}
"""For each pin file: the lists it comes from, and what else uv is told. Order matters: develop follows run's pins."""


def main(arguments: list[str]) -> int:
    """Write every pin file; words given are passed on to uv (for instance --upgrade)."""
    python = environment_with_uv()
    for name, (lists, options) in LISTS.items():
        sources = [f"requirements/{source}" for source in lists]
        command = [str(python), "-m", "uv", "pip", "compile", "--quiet", "--universal", "--python-version", "3.11"]
        command += ["--generate-hashes", "--no-emit-index-url", "--no-header", *options, *arguments, *sources]
        if subprocess.run([*command, "--output-file", f"requirements/{name}"], cwd=ROOT, check=False).returncode != 0:
            print(f"pins: uv could not resolve {', '.join(sources)}; the file before stands")
            return 1
        print(f"pins: requirements/{name}", flush=True)
    return 0


def environment_with_uv() -> Path:
    """The interpreter of a small environment of its own that holds the resolver."""
    folder = ROOT / "build" / "pins"
    venv.EnvBuilder(with_pip=True, clear=False).create(folder)
    pins = REQUIREMENTS / "pins.txt"
    what = ["--require-hashes", "-r", str(pins)] if pins.exists() else ["-r", str(pins.with_suffix(".in"))]
    subprocess.run([str(python_of(folder)), "-m", "pip", "install", "-qq", *what], check=True)
    return python_of(folder)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
