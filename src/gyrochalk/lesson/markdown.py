"""The Markdown a lesson may use: CommonMark, tables and `$…$`; raw HTML is printed as text, never obeyed."""

from __future__ import annotations

import functools
import re
from collections.abc import Callable

from markdown_it import MarkdownIt
from markdown_it.rules_inline import StateInline
from markdown_it.rules_inline.autolink import autolink
from markdown_it.rules_inline.image import image
from markdown_it.rules_inline.link import link
from mdit_py_plugins.dollarmath import dollarmath_plugin

SCHEMES = ("claim", "value", "figure", "clip")
"""Links beginning with one of these and a colon are ours."""

_UNREAD = re.compile(r"\]\s?\(\s*<?\s*(" + "|".join(SCHEMES) + r")\s?:", re.IGNORECASE)

Rule = Callable[[StateInline, bool], bool]


def scheme_of(address: str) -> str | None:
    """Which of our schemes an address has, if any."""
    scheme, colon, _ = address.partition(":")
    return scheme.lower() if colon and scheme.lower() in SCHEMES else None


def _recording(rule: Rule, kind: str) -> Rule:
    """The same rule, which also notes in the token where the link and its text begin and end in the content."""

    @functools.wraps(rule)
    def recorded(state: StateInline, silent: bool) -> bool:
        start, known = state.pos, len(state.tokens)
        if not rule(state, silent):
            return False
        for token in state.tokens[known:]:
            if token.type == kind and "span" not in token.meta:
                token.meta["span"] = (start, state.pos)
                token.meta["label"] = _label(state, start)
                break
        return True

    return recorded


def _recording_math(rule: Rule) -> Rule:
    """The same rule, which also notes in the token where the equation begins in the content."""

    @functools.wraps(rule)
    def recorded(state: StateInline, silent: bool) -> bool:
        start, known = state.pos, len(state.tokens)
        if not rule(state, silent):
            return False
        for token in state.tokens[known:]:
            if token.type.startswith("math_inline"):
                token.meta["tex"] = start
        return True

    return recorded


def _unread(state: StateInline, silent: bool) -> bool:
    """Never reads anything, but where the address of one of our links was left in the text it leaves an empty token
    that knows where the link's text begins."""
    found = None if silent or state.src[state.pos] != "]" else _UNREAD.match(state.src, state.pos)
    if found:
        opening = max(0, state.src.rfind("[", 0, state.pos))
        state.push("unread", "", 0).meta["unread"] = (opening - (state.src[:opening][-1:] == "!"), found[1].lower())
    return False


def _label(state: StateInline, start: int) -> tuple[int, int]:
    if state.src[start] == "<":
        return start + 1, state.pos - 1
    bracket = start + 1 if state.src[start] == "!" else start
    position = state.pos
    end = state.md.helpers.parseLinkLabel(state, bracket, state.src[start] == "[")
    state.pos = position
    return bracket + 1, end


def lesson_markdown() -> MarkdownIt:
    """A parser for lessons; every link, image and autolink it finds knows its place."""
    markdown = MarkdownIt("commonmark", {"html": False}).enable("table")
    dollarmath_plugin(markdown, allow_labels=False, allow_space=False, allow_digits=False)
    ordinary = markdown.normalizeLink
    markdown.normalizeLink = lambda url: url if scheme_of(url) else ordinary(url)  # type: ignore[method-assign]
    markdown.inline.ruler.at("link", _recording(link, "link_open"))
    markdown.inline.ruler.at("image", _recording(image, "image"))
    markdown.inline.ruler.at("autolink", _recording(autolink, "link_open"))
    markdown.inline.ruler.at("math_inline", _recording_math(_rule_named(markdown, "math_inline")))
    markdown.inline.ruler.before("link", "unread", _unread)
    return markdown


def _rule_named(markdown: MarkdownIt, name: str) -> Rule:
    ruler = markdown.inline.ruler
    return next(rule for known, rule in zip(ruler.get_active_rules(), ruler.getRules(""), strict=True) if known == name)
