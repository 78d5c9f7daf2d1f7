"""A file is written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.lesson.writing import write_whole


def test_written_into_a_new_folder(tmp_path: Path) -> None:
    path = tmp_path / "out" / "page.html"
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    assert list(path.parent.iterdir()) == [path]


def test_a_failure_leaves_the_old_file_and_nothing_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "page.html"
    path.write_bytes(b"old")

    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(MaterialError) as refused:
        write_whole(path, b"new")
    assert str(refused.value) == (
        f"{path}  the file cannot be written (No space left on device); a folder you may write to, with room on the "
        "disk; close other programs that hold the file, or choose another folder  [cannot-write]"
    )
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(os.name != "posix", reason="permissions are those of POSIX")
def test_permissions_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "lesson.md"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_whole(path, b"new")
    assert path.stat().st_mode & 0o777 == 0o640
