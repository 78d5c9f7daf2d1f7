"""Refresh rewrites the text of values and not one byte more."""

from __future__ import annotations

from pathlib import Path

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.lesson import check_lesson, refresh_lesson
from tests.lesson.desk import Desk

LINK = "[9°](value:drift/gyro.end_error?digits=0)"


def refreshed(path: Path) -> tuple[bytes, list[tuple[str, str]]]:
    changes, problems = refresh_lesson(path)
    assert problems == []
    return path.read_bytes(), [(change.was, change.now) for change in changes]


@pytest.mark.parametrize(
    ("body", "after", "changes"),
    [
        (f"a {LINK} b\n", "a [2°](value:drift/gyro.end_error?digits=0) b\n", [("9°", "2°")]),
        (
            "[9.0°](value:drift/gyro.end_error) [0 min](value:drift/actual.duration)\r\n\r\n> "
            "[x](value:drift/gyro.end_error)\r",
            "[2.0°](value:drift/gyro.end_error) [10 min](value:drift/actual.duration)\r\n\r\n> "
            "[2.0°](value:drift/gyro.end_error)\r",
            [("9.0°", "2.0°"), ("0 min", "10 min"), ("x", "2.0°")],
        ),
        (
            "**[*9°*](value:drift/gyro.end_error)** <!-- kept [9°](value:drift/gyro.end_error) "
            "-->\n`[9°](value:a/b)`  \n\n\n",
            "**[*2°*](value:drift/gyro.end_error)** <!-- kept [2°](value:drift/gyro.end_error) "
            "-->\n`[9°](value:a/b)`  \n\n\n",
            [("9°", "2°"), ("9°", "2°")],
        ),
        (
            "| a | b |\n|--|--|\n| \\| [9°](value:drift/gyro.end_error) | [9°](claim:drift/gyro.end_error) |",
            "| a | b |\n|--|--|\n| \\| [2°](value:drift/gyro.end_error) | [9°](claim:drift/gyro.end_error) |",
            [("9°", "2°")],
        ),
    ],
)
def test_only_values_change(desk: Desk, body: str, after: str, changes: list[tuple[str, str]]) -> None:
    path = desk.write(body)
    before = path.read_bytes()
    now, told = refreshed(path)
    assert told == changes
    assert now == before.replace(body.encode(), after.encode())
    assert refreshed(path) == (now, [])


def test_the_byte_order_mark_stays(desk: Desk) -> None:
    path = desk.write(LINK)
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    now, _ = refreshed(path)
    assert now.startswith(b"\xef\xbb\xbf---\n")
    assert now.endswith("[2°](value:drift/gyro.end_error?digits=0)".encode())


def test_a_fresh_lesson_is_not_written(desk: Desk) -> None:
    path = desk.write("[2°](value:drift/gyro.end_error)")
    stamp = path.stat().st_mtime_ns
    assert refreshed(path)[1] == []
    assert path.stat().st_mtime_ns == stamp


def test_what_can_be_refreshed_is_and_the_rest_is_told(desk: Desk) -> None:
    path = desk.write(f"{LINK} [1°](value:none/gyro.end_error)")
    changes, problems = refresh_lesson(path)
    assert [(change.was, change.now) for change in changes] == [("9°", "2°")]
    assert [problem.code for problem in problems] == ["demonstration-unknown"]
    assert [finding.state for finding in check_lesson(path).findings] == ["fresh", "unchecked"]


def test_a_failure_leaves_the_lesson_as_it_was(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    path = desk.write(LINK)
    before = path.read_bytes()

    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(MaterialError):
        refresh_lesson(path)
    assert path.read_bytes() == before
    assert [p.name for p in path.parent.iterdir()] == [path.name]
