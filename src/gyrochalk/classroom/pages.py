"""What the server sends: built pages with a few lines of script that follow the file, and pages of its own."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence

from gyrochalk import __version__
from gyrochalk.document import Block, Link, ListBlock, Note, Origin, Page, Paragraph, Text, render_html

WATCH_SCRIPT = """\
"use strict";
let known = null;
async function look() {
  try {
    const answer = await fetch("/state", { cache: "no-store" });
    const edition = (await answer.json()).edition;
    if (known !== null && edition !== known) { location.reload(); return; }
    known = edition;
  } catch { /* the server has stopped: keep the page as it is */ }
  setTimeout(look, 1000);
}
look();
"""
"""Asks once a second whether anything was built, and loads the page anew if so."""

SCRIPT_HASH = f"'sha256-{base64.b64encode(hashlib.sha256(WATCH_SCRIPT.encode()).digest()).decode('ascii')}'"
"""What a content policy calls the one script that may run."""


def followed(page: Page) -> bytes:
    """A page with the script that loads it anew when it has changed."""
    return render_html(page, script=WATCH_SCRIPT).encode("utf-8")


def waiting_page() -> bytes:
    """Shown while the first build is under way."""
    return _own(
        "Flying the demonstrations", Paragraph((Text("The pages are being built. This page follows by itself."),))
    )


def problem_page(title: str, problems: Sequence[str]) -> bytes:
    """Shown instead of a page that cannot be built."""
    many = "1 problem keeps" if len(problems) == 1 else f"{len(problems)} problems keep"
    words = f"{many} this page from being built. Mend the file and save it; this page follows by itself."
    items = tuple((Paragraph((Text(problem),)),) for problem in problems)
    blocks: tuple[Block, ...] = (Paragraph((Text(words),)), ListBlock(items))
    return _own(title, Note(blocks, "Not built", "problem"), _back())


def missing_page() -> bytes:
    """Shown for an address that is no page."""
    return _own("No such page", Paragraph((Text("There is no such page here."),)), _back())


def _back() -> Block:
    return Paragraph((Link("./index.html", (Text("Back to the course"),)),))


def _own(title: str, *blocks: Block) -> bytes:
    return followed(Page(title, blocks, Origin(version=__version__)))
