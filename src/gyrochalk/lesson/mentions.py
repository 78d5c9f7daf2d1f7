"""What a lesson says with its links and fenced blocks, each with its exact place."""

from __future__ import annotations

import dataclasses
import re
from urllib.parse import unquote

from markdown_it.token import Token

from gyrochalk.lesson.markdown import scheme_of
from gyrochalk.lesson.positions import Offsets
from gyrochalk.lesson.source import Place, Source


@dataclasses.dataclass(frozen=True, slots=True)
class Mention:
    """One link or picture of ours: `[text](scheme:address)`.

    `text` is the link text as a reader sees it, `raw` as it is written, `start` and `end` the offsets of `raw` in the
    lesson's text. `private` says that it stands in the instructor's own block, `cramped` that it stands in
    a heading or a table, where there is no room for a picture.
    """

    scheme: str
    address: str
    text: str
    raw: str
    start: int
    end: int
    place: Place
    private: bool = False
    cramped: bool = False


@dataclasses.dataclass(frozen=True, slots=True)
class Picture:
    """An ordinary image of the instructor's own: `![caption](images/file.png)`."""

    target: str
    text: str
    place: Place
    cramped: bool = False


@dataclasses.dataclass(frozen=True, slots=True)
class Unread:
    """A link of ours that Markdown does not read as one, `scheme` what it would be: `[5°](claim:a/b?at=5 s)`."""

    scheme: str
    place: Place


@dataclasses.dataclass(frozen=True, slots=True)
class InlineTex:
    """An equation within a line: `tex` between dollar signs."""

    tex: str
    place: Place


@dataclasses.dataclass(frozen=True, slots=True)
class Crossing:
    """An ordinary link to another lesson: `[next](02-turns.md#south)`; `target` as written."""

    target: str
    place: Place


Item = Mention | Picture | Unread | InlineTex | Crossing
"""Anything of a line that must be looked at."""


@dataclasses.dataclass(frozen=True, slots=True)
class Fence:
    """A fenced block that carries meaning: `kind` is the first word after the fence, `heading` the rest of that line.

    `body_offsets` gives the place of every character of `body` in the lesson's text.
    """

    kind: str
    heading: str
    body: str
    body_line: int
    place: Place
    private: bool = False


def lesson_named(address: str) -> str | None:
    """The path an ordinary link names if that is a Markdown file beside the lesson: no address of the web, no root."""
    path = unquote(address.partition("#")[0].partition("?")[0])
    return path if path.lower().endswith(".md") and not re.match(r"[A-Za-z][A-Za-z0-9+.-]*:|[/\\]", path) else None


def plain_text(children: list[Token]) -> str:
    """Link text or caption without its marks."""
    parts = []
    for token in children:
        if token.type in ("softbreak", "hardbreak"):
            parts.append(" ")
        elif token.type == "image":
            parts.append(plain_text(token.children or []))
        elif token.type in ("text", "code_inline", "math_inline"):
            parts.append(token.content)
    return "".join(parts).strip()


def mentions_in(
    source: Source, children: list[Token], offsets: Offsets, private: bool, cramped: bool = False
) -> list[Item]:
    """Everything among the children of one inline token that must be looked at, with its place; links and pictures are
    also left in the token's `meta["mention"]` for the page to find."""
    found: list[Item] = []
    for index, token in enumerate(children):
        if "unread" in token.meta:
            begin, scheme = token.meta["unread"]
            found.append(Unread(scheme, source.place(offsets[begin])))
        elif "tex" in token.meta:
            found.append(InlineTex(token.content, source.place(offsets[token.meta["tex"]])))
        if "span" not in token.meta:
            continue
        address = str(token.attrs.get("src" if token.type == "image" else "href", ""))
        text = plain_text((token.children or []) if token.type == "image" else _linked(children, index))
        place = source.place(offsets[token.meta["span"][0]])
        scheme = scheme_of(address)
        if scheme is not None:
            start, end = (offsets[position] for position in token.meta["label"])
            rest = address.partition(":")[2]
            mention = Mention(scheme, rest, text, source.text[start:end], start, end, place, private, cramped)
            token.meta["mention"] = mention
            found.append(mention)
        elif token.type == "image":
            picture = Picture(address, text, place, cramped)
            token.meta["mention"] = picture
            found.append(picture)
        elif lesson_named(address):
            found.append(Crossing(address, place))
        if token.type == "image" and token.children:
            inner = range(token.meta["label"][0], token.meta["label"][1] + 1)
            found += mentions_in(source, token.children, [offsets[position] for position in inner], private)
    return found


def _linked(children: list[Token], index: int) -> list[Token]:
    """The tokens between a link's opening and its closing."""
    depth = 0
    for end in range(index, len(children)):
        depth += children[end].nesting
        if depth == 0:
            return children[index + 1 : end]
    return children[index + 1 :]
