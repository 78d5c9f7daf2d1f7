"""Makes the project's virtual environment what the pins say, and does nothing when it already is.

    python tools/environment.py run        what a lesson needs
    python tools/environment.py develop    that, and what tests and checks need

Standard library only: it runs before anything is installed. What was installed is noted in a stamp inside the
environment; an environment without a stamp (made by other hands, or left half-made) is completed, not emptied.
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import json
import os
import sqlite3
import subprocess
import sys
import time
import venv
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
STAMP = "gyrochalk-pins.json"
OLDEST_PYTHON = (3, 11)
LEVELS: dict[str, tuple[str, ...]] = {
    "run": ("build.txt", "run.txt"),
    "develop": ("build.txt", "run.txt", "develop.txt", "samples.txt"),
}
"""The pin files of each level, in the order they are installed."""
WITHOUT_DEPENDENCIES = {"samples.txt"}
"""Pin files of packages that are only read as data."""


def main(arguments: list[str] | None = None) -> int:
    """Bring the environment to the level asked for; the answer is the exit code."""
    parser = argparse.ArgumentParser(description="Make the virtual environment what the pins say.")
    parser.add_argument("level", choices=LEVELS)
    parser.add_argument("--folder", type=Path, default=ROOT / ".venv")
    options = parser.parse_args(arguments)
    if sys.version_info < OLDEST_PYTHON:
        print(f"gyrochalk needs Python 3.11 or later and this is {sys.version.split()[0]}; try make PYTHON=python3.12")
        return 2
    with one_at_a_time(ROOT / "build" / "environment.lock"):
        return bring_to_level(options.folder.resolve(), options.level)


def bring_to_level(folder: Path, level: str) -> int:
    """Install what is missing in `folder`, after starting afresh if what it holds was pinned otherwise."""
    wanted = {name: digest_of(ROOT / "requirements" / name) for name in LEVELS[level]}
    have = read_stamp(folder)
    if is_outdated(have, wanted):
        have = {}
        make_folder(folder, clear=True)
    elif not python_of(folder).exists():
        make_folder(folder, clear=False)
    for name in LEVELS[level]:
        if have.get(name) != wanted[name]:
            if not install(folder, f"requirements/{name}", pin_arguments(name)):
                return 1
            have |= {name: wanted[name], "python": sys.version}
            write_stamp(folder, have)
    package = digest_of(ROOT / "pyproject.toml")
    if have.get("package") != package:
        if not install(folder, "gyrochalk itself", ["--no-deps", "--no-build-isolation", "--editable", str(ROOT)]):
            return 1
        write_stamp(folder, have | {"package": package})
    return 0


def is_outdated(have: dict[str, str], wanted: dict[str, str]) -> bool:
    """Whether the environment was made from other pins, or for another Python, than are wanted now."""
    if any(name in have and have[name] != digest for name, digest in wanted.items()):
        return True
    return have.get("python", sys.version) != sys.version


def pin_arguments(name: str) -> list[str]:
    """What pip is told to install one pin file."""
    alone = ["--no-deps"] if name in WITHOUT_DEPENDENCIES else []
    return [*alone, "--require-hashes", "--requirement", str(ROOT / "requirements" / name)]


def digest_of(path: Path) -> str:
    """A short name for what a file says; line endings do not count."""
    return hashlib.sha256(path.read_bytes().replace(b"\r\n", b"\n")).hexdigest()[:16]


def python_of(folder: Path) -> Path:
    """The interpreter of a virtual environment."""
    return folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def make_folder(folder: Path, *, clear: bool) -> None:
    """Create the virtual environment, emptied first if `clear`."""
    say(f"{folder.name} {'was made from other pins: starting afresh' if clear else 'is new'}")
    venv.EnvBuilder(with_pip=True, clear=clear, symlinks=os.name != "nt").create(folder)


def install(folder: Path, what: str, arguments: list[str]) -> bool:
    """Run pip in the environment with one line of progress; its whole output is shown only if it fails."""
    began = time.monotonic()
    command = [str(python_of(folder)), "-m", "pip", "install", "--no-input", "--disable-pip-version-check", *arguments]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, encoding="utf-8", errors="replace"
    ) as pip:
        output = watch(what, pip.stdout or ())
    if pip.returncode != 0:
        print(output)
        say(f"pip could not install {what}; mend the cause above and run the same make target again")
        return False
    say(f"{what} installed in {time.monotonic() - began:.0f} s")
    return True


def watch(what: str, lines: Iterator[str] | tuple[str, ...]) -> str:
    """Keep one line of a terminal up to date with what pip does; return all it said."""
    seen: list[str] = []
    packages = 0
    for line in lines:
        seen.append(line)
        packages += line.startswith("Collecting")
        if sys.stdout.isatty():
            say(f"{what}, {packages} packages: {line.strip()}"[:90], end="")
    return "".join(seen)


def say(text: str, end: str = "\n") -> None:
    """Print a line of progress over the one before it."""
    start = "\r\x1b[K" if sys.stdout.isatty() else ""
    print(f"{start}environment: {text}", end=end, flush=True)


def read_stamp(folder: Path) -> dict[str, str]:
    """What the environment was last made from; empty if nobody noted it."""
    stamp = folder / STAMP
    if not stamp.exists() or not python_of(folder).exists():
        return {}
    found: dict[str, str] = json.loads(stamp.read_text(encoding="utf-8"))
    return found


def write_stamp(folder: Path, made_from: dict[str, str]) -> None:
    """Note what the environment is made from so far."""
    (folder / STAMP).write_text(json.dumps(made_from, indent=1) + "\n", encoding="utf-8")


@contextlib.contextmanager
def one_at_a_time(lock: Path, patience_s: float = 900.0) -> Iterator[None]:
    """Keep two `make` runs from building the environment together; the lock goes with the process that holds it."""
    lock.parent.mkdir(parents=True, exist_ok=True)
    with contextlib.closing(sqlite3.connect(lock, timeout=patience_s, isolation_level=None)) as connection:
        connection.execute("BEGIN EXCLUSIVE")
        yield


if __name__ == "__main__":
    sys.exit(main())
