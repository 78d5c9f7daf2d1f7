"""From the text of a lesson to its parts: front matter, Markdown, and everything in it that carries meaning."""

from __future__ import annotations

import dataclasses
from pathlib import Path

from markdown_it.token import Token

from gyrochalk.lesson.front import FrontMatter, front_matter_of
from gyrochalk.lesson.markdown import lesson_markdown
from gyrochalk.lesson.mentions import Crossing, Fence, InlineTex, Item, Mention, Picture, Unread, mentions_in
from gyrochalk.lesson.positions import content_offsets
from gyrochalk.lesson.source import Place, Source, read_source, source_of

FENCES = ("equation", "ask", "practice", "private")
"""Fenced blocks beginning with one of these words carry meaning; every other is shown as written."""

CRAMPED = ("heading_open", "th_open", "td_open")
"""What a line begins with that has no room for a picture."""


@dataclasses.dataclass(frozen=True, slots=True)
class Lesson:
    """A lesson, read: `tokens` is its Markdown; `mentions`, `pictures` and `fences` stand in order of place, and so do
    the links `unread` that were meant to be ours, the `equations` (displayed ones with dollar signs too), and the
    `crossings` to other lessons."""

    source: Source
    front: FrontMatter
    tokens: tuple[Token, ...]
    mentions: tuple[Mention, ...]
    pictures: tuple[Picture, ...]
    fences: tuple[Fence, ...]
    unread: tuple[Unread, ...] = ()
    equations: tuple[InlineTex, ...] = ()
    crossings: tuple[Crossing, ...] = ()

    @property
    def title(self) -> str:
        """The title for people."""
        return self.front.title


def parse(path: Path, file: str | None = None) -> Lesson:
    """Read a lesson.

    `path` is the Markdown file; `file` the name messages print for it (default: the path as given). Raises
    `MaterialError` with every problem of the file that keeps it from being read.
    """
    return lesson_of(read_source(path, file))


def parse_text(text: str, path: Path) -> Lesson:
    """Read a lesson from a text that need not be on disk yet; `path` says where it would lie."""
    return lesson_of(source_of(text, path))


def lesson_of(source: Source) -> Lesson:
    """Read a lesson from its source."""
    front = front_matter_of(source)
    body = [""] * front.lines + list(source.lines[front.lines :])
    tokens, found, fences = _read(source, body, 0, private=False)
    mentions = [item for item in found if isinstance(item, Mention)]
    pictures = [item for item in found if isinstance(item, Picture)]
    return Lesson(
        source,
        front,
        tuple(tokens),
        tuple(mentions),
        tuple(pictures),
        tuple(fences),
        tuple(item for item in found if isinstance(item, Unread)),
        tuple(item for item in found if isinstance(item, InlineTex)),
        tuple(item for item in found if isinstance(item, Crossing)),
    )


def _read(
    source: Source, lines: list[str], first_line: int, private: bool
) -> tuple[list[Token], list[Item], list[Fence]]:
    """Parse some lines of a lesson; `first_line` (from 0) is where they begin in the file."""
    tokens = lesson_markdown().parse("\n".join(lines))
    _shift(tokens, first_line)
    offsets = content_offsets(source, tokens)
    found: list[Item] = []
    fences: list[Fence] = []
    for index, token in enumerate(tokens):
        if token.type == "inline":
            cramped = tokens[index - 1].type in CRAMPED
            found += mentions_in(source, token.children or [], offsets[index], private, cramped)
        elif token.type == "math_block" and token.map is not None:
            line = token.map[0]
            column = source.lines[line].find("$$") + 1
            found.append(InlineTex(token.content.strip(), Place(source.file, line + 1, column)))
        elif token.type == "fence":
            fence = _fence(source, token, private)
            if fence is None:
                continue
            token.meta["fence"] = fence
            fences.append(fence)
            if fence.kind == "private":
                _, inner, inner_fences = _read(source, fence.body.split("\n"), fence.body_line, private=True)
                found += inner
                fences += inner_fences
    return tokens, found, fences


def _shift(tokens: list[Token], lines: int) -> None:
    if lines:
        for token in tokens:
            if token.map is not None:
                token.map = [token.map[0] + lines, token.map[1] + lines]


def _fence(source: Source, token: Token, private: bool) -> Fence | None:
    kind, _, heading = token.info.strip().partition(" ")
    if kind not in FENCES or token.map is None:
        return None
    line = token.map[0]
    column = source.lines[line].find(token.markup) + 1
    body = token.content.removesuffix("\n")
    return Fence(kind, heading.strip(), body, line + 1, Place(source.file, line + 1, column), private)
