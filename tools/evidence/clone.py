"""A clean clone of the committed state with its own caches, for rows that time the README's commands."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import subprocess
import tempfile
import threading
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

from tools.environment import ROOT

SERVING = re.compile(r"http://(?:127\.0\.0\.1|localhost|\[::1\]):\d+\S*")
CACHES = {"XDG_CACHE_HOME": "cache", "NUMBA_CACHE_DIR": "numba", "LOCALAPPDATA": "cache"}
"""Where the product keeps runs and kernels: empty in a fresh clone. pip's downloads stay cached, as the goal says."""


@contextlib.contextmanager
def fresh_clone() -> Iterator[Path]:
    """Clone the committed state into an empty folder; uncommitted work is not part of it, and is reported."""
    with tempfile.TemporaryDirectory() as folder:
        clone = Path(folder) / "clone"
        subprocess.run(["git", "clone", "--quiet", str(ROOT), str(clone)], check=True)
        changed = subprocess.run(["git", "status", "--porcelain"], cwd=ROOT, check=True, capture_output=True).stdout
        if changed:
            print("note: uncommitted changes are not part of the clone", flush=True)
        yield clone


def environment_for(clone: Path) -> dict[str, str]:
    """The surroundings of a command in a clone: no environment of ours, no caches of ours but pip's downloads."""
    gone = {"VIRTUAL_ENV", "PYTHONPATH", "PYTHONHOME", "MAKEFLAGS", "MAKELEVEL", "MFLAGS"}
    kept = {name: value for name, value in os.environ.items() if name not in gone}
    own = os.path.normcase(ROOT / ".venv")
    path = [part for part in kept["PATH"].split(os.pathsep) if not os.path.normcase(part).startswith(own)]
    downloads = os.environ.get("PIP_CACHE_DIR") or pip_cache()
    moved = {name: str(clone.parent / folder) for name, folder in CACHES.items()}
    return kept | moved | {"PATH": os.pathsep.join(path), "PIP_CACHE_DIR": downloads}


def pip_cache() -> str:
    """Where pip keeps its downloads."""
    python = shutil.which("python3") or "python"
    answer = subprocess.run([python, "-m", "pip", "cache", "dir"], capture_output=True, check=True, encoding="utf-8")
    return answer.stdout.strip()


def seconds_for(clone: Path, *command: str) -> float:
    """How long a command takes in a clone [s]; raises with the end of what it said if it fails."""
    began = time.monotonic()
    done = subprocess.run(
        command, cwd=clone, env=environment_for(clone), check=False, capture_output=True, encoding="utf-8"
    )
    if done.returncode != 0:
        message = f"{' '.join(command)} ended with {done.returncode}: {(done.stdout + done.stderr)[-2000:]}"
        raise RuntimeError(message)
    return time.monotonic() - began


def seconds_to_page(clone: Path, *command: str, patience_s: float = 600.0) -> float:
    """How long a serving command takes until its page can be fetched [s]; the server is stopped afterwards.

    `patience_s` is how long to wait before giving up.
    """
    began = time.monotonic()
    with subprocess.Popen(
        command,
        cwd=clone,
        env=environment_for(clone) | {"PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        start_new_session=True,
    ) as server:
        watchdog = threading.Timer(patience_s, stop, [server])
        watchdog.start()
        try:
            wait_for_page(server)
            return time.monotonic() - began
        finally:
            watchdog.cancel()
            stop(server)


def wait_for_page(server: subprocess.Popen[str]) -> None:
    """Read what a server prints until it names its address, then fetch the page there."""
    said: list[str] = []
    for line in server.stdout or ():
        said.append(line)
        address = SERVING.search(line)
        if address:
            fetch(address[0].rstrip(".,;)"))
            return
    message = "the server ended without naming its address:\n" + "".join(said[-20:])
    raise RuntimeError(message)


def fetch(address: str, patience_s: float = 20.0) -> bytes:
    """The page at a local address, asked for until it answers; gives up after `patience_s`."""
    began = time.monotonic()
    while True:
        try:
            with urllib.request.urlopen(address, timeout=5) as answer:
                content: bytes = answer.read()
                return content
        except OSError:
            if time.monotonic() - began > patience_s:
                raise
            time.sleep(0.1)


def stop(server: subprocess.Popen[str]) -> None:
    """End a server that was started here, with what it started."""
    if server.poll() is None:
        if os.name == "posix":
            with contextlib.suppress(ProcessLookupError):
                os.killpg(server.pid, 15)
        else:
            server.terminate()
