"""What stands within a line: text, emphasis, links, equations, and numbers that know where they come from."""

from __future__ import annotations

import dataclasses
from typing import Literal


@dataclasses.dataclass(frozen=True, slots=True)
class Text:
    """Plain text, shown exactly as written: markup in it is shown, not obeyed."""

    text: str


@dataclasses.dataclass(frozen=True, slots=True)
class Emphasis:
    """Stressed words."""

    runs: Runs


@dataclasses.dataclass(frozen=True, slots=True)
class Strong:
    """Words of weight."""

    runs: Runs


@dataclasses.dataclass(frozen=True, slots=True)
class CodeText:
    """What is typed or shown literally."""

    text: str


@dataclasses.dataclass(frozen=True, slots=True)
class LineBreak:
    """The line ends here."""


@dataclasses.dataclass(frozen=True, slots=True)
class Link:
    """Words that lead to `target`: an address of the web, of mail, of this page (#…) or of a file beside it."""

    target: str
    runs: Runs


@dataclasses.dataclass(frozen=True, slots=True)
class InlineEquation:
    """An equation within a line: `tex`, and `alt`, the same in words (empty: the TeX itself)."""

    tex: str
    alt: str = ""


@dataclasses.dataclass(frozen=True, slots=True)
class RuleBeside:
    """A named textbook rule beside the physics, neither called false: the `rule`'s name and what each of them says."""

    rule: str
    rule_says: str
    physics_says: str


MarkState = Literal["holds", "false", "fresh", "stale", "unchecked"]


@dataclasses.dataclass(frozen=True, slots=True)
class ClaimMark:
    """A number in the text that was checked against a run.

    `stated` what the author wrote; `computed` the value from the run as text ("" if it could not say); `state`
    whether a claim holds or is false, a value is fresh or stale, or nothing could be said (unchecked);
    `provenance` says in words where the number comes from; `beside` a textbook rule and the physics side by side.
    """

    stated: str
    computed: str
    state: MarkState
    provenance: str = ""
    beside: RuleBeside | None = None

    @property
    def good(self) -> bool:
        """Whether it may stand as it is."""
        return self.state in ("holds", "fresh")


Inline = Text | Emphasis | Strong | CodeText | LineBreak | Link | InlineEquation | ClaimMark
Runs = tuple[Inline, ...]


def plain_text(runs: Runs) -> str:
    """The words of `runs` without their dress."""
    return "".join(_plain(run) for run in runs)


def _plain(run: Inline) -> str:
    match run:
        case Text(text=text) | CodeText(text=text):
            return text
        case Emphasis(runs=runs) | Strong(runs=runs) | Link(runs=runs):
            return plain_text(runs)
        case InlineEquation(tex=tex, alt=alt):
            return alt or tex
        case ClaimMark(stated=stated):
            return stated
        case LineBreak():
            return " "


def marks_in(runs: Runs) -> tuple[ClaimMark, ...]:
    """Every checked number in `runs`, in order."""
    found: list[ClaimMark] = []
    for run in runs:
        if isinstance(run, ClaimMark):
            found.append(run)
        elif isinstance(run, Emphasis | Strong | Link):
            found += marks_in(run.runs)
    return tuple(found)
