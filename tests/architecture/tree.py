"""What the architecture tests look at: the files of the project and the sources of the package."""

from __future__ import annotations

import functools
import shutil
import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "gyrochalk"


@functools.cache
def project_files() -> tuple[Path, ...]:
    """Every file that is, or would be, under version control."""
    git = shutil.which("git")
    assert git is not None, "the architecture tests need git to know which files belong to the project"
    listing = subprocess.run(
        [git, "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT,
        capture_output=True,
        check=True,
        encoding="utf-8",
    )
    paths = (ROOT / name for name in listing.stdout.split("\0") if name)
    return tuple(sorted(path for path in paths if path.is_file()))


def text_of(path: Path) -> str | None:
    """The text of a file, or None if it is not text."""
    content = path.read_bytes()
    if b"\0" in content:
        return None
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        return None


def sources(*folders: str) -> tuple[Path, ...]:
    """The Python files of the project below the folders named, relative to its root."""
    wanted = tuple(ROOT / folder for folder in folders)
    return tuple(p for p in project_files() if p.suffix == ".py" and any(p.is_relative_to(folder) for folder in wanted))


def shown(path: Path) -> str:
    """A path as a person would type it from the project's root."""
    return path.relative_to(ROOT).as_posix()
