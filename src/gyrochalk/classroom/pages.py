"""The few pages the server writes itself, and the line it adds to a built page so that the page follows its file."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from gyrochalk.document import CAUTION

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

_STYLE = """
body { font: 1.125rem/1.5 Georgia, serif; max-width: 44rem; margin: 3rem auto; padding: 0 1rem;
  color: #1a1a1a; background: #fff; }
li { margin: 0.5rem 0; } code, li { overflow-wrap: anywhere; } small { display: block; margin-top: 3rem; }
@media (prefers-color-scheme: dark) { body { color: #eee; background: #16181b; } a { color: #4cd3c2; } }
"""


def follow(page: bytes) -> bytes:
    """A built page with the script that reloads it when its file has changed."""
    head, end, tail = page.rpartition(b"</body>")
    return head + b'<script src="/watch.js" defer></script>' + end + tail if end else page


def waiting_page() -> bytes:
    """Shown while the first build is under way."""
    return _page("Flying the demonstrations", "<p>The pages are being built. This page follows by itself.</p>", ())


def problem_page(title: str, problems: Sequence[str]) -> bytes:
    """Shown instead of a page that cannot be built."""
    many = "1 problem" if len(problems) == 1 else f"{len(problems)} problems"
    words = f"<p>This page cannot be built: {many}. Mend the file and save it; this page follows by itself.</p>"
    return _page(title, words, problems)


def missing_page() -> bytes:
    """Shown for an address that is no page."""
    return _page("No such page", '<p>There is no such page. <a href="/">Back to the course</a>.</p>', ())


def _page(title: str, words: str, problems: Sequence[str]) -> bytes:
    items = "".join(f"<li>{escape(problem)}</li>" for problem in problems)
    listed = f"<ul>{items}</ul>" if items else ""
    return follow(
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(title)}</title>'
        f'<meta name="viewport" content="width=device-width"><style>{_STYLE}</style></head>'
        f"<body><main><h1>{escape(title)}</h1>{words}{listed}</main><small>{escape(CAUTION)}</small></body></html>".encode()
    )
