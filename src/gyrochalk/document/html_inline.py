"""What stands within a line, as HTML."""

from __future__ import annotations

import dataclasses
import re
from html import escape

from gyrochalk.document.inline import (
    ClaimMark,
    CodeText,
    Emphasis,
    Inline,
    InlineEquation,
    LineBreak,
    Link,
    Runs,
    Strong,
    Text,
)
from gyrochalk.document.mathml import equation
from gyrochalk.units.words import ENGLISH, Speech

SAFE_TARGET = re.compile(r"(https?://|mailto:|#|\./|\.\./|[\w-][\w./-]*(?:$|[#?]))", re.ASCII | re.IGNORECASE)


@dataclasses.dataclass(slots=True)
class Numbers:
    """Hands out the numbers of a page: checked numbers (each with its note), pictures, tables, questions.

    `speech` is how the page's own words are said.
    """

    marks: list[ClaimMark] = dataclasses.field(default_factory=list)
    waiting: list[int] = dataclasses.field(default_factory=list)
    told: int = 0
    figures: int = 0
    tables: int = 0
    asks: int = 0
    speech: Speech = ENGLISH

    def mark(self, mark: ClaimMark) -> int:
        """The number of a checked number, from 1; its note waits to be written beside the block."""
        self.marks.append(mark)
        self.waiting.append(len(self.marks))
        return len(self.marks)

    def new_marks(self) -> list[int]:
        """The numbers handed out since this was last asked."""
        new = list(range(self.told + 1, len(self.marks) + 1))
        self.told = len(self.marks)
        return new

    def take_waiting(self) -> list[int]:
        """The notes to be written now."""
        waiting, self.waiting = self.waiting, []
        return waiting


def inline_html(runs: Runs, numbers: Numbers) -> str:
    """`runs` as HTML; every text escaped."""
    return "".join(_inline(run, numbers) for run in runs)


def _inline(run: Inline, numbers: Numbers) -> str:
    match run:
        case Text(text=text):
            return escape(text, quote=False)
        case Emphasis(runs=runs):
            return f"<em>{inline_html(runs, numbers)}</em>"
        case Strong(runs=runs):
            return f"<strong>{inline_html(runs, numbers)}</strong>"
        case CodeText(text=text):
            return f"<code>{escape(text, quote=False)}</code>"
        case LineBreak():
            return "<br>"
        case Link(target=target, runs=runs):
            return link_html(target, inline_html(runs, numbers))
        case InlineEquation(tex=tex, alt=alt):
            return equation(tex, alt, block=False)
        case ClaimMark():
            return mark_html(run, numbers.mark(run), numbers.speech)


def link_html(target: str, inner: str) -> str:
    """A link, or only its words if `target` is of a kind that could run something."""
    if not SAFE_TARGET.match(target.strip()):
        return inner
    return f'<a href="{escape(target.strip())}">{inner}</a>'


def mark_html(mark: ClaimMark, number: int, speech: Speech = ENGLISH) -> str:
    """A checked number, linked with its note; one that does not hold says so in words."""
    link = f'<a class="number" id="number-{number}" href="#note-{number}">{escape(mark.stated, quote=False)}</a>'
    if mark.good:
        return link
    by_rule = mark.beside is not None and mark.state != "unchecked"
    verdict = speech.say(f"note.verdict_{mark.state}{'_rule' if by_rule else ''}")
    if mark.computed and mark.state != "unchecked":
        verdict += f" {escape(mark.computed, quote=False)}"
    return f'<span class="wrong">{link} <span class="verdict">({verdict})</span></span>'


def note_html(mark: ClaimMark, number: int, speech: Speech = ENGLISH) -> str:
    """The note beside the text: where a number comes from, or what rule and physics say."""
    head = f'<a href="#number-{number}" class="back">{escape(mark.stated, quote=False)}</a>'
    return f'<p class="source" id="note-{number}">{head} {_origin(mark, speech)}</p>'


def _origin(mark: ClaimMark, speech: Speech) -> str:
    if mark.beside is not None:
        rule, beside = escape(mark.beside.rule, quote=False), mark.beside
        says = speech.say("note.rule", rule=rule, says=_headed(beside.rule_says))
        physics = speech.say("note.physics", says=_headed(beside.physics_says))
        return f'<span class="pair"><span>{says}</span> <span>{physics}</span></span>'
    if mark.state == "unchecked":
        return speech.say("note.unchecked")
    joint = ", " if mark.provenance[:1].islower() else ". "
    source = f"{joint}{escape(mark.provenance, quote=False)}" if mark.provenance else "."
    verdict = "" if mark.good else f" <strong>{speech.say('note.not_stated')}</strong>"
    return f"{speech.say('note.run')}<b>{escape(mark.computed, quote=False)}</b>{source}{verdict}"


def _headed(says: str) -> str:
    """What a rule or the physics says, its number in bold."""
    number, comma, rest = escape(says, quote=False).partition(", ")
    return f"<b>{number}</b>{comma}{rest}"
