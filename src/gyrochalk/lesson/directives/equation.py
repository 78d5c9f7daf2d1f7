"""```equation Alt text …```: a displayed equation, with words for those who cannot see it."""

from __future__ import annotations

import dataclasses

from gyrochalk.document import tex_fault
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.mentions import Fence
from gyrochalk.lesson.source import Place


@dataclasses.dataclass(frozen=True, slots=True)
class Equation:
    """An equation: `tex` as it would stand between dollar signs, `alt` the same in words."""

    tex: str
    alt: str


def read_equation(fence: Fence) -> Equation:
    """Read an `equation` block; raises `MaterialError` if it is empty or has no alt text."""
    if fence.body.strip() and fence.heading:
        problems = tex_problems(fence.body.strip(), fence.place)
        if problems:
            raise MaterialError(problems)
        return Equation(fence.body.strip(), fence.heading)
    what = "the equation has no alt text" if fence.body.strip() else "the equation is empty"
    allowed = "words after ```equation, the equation below them"
    cure = "write for example ```equation The rate is g tan bank over speed"
    place = fence.place
    raise MaterialError(Problem("block-unreadable", what, allowed, cure, place.file, place.line, place.column))


def tex_problems(tex: str, place: Place) -> list[Problem]:
    """What keeps an equation from being shown as its author means it: nothing, or one problem at `place`."""
    fault = tex_fault(tex)
    if fault is None:
        return []
    what, cure = fault
    allowed = "an equation in TeX whose braces pair and whose commands are known"
    return [Problem("block-unreadable", what, allowed, cure, place.file, place.line, place.column)]
