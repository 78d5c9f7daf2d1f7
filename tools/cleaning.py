"""Removes what was built and cached in the work tree (`make clean`); the environment stays."""

from __future__ import annotations

import shutil
import sys

from tools.environment import ROOT

BUILT = (
    "out",
    "dist",
    "build",
    "course/out",
    ".mypy_cache",
    ".ruff_cache",
    ".pytest_cache",
    ".hypothesis",
    ".coverage",
)


def main() -> int:
    """Remove everything in `BUILT` and say what went."""
    for name in BUILT:
        target = ROOT / name
        if target.is_dir():
            shutil.rmtree(target)
        elif target.exists():
            target.unlink()
        else:
            continue
        print(f"removed {name}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
