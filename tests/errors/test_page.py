"""The page that explains the messages and the codes of the program list the same things."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from gyrochalk.errors import CODES

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "errors.md").read_text(encoding="utf-8")
SECTIONS = {part.split("\n", 1)[0].strip(): part.split("\n", 1)[1] for part in PAGE.split("\n## ")[1:]}
EXAMPLE = re.compile(r"^ {4}(?:\S+  )?[^;]+; .+; .+  \[(?P<code>[a-z-]+)\]$", re.MULTILINE)


def used_codes() -> set[str]:
    """Every text in the program that is a problem's first argument or could become one."""
    texts: set[str] = set()
    for path in (ROOT / "src").rglob("*.py"):
        if path.name != "codes.py":
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    texts.add(node.value)
    return texts


def raised_codes() -> set[str]:
    """Every code the program gives a `Problem` outright."""
    codes: set[str] = set()
    for path in (ROOT / "src").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Problem":
                first = node.args[0] if node.args else None
                if isinstance(first, ast.Constant) and isinstance(first.value, str):
                    codes.add(first.value)
    return codes


def test_the_page_has_one_section_for_each_code() -> None:
    assert list(SECTIONS) == list(dict.fromkeys(SECTIONS))
    assert set(SECTIONS) == set(CODES)


def test_each_section_shows_a_message_of_its_code_and_what_to_do() -> None:
    lacking = [
        name
        for name, body in SECTIONS.items()
        if [match["code"] for match in EXAMPLE.finditer(body)] != [name] or "*What to do.*" not in body
    ]
    assert lacking == []


def test_every_code_raised_is_listed() -> None:
    assert raised_codes() - set(CODES) == set()


def test_every_code_listed_is_used() -> None:
    assert set(CODES) - used_codes() == set()


def test_codes_are_named_alike() -> None:
    assert [code for code in CODES if not re.fullmatch(r"[a-z]+(-[a-z0-9]+)*", code)] == []


def test_every_code_has_its_whole_message_compared_in_a_test() -> None:
    """A message ends with its code in brackets; every such ending stands in some test's expected text."""
    expected = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "tests").rglob("test_*.py"))
    assert [code for code in CODES if f"[{code}]" not in expected] == []
