"""From the tokens of one line of Markdown to what stands within a line of a page."""

from __future__ import annotations

from collections.abc import Sequence

from markdown_it.token import Token

from gyrochalk.document import (
    ClaimMark,
    CodeText,
    Emphasis,
    Inline,
    InlineEquation,
    LineBreak,
    Link,
    RuleBeside,
    Runs,
    Strong,
    Text,
)
from gyrochalk.lesson.crossing import page_of_crossing
from gyrochalk.lesson.directives.rule import RULE
from gyrochalk.lesson.examination import Examination
from gyrochalk.lesson.findings import Finding
from gyrochalk.lesson.markdown import lesson_markdown
from gyrochalk.lesson.mentions import Mention, plain_text
from gyrochalk.units.words import ENGLISH, Speech


def runs_of(children: Sequence[Token], found: Examination) -> Runs:
    """The children of an inline token as runs; pictures are left out, their place is between paragraphs."""
    return tuple(_Line(children, found).until(None))


def plain_runs(text: str, found: Examination) -> Runs:
    """A line of Markdown from a fenced block as runs."""
    (token,) = lesson_markdown().parseInline(text)
    return runs_of(token.children or [], found)


class _Line:
    """Walks the tokens once, from left to right."""

    def __init__(self, children: Sequence[Token], found: Examination) -> None:
        self._children, self._found, self._at = children, found, 0

    def until(self, closing: str | None) -> list[Inline]:
        """The runs up to a closing token, which is passed over."""
        runs: list[Inline] = []
        while self._at < len(self._children):
            token = self._children[self._at]
            self._at += 1
            if token.type == closing:
                break
            run = self._run(token)
            if run is not None:
                runs.append(run)
        return runs

    def _run(self, token: Token) -> Inline | None:
        if token.type == "em_open":
            return Emphasis(tuple(self.until("em_close")))
        if token.type == "strong_open":
            return Strong(tuple(self.until("strong_close")))
        if token.type == "link_open":
            inside = tuple(self.until("link_close"))
            return self._link(token, inside)
        if token.type == "code_inline":
            return CodeText(token.content)
        if token.type == "math_inline":
            return InlineEquation(token.content)
        if token.type == "hardbreak":
            return LineBreak()
        if token.type == "softbreak":
            return Text(" ")
        return Text(token.content) if token.type == "text" and token.content else None

    def _link(self, token: Token, inside: Runs) -> Inline:
        mention = token.meta.get("mention")
        if not isinstance(mention, Mention):
            return Link(page_of_crossing(str(token.attrs.get("href", ""))), inside)
        finding = self._found.findings.get(mention)
        return mark_of(finding, self._found.course.speech) if finding is not None else Text(mention.text)


def mark_of(finding: Finding, speech: Speech = ENGLISH) -> ClaimMark:
    """A number as it is marked on the page."""
    computed = finding.computed or ""
    if finding.demonstration == RULE and finding.state != "unchecked":
        beside = RuleBeside(finding.source, computed, finding.physics or speech.say("note.nothing_beside"))
        return ClaimMark(finding.stated, computed, finding.state, finding.source, beside)
    source = f"{finding.source} ({finding.demonstration}/{finding.measure})" if finding.source else ""
    return ClaimMark(finding.stated, computed, finding.state, source)


def words_of(token: Token) -> str:
    """The words of an inline token without their marks."""
    return plain_text(token.children or [])
