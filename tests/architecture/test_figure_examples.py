"""The page about pictures shows the gallery's examples and every option, nothing else."""

from __future__ import annotations

import re

from gyrochalk.figures import OPTIONS
from gyrochalk.figures.examples import EXAMPLES
from tests.architecture.tree import ROOT

PAGE = (ROOT / "docs" / "how-to" / "figures.md").read_text(encoding="utf-8")
LINK = re.compile(r"^    !\[(.*)\]\(<figure:(.*)>\)$", flags=re.MULTILINE)


def test_the_page_shows_the_gallery() -> None:
    assert LINK.findall(PAGE) == [(example.good_for, example.link) for example in EXAMPLES]


def test_the_page_lists_every_option() -> None:
    assert dict(re.findall(r"^\| `([a-z]+)` \| (.*) \|$", PAGE, flags=re.MULTILINE)) == OPTIONS
