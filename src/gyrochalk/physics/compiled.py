"""One way to compile a kernel, with an on-disk cache that an edit of any kernel file makes void.

numba checks only the file a function stands in; a kernel that calls another file's kernel would keep returning old
numbers after that file changed. So the cache folder's name is a hash of every source in this package.
"""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import numba
from numba.core import config

Kernel = TypeVar("Kernel", bound=Callable[..., Any])


def sources_hash() -> str:
    """The hash of all kernel sources, the Python version and numba's: equal only where the numbers must be."""
    digest = hashlib.sha256(f"{sys.version_info[:3]} {numba.__version__}".encode())
    for source in sorted(Path(__file__).parent.glob("*.py")):
        digest.update(source.name.encode() + b"\0" + source.read_bytes() + b"\0")
    return digest.hexdigest()[:20]


def cache_folder() -> Path:
    """The folder compiled kernels are kept in: under NUMBA_CACHE_DIR if set, else the user's cache folder."""
    base = os.environ.get("NUMBA_CACHE_DIR")
    if base:
        return Path(base) / f"gyrochalk-{sources_hash()}"
    if os.name == "nt":
        root = Path(os.environ.get("LOCALAPPDATA", Path.home() / "AppData" / "Local"))
    elif sys.platform == "darwin":
        root = Path.home() / "Library" / "Caches"
    else:
        root = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
    return root / "gyrochalk" / "kernels" / sources_hash()


_FOLDER = str(cache_folder())


def kernel(function: Kernel) -> Kernel:
    """Compile `function` without the interpreter lock, keeping the machine code in `cache_folder()`."""
    usual = config.CACHE_DIR
    config.CACHE_DIR = _FOLDER
    try:
        compiled: Kernel = numba.njit(cache=True, nogil=True, error_model="numpy")(function)
    finally:
        config.CACHE_DIR = usual
    return compiled
