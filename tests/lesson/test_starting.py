"""A new workspace is whole, checks true, and never overwrites anything."""

from __future__ import annotations

from pathlib import Path

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.lesson import Flights, build_lesson, check_lesson, start_workspace


def test_a_new_workspace_checks_true(tmp_path: Path) -> None:
    workspace = start_workspace(tmp_path / "deep" / "course")
    (lesson,) = workspace.lesson_files()
    report = check_lesson(lesson, Flights(workspace))
    assert [str(problem) for problem in report.all_problems] == []
    assert report.holds
    assert report.count("claim") >= 1
    assert report.count("value") >= 1
    assert build_lesson(lesson, workspace).path is not None
    assert [path.name for path in (tmp_path / "deep").iterdir()] == ["course"]


def test_an_empty_folder_will_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    start_workspace(Path())
    assert (tmp_path / "course.yaml").is_file()


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine", encoding="utf-8")
    for folder, what in (
        (tmp_path, "the folder is not empty"),
        (tmp_path / "mine.txt", "a file of this name is there already"),
    ):
        with pytest.raises(MaterialError) as refused:
            start_workspace(folder)
        assert str(refused.value) == (
            f"{folder}  {what}; an empty folder, or a name not yet used; choose another name  [workspace-exists]"
        )
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]


def test_a_failure_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("shutil.copytree", full)
    with pytest.raises(MaterialError) as refused:
        start_workspace(tmp_path / "course")
    assert str(refused.value) == (
        f"{tmp_path / 'course'}  the folder cannot be made (No space left on device); a place you may write to; "
        "choose another folder  [cannot-write]"
    )
    assert list(tmp_path.iterdir()) == []
