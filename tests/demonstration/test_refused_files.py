"""What is said when a file is no demonstration at all: the whole message, with line and column."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from gyrochalk.demonstration import load
from gyrochalk.errors import MaterialError

Refusal = Callable[..., list[str]]

CASES = {
    "no version": (
        "title: Orbit\n",
        "1:1  the format version is missing; this gyrochalk reads version 1; begin with gyrochalk: 1  [key-missing]",
    ),
    "newer version": (
        "gyrochalk: 2\n",
        "1:12  the format version is 2; this gyrochalk reads version 1; update gyrochalk  [version-newer]",
    ),
    "no such version": (
        "gyrochalk: one\n",
        "1:12  the format version is one; this gyrochalk reads version 1; write gyrochalk: 1  [version-unknown]",
    ),
    "empty file": (
        "",
        '1:1  the file holds no keys; lines of "key: value"; begin with "gyrochalk: 1"  [yaml-unreadable]',
    ),
    "a list": (
        "- gyrochalk\n",
        '1:1  the file holds no keys; lines of "key: value"; begin with "gyrochalk: 1"  [yaml-unreadable]',
    ),
    "colon in a text": (
        "gyrochalk: 1\ntitle: Orbit: a circle\n",
        '2:13  a colon stands where no key can; one "key: value" a line, lines of one group equally far in; '
        "put a text that holds a colon in quotes, or mend the indentation  [yaml-unreadable]",
    ),
    "tab": (
        "gyrochalk: 1\nflight:\n\tlegs: []\n",
        "3:1  a tab stands in the indentation; spaces; replace the tab by spaces  [yaml-unreadable]",
    ),
    "open bracket": (
        "gyrochalk: 1\nplace: {latitude: 52 N\n",
        "3:1  a bracket is not closed, or a comma is missing; values between brackets, with commas between them; "
        "close the bracket or add the comma  [yaml-unreadable]",
    ),
    "open quotation": (
        'gyrochalk: 1\ntitle: "Orbit\n',
        "3:1  a quotation mark is not closed; text between two equal marks; close it  [yaml-unreadable]",
    ),
    "two documents": (
        "gyrochalk: 1\n---\ntitle: Orbit\n",
        '2:1  a second document begins; one document in a file; remove the line "---" or split the file  '
        "[yaml-unreadable]",
    ),
    "a list as a key": (
        "gyrochalk: 1\n? [a, b]\n: c\n",
        "2:3  a key is a list or a group; a key that is one word; write key: value  [yaml-unreadable]",
    ),
    "alias": (
        "gyrochalk: 1\ntitle: *other\n",
        '2:8  the alias "*other" stands in the file; plain keys and values, without anchors, aliases and tags; '
        "write the value out; put a text that begins with & * or ! in quotes  [yaml-alias]",
    ),
    "anchor": (
        "gyrochalk: 1\nplace: &here 52 N, 1 E\n",
        '2:8  the anchor "&here" stands in the file; plain keys and values, without anchors, aliases and tags; '
        "write the value out; put a text that begins with & * or ! in quotes  [yaml-alias]",
    ),
    "tag": (
        "gyrochalk: 1\nseed: !!int 3\n",
        '2:7  the tag "!!int" stands in the file; plain keys and values, without anchors, aliases and tags; '
        "write the value out; put a text that begins with & * or ! in quotes  [yaml-alias]",
    ),
    "deep nesting": (
        "gyrochalk: 1\nnotes: " + "[" * 30 + "]" * 30 + "\n",
        "2:27  the nesting is too deep; 20 levels at most; remove the extra brackets  [yaml-unreadable]",
    ),
    "many values": (
        "gyrochalk: 1\nactions: [" + "1, " * 20_000 + "]\n",
        "2:59996  the file holds more than 20000 values; at most 20000 values; "
        "split it; a recorded flight belongs in a CSV file  [file-too-large]",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_one_problem(refusal: Refusal, case: str) -> None:
    text, message = CASES[case]
    assert [line.removeprefix("demonstrations/orbit.yaml") for line in refusal(text)] == [message]


def test_binary_junk(refusal: Refusal) -> None:
    assert refusal(b"gyrochalk: 1\ntitle: \x00\x01\x02") == [
        "2:8  the file is not plain text: the control character 0x00 stands in it; UTF-8 text; save it as UTF-8 text  "
        "[not-text]"
    ]


def test_not_utf_8(refusal: Refusal) -> None:
    assert refusal("gyrochalk: 1\ntitle: 5°\n".encode("latin-1")) == [
        "2  the file is not plain text: byte 0xB0 is not UTF-8 text; UTF-8 text; save it as UTF-8 text  [not-text]"
    ]


def test_oversized_file_is_refused_before_it_is_parsed(refusal: Refusal, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("gyrochalk.demonstration.yaml_source.YAML", None)
    found = refusal("gyrochalk: 1\n" + "# filler\n" * 120_000)
    assert [line.replace("demonstrations/orbit.yaml", "") for line in found] == [
        "  the file has 1080013 bytes; at most 1000000 bytes; split it; a recorded flight belongs in a CSV file  "
        "[file-too-large]"
    ]


def test_missing_file(workspace: Path) -> None:
    with pytest.raises(MaterialError) as caught:
        load(Path("demonstrations/none.yaml"))
    assert str(caught.value) == (
        "demonstrations/none.yaml  there is no such file; a file that exists; check the name and the folder  "
        "[file-missing]"
    )


def test_folder_instead_of_a_file(workspace: Path) -> None:
    with pytest.raises(MaterialError) as caught:
        load(Path("demonstrations"))
    assert str(caught.value) == ("demonstrations  this is a folder; a file; name a file in it  [file-missing]")


def test_bad_id(refusal: Refusal) -> None:
    found = refusal("gyrochalk: 1\n", name="My Orbit")
    assert [line.replace("demonstrations/My Orbit.yaml", "") for line in found] == [
        '  "My Orbit" is no name for a demonstration; small letters, figures and hyphens, beginning with a letter or '
        "figure, at most 60; write for example my-orbit  [name-unreadable]"
    ]
