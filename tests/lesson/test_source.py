"""A lesson's text is read as it is, or refused with the place."""

from __future__ import annotations

from pathlib import Path

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.lesson import parse
from gyrochalk.lesson.source import read_source, source_of

FRONT = b"---\ngyrochalk: 1\ntitle: T\n---\n"


def refusal(path: Path) -> str:
    with pytest.raises(MaterialError) as refused:
        parse(path, "l.md")
    return str(refused.value)


@pytest.fixture
def lesson(tmp_path: Path) -> Path:
    return tmp_path / "l.md"


def test_line_endings_of_every_kind(lesson: Path) -> None:
    lesson.write_bytes("a\r\nbé\n\rc".encode())
    source = read_source(lesson)
    assert source.lines == ("a", "bé", "", "c")
    assert [(source.place(i).line, source.place(i).column) for i in (0, 3, 4, 5, 7)] == [
        (1, 1),
        (2, 1),
        (2, 2),
        (2, 3),
        (4, 1),
    ]


def test_byte_order_mark_is_no_character(lesson: Path) -> None:
    lesson.write_bytes(b"\xef\xbb\xbf" + FRONT + b"[1](claim:a/b)")
    read = parse(lesson)
    assert (read.mentions[0].place.line, read.mentions[0].place.column) == (5, 1)
    assert read.source.encode(read.source.text) == lesson.read_bytes()


def test_missing_file(lesson: Path) -> None:
    assert refusal(lesson) == (
        "l.md  there is no such file; a Markdown file that exists; check the name and the folder  [file-missing]"
    )


def test_folder(tmp_path: Path) -> None:
    assert refusal(tmp_path) == (
        "l.md  this is a folder, not a lesson; a Markdown file that exists; check the name and the folder  "
        "[file-missing]"
    )


def test_too_large(lesson: Path) -> None:
    lesson.write_bytes(FRONT + b"word " * 1_000_000)
    assert refusal(lesson) == (
        "l.md  the lesson has 5.0 MB; at most 2 MB of text; "
        "cut it into lessons; pictures belong in images/  [file-too-large]"
    )


def test_binary_junk(lesson: Path) -> None:
    lesson.write_bytes(FRONT + "é".encode() + b"\xff\xfe\x00")
    assert refusal(lesson) == (
        "l.md:5:2  the file is not plain text: byte 0xFF stands here; UTF-8 text; save it as UTF-8 text  [not-text]"
    )


def test_control_characters(lesson: Path) -> None:
    lesson.write_bytes(FRONT + b"a\r\nbc\x00")
    assert refusal(lesson) == (
        "l.md:6:3  the file is not plain text: byte 0x00 stands here; UTF-8 text; save it as UTF-8 text  [not-text]"
    )


@pytest.mark.parametrize("text", ["", "\n", "# A lesson\n"])
def test_no_front_matter(lesson: Path, text: str) -> None:
    lesson.write_text(text, encoding="utf-8")
    assert refusal(lesson) == (
        'l.md:1:1  the lesson has no front matter; a lesson begins with a line "---", keys such as "gyrochalk: 1" and '
        '"title: …", and a line "---"; put those lines at the top  [front-matter]'
    )


def test_front_matter_not_closed(lesson: Path) -> None:
    lesson.write_text("---\ngyrochalk: 1\n", encoding="utf-8")
    assert refusal(lesson).startswith("l.md:1:1  the front matter is not closed; ")


def test_every_problem_of_the_front_matter_at_once(lesson: Path) -> None:
    lesson.write_text(
        "---\r\ngyrochalk: 2\r\ntitel: T\r\ndemonstrations: orbit\r\nobjectives: [a, a]\r\nminutes: soon\r\n---\r\n",
        encoding="utf-8",
        newline="",
    )
    assert refusal(lesson).split("\n") == [
        'l.md:2:1  "title" is missing; a text for title; add a line title: …  [key-missing]',
        "l.md:2:12  the format version is 2; this gyrochalk reads version 1; update gyrochalk  [version-newer]",
        'l.md:3:1  the key "titel" is unknown; known keys are gyrochalk, title, demonstrations, objectives, minutes; '
        'did you mean "title"?  [key-unknown]',
        'l.md:4:17  "demonstrations" is not a list; lines that begin with a hyphen; write it as a list  [value-kind]',
        'l.md:5:17  "a" is listed twice; each once; remove one  [name-duplicate]',
        'l.md:6:10  "soon" is not a number of minutes; 1 to 600 whole minutes; write for example 50 min  '
        "[number-unreadable]",
    ]


def test_front_matter_is_read(lesson: Path) -> None:
    lesson.write_text(
        "---\ngyrochalk: 1\ntitle: Why\ndemonstrations:\n  - orbit\nobjectives: [A1]\nminutes: 50 min\n---\nx\n",
        encoding="utf-8",
    )
    front = parse(lesson).front
    assert (front.title, front.minutes, front.lines) == ("Why", 50, 8)
    assert [(n.text, n.place.line, n.place.column) for n in front.demonstrations] == [("orbit", 5, 5)]


def test_place_of_an_empty_text() -> None:
    source = source_of("", Path("x.md"))
    assert (source.place(0).line, source.place(0).column) == (1, 1)
