"""What no file of the project may say, and how files may be named."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from typing import NamedTuple

import pytest

from tests.architecture.tree import ROOT, project_files, shown, text_of

LIST = ROOT / "tests" / "architecture" / "forbidden.toml"


class Forbidden(NamedTuple):
    """Text that must not occur, where, and why."""

    pattern: re.Pattern[str]
    folders: tuple[str, ...]
    why: str


def forbidden() -> list[Forbidden]:
    """What `forbidden.toml` lists."""
    rows = tomllib.loads(LIST.read_text(encoding="utf-8"))["text"]
    return [Forbidden(re.compile(row["pattern"]), tuple(row.get("in", ())), row["why"]) for row in rows]


def found_in(name: str, text: str) -> list[str]:
    """Each forbidden piece of a text, with its place."""
    return [
        f"{name}:{text.count(chr(10), 0, match.start()) + 1}: {match[0]!r}: {entry.why}"
        for entry in forbidden()
        if not entry.folders or name.startswith(tuple(folder + "/" for folder in entry.folders))
        for match in entry.pattern.finditer(text)
    ]


def test_no_file_holds_forbidden_text() -> None:
    texts = ((shown(path), text_of(path)) for path in project_files())
    found = [line for name, text in texts if text for line in found_in(name, text)]
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("docs/a.md", "https://" + "pypi" + ".org/simple"),
        ("docs/a.md", "see " + "/wo" + "rk/main/README.md"),
        ("docs/a.md", "C:" + "\\Users\\me"),
        ("src/a.py", "token = '" + "0123456789abcdef'"),
        ("src/a.py", "# TO" + "DO later"),
        ("course/a.md", "the tru" + "th heading"),
    ],
)
def test_forbidden_text_would_be_found(name: str, text: str) -> None:
    assert len(found_in(name, text)) == 1


@pytest.mark.parametrize(
    "text", ["../tmp/x", "out/home/page.html", "a truthful word", "value/root/two", "$HOME/work/x"]
)
def test_harmless_text_is_left_alone(text: str) -> None:
    assert found_in("src/a.py", text) == []


def test_no_two_file_names_differ_by_case_alone() -> None:
    counts = Counter(shown(path).casefold() for path in project_files())
    assert [name for name, count in counts.items() if count > 1] == []


def test_file_names_work_everywhere() -> None:
    odd = re.compile(r'[<>:"\\|?*\x00-\x1f]|[ .]$')
    reserved = re.compile(r"(?i)^(con|prn|aux|nul|com\d|lpt\d)(\.|$)")
    names = [shown(path) for path in project_files()]
    assert [name for name in names if any(odd.search(part) or reserved.match(part) for part in name.split("/"))] == []
