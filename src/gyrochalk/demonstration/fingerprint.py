"""A short name for a setup and for the code that flies it, so that a kept run is never taken for another."""

from __future__ import annotations

import dataclasses
import datetime
import functools
import hashlib
import importlib.metadata
from pathlib import Path
from typing import Any

import numpy as np

import gyrochalk
from gyrochalk.systems.setup import Setup

CODE_FOLDERS = ("errors", "units", "physics", "systems")
"""The packages whose every source file decides what a run says."""

LIBRARIES = ("numpy", "scipy", "numba", "pygeomag", "geographiclib")


def fingerprint(setup: Setup) -> str:
    """A hash of everything a setup says, of the version and of all code that flies it (64 hexadecimal digits)."""
    digest = hashlib.sha256(code_fingerprint().encode("ascii"))
    _feed(digest, setup)
    return digest.hexdigest()


@functools.lru_cache(maxsize=1)
def code_fingerprint() -> str:
    """A hash of the version, the libraries and every source file that decides what a run says."""
    digest = hashlib.sha256(gyrochalk.__version__.encode("utf-8"))
    for name in LIBRARIES:
        digest.update(f"{name} {importlib.metadata.version(name)}\n".encode())
    root = Path(gyrochalk.__file__).parent
    for folder in CODE_FOLDERS:
        for path in sorted((root / folder).rglob("*.py")):
            digest.update(path.relative_to(root).as_posix().encode("utf-8"))
            digest.update(path.read_bytes())
    return digest.hexdigest()


def _feed(digest: Any, value: Any) -> None:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        digest.update(f"<{type(value).__name__}".encode())
        for field in dataclasses.fields(value):
            digest.update(f"|{field.name}=".encode())
            _feed(digest, getattr(value, field.name))
        digest.update(b">")
    elif isinstance(value, np.ndarray):
        digest.update(f"<{value.dtype}{value.shape}".encode())
        digest.update(np.ascontiguousarray(value).tobytes())
    elif isinstance(value, frozenset):
        _feed(digest, tuple(sorted(value)))
    elif isinstance(value, tuple):
        digest.update(f"({len(value)}".encode())
        for item in value:
            _feed(digest, item)
    elif value is None or isinstance(value, str | int | float | datetime.date):
        digest.update(f"{type(value).__name__}:{value!r};".encode())
    else:
        raise TypeError(f"a {type(value).__name__} in a setup cannot be fingerprinted")
