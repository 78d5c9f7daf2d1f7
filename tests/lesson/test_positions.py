"""Every link is found at the exact line and column it is written at."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gyrochalk.lesson import parse_text
from gyrochalk.lesson.mentions import Mention

HEAD = "---\ngyrochalk: 1\ntitle: Places\n---\n"


def found(body: str) -> list[tuple[int, int, str, str]]:
    """Line and column (in the body), text and address of every link of ours."""
    lesson = parse_text(HEAD + body, Path("places.md"))
    lines = HEAD.count("\n")
    return [(m.place.line - lines, m.place.column, m.text, m.address) for m in lesson.mentions]


def written(body: str) -> list[tuple[int, int]]:
    """Line and column of every link of ours, found by looking at the text itself."""
    places = []
    for line, text in enumerate(re.split(r"\r\n|\n|\r", body), start=1):
        places += [
            (line, match.start() + 1)
            for match in re.finditer(r"!?\[(?:[^\[\]]|\\.)*\]\((?:claim|value|figure|clip):", text)
        ]
    return places


BODIES = {
    "paragraph": "It takes [30 min](claim:a/b) in all.",
    "several on a line": "[1°](claim:a/b), [2°](value:c/d) and [3°](claim:e/f)[4°](claim:g/h)",
    "second line": "first line\n   second [1°](claim:a/b)  \nthird [2°](claim:a/c)",
    "multi-byte characters": "−é°→𝄞 [−7.9 °/h](claim:a/b) Ω [2 µT](value:a/c)",
    "emphasis": "**bold [1°](claim:a/b)** and *[**2°**](claim:a/c)*",
    "list": "- one [1°](claim:a/b)\n- two\n  - deep [2°](claim:a/c)\n\n    more [3°](claim:a/d)\n10) [4°](claim:a/e)",
    "block quote": "> said [1°](claim:a/b)\n> > twice [2°](claim:a/c)\nlazy [3°](claim:a/d)",
    "list in a quote": "> - one [1°](claim:a/b)\n>   two [2°](claim:a/c)\n>\n>   three [3°](claim:a/d)",
    "table": "| a [1°](claim:a/b) | b |\n|---|---|\n| [2°](claim:a/c) | x [3°](claim:a/d) |\n|  | [4°](claim:a/e)",
    "table without outer bars": "a | b\n--|--\n[1°](claim:a/b) | [2°](claim:a/c)\nx | [3°](claim:a/d) |",
    "table with escaped bars": "| a | b |\n|--|--|\n| x \\| y [1°](claim:a/b) | \\| [2°](claim:a/c) \\| z |",
    "table in a quote": "> | a | b |\n> |--|--|\n> | [1°](claim:a/b) | [2°](claim:a/c) |",
    "table in a list": "- | a | b |\n  |--|--|\n  | | [1°](claim:a/b) |",
    "same cell twice": "| a | b |\n|--|--|\n| [1°](claim:a/b) | [1°](claim:a/b) |",
    "heading": "## The [2°](claim:a/b) that matter ##\n\n   ### #[3°](claim:a/c)",
    "heading in a quote": "> # Says [2°](claim:a/b)",
    "underlined heading": "The [2°](claim:a/b)\ngoes on [3°](claim:a/c)\n=====",
    "tabs": "-\tone [1°](claim:a/b)\n\ttwo [2°](claim:a/c)",
    "after code and equations": "`[no](x)` $x_1 = 2$ [1°](claim:a/b) `` ` `` [2°](claim:a/c)",
    "after escapes and entities": "\\[ \\* &deg; &amp; [1°](claim:a/b) \\\\ [2°](claim:a/c)",
    "figures": "![a caption](figure:orbit?show=card,detector) and ![film](clip:orbit)",
    "carriage returns": "one [1°](claim:a/b)\r\n\r\n> two [2°](claim:a/c)\r\n> three [3°](claim:a/d)\rlast "
    "[4°](claim:a/e)",
    "private block": "text\n\n```private\nmine [1°](claim:a/b)\n- [2°](claim:a/c)\n```\n",
    "indented private block": "- item\n\n  ```private\n  mine [1°](claim:a/b)\n\n  > x [2°](claim:a/c)\n  ```\n",
    "after a reference": "[ref]: https://example.org\nthen [1°](claim:a/b)",
}


@pytest.mark.parametrize("name", BODIES)
def test_line_and_column(name: str) -> None:
    body = BODIES[name]
    assert [(line, column) for line, column, _, _ in found(body)] == written(body)
    assert written(body)


def test_offsets_are_those_of_the_text() -> None:
    for body in BODIES.values():
        lesson = parse_text(HEAD + body, Path("places.md"))
        for mention in lesson.mentions:
            assert lesson.source.text[mention.start : mention.end] == mention.raw
            assert lesson.source.text[mention.end : mention.end + 2] == "]("


def test_text_and_address_are_kept_as_written() -> None:
    body = "[**about** 2°](claim:orbit/slaved.peak_error?within=20%) [x](<value:a/b?at=turn ends>)"
    assert found(body) == [
        (1, 1, "about 2°", "orbit/slaved.peak_error?within=20%"),
        (1, 58, "x", "a/b?at=turn ends"),
    ]


def test_claim_inside_a_caption() -> None:
    body = "> see ![It dips [22°](claim:a/b) low](figure:card)"
    assert [(line, column, text) for line, column, text, _ in found(body)] == [
        (1, 7, "It dips 22° low"),
        (1, 17, "22°"),
    ]


def test_reference_link_stands_where_it_is_used() -> None:
    assert found("It is [30 min][t].\n\n[t]: claim:a/b?within=1min\n") == [(1, 7, "30 min", "a/b?within=1min")]


def test_address_in_angle_brackets() -> None:
    assert found("It is <claim:a/b>.") == [(1, 7, "claim:a/b", "a/b")]


def test_code_and_ordinary_links_are_left_alone() -> None:
    body = "`[1](claim:a/b)` [x](https://example.org) [y](other.md) [z](mailto:a@b.c) \\[1](claim:a/b)\n\n"
    body += "    [1](claim:a/b)\n"
    assert found(body) == []


def test_private_marks_what_stands_in_it() -> None:
    lesson = parse_text(HEAD + "[1](claim:a/b)\n\n```private\n[2](claim:a/c)\n```\n", Path("p.md"))
    assert [(m.text, m.private) for m in lesson.mentions if isinstance(m, Mention)] == [("1", False), ("2", True)]


WORDS = st.sampled_from(["word", "−é°", "𝄞", "`code`", "**bold**", "$x$", "&deg;", "\\[", "a|b", "1.", "#", "[x](y)"])
LINKS = st.sampled_from(["[1°](claim:a/b)", "[**−2.0 °/h**](value:a/c?digits=1)", "![cap](figure:d)"])
LINES = st.lists(WORDS | LINKS, min_size=1, max_size=8).map(" ".join)
MARKS = st.lists(st.sampled_from(["> ", "- ", "3) ", "   "]), max_size=4).map("".join)
BLOCKS = st.tuples(MARKS, LINES, st.sampled_from(["\n", "\n\n", "\r\n\r\n"])).map("".join)


@settings(max_examples=150, deadline=None)
@given(st.lists(BLOCKS, max_size=8).map("".join))
def test_wherever_it_stands(body: str) -> None:
    lesson = parse_text(HEAD + body, Path("places.md"))
    for mention in lesson.mentions:
        line = lesson.source.lines[mention.place.line - 1]
        label = line[mention.place.column - 1 :].removeprefix("!").removeprefix("[")
        assert label.startswith(f"{mention.raw}]({mention.scheme}:{mention.address})")
        assert lesson.source.text[mention.start : mention.end] == mention.raw
