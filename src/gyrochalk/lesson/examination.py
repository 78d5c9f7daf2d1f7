"""A lesson with everything in it worked out: numbers compared, pictures drawn, questions decided.

`check`, `refresh` and `build` all stand on this, so that they cannot disagree.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import TypeVar

from gyrochalk.demonstration.course import Course, load_course
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.crossing import crossing_problems
from gyrochalk.lesson.directives.ask import Question, read_question
from gyrochalk.lesson.directives.claim import examine_claim
from gyrochalk.lesson.directives.clip import draw_clip
from gyrochalk.lesson.directives.equation import Equation, read_equation, tex_problems
from gyrochalk.lesson.directives.figure import Drawn, draw_figure
from gyrochalk.lesson.directives.picture import embed
from gyrochalk.lesson.directives.practice import refuse_practice
from gyrochalk.lesson.directives.value import examine_value
from gyrochalk.lesson.findings import Finding
from gyrochalk.lesson.flights import BrokenDemonstrationError, Flights
from gyrochalk.lesson.mentions import Fence, Mention, Picture, Unread
from gyrochalk.lesson.naming import words_of
from gyrochalk.lesson.reading import Lesson
from gyrochalk.lesson.source import Place
from gyrochalk.lesson.workspace import COURSE_FILE
from gyrochalk.units import nearest

MOST_NUMBERS = 2000
"""Claims, values, figures and clips of one lesson that are looked at: far more than fit into a lesson."""

_Made = TypeVar("_Made")
_Written = TypeVar("_Written", Mention, Picture, Fence)


@dataclasses.dataclass(eq=False)
class Examination:
    """What was found: by link its `findings` and `pictures`, by image its `images` (data addresses), by block its
    `questions` and `equations`; `problems` is what keeps something from being worked out."""

    lesson: Lesson
    course: Course
    findings: dict[Mention, Finding] = dataclasses.field(default_factory=dict)
    pictures: dict[Mention, Drawn] = dataclasses.field(default_factory=dict)
    images: dict[Picture, str] = dataclasses.field(default_factory=dict)
    questions: dict[Fence, Question] = dataclasses.field(default_factory=dict)
    equations: dict[Fence, Equation] = dataclasses.field(default_factory=dict)
    problems: list[Problem] = dataclasses.field(default_factory=list)

    def attempt(self, written: _Written, made: dict[_Written, _Made], make: Callable[[_Written], _Made]) -> None:
        """Work one thing out, or note why it cannot be."""
        try:
            made[written] = make(written)
        except BrokenDemonstrationError:
            pass
        except MaterialError as error:
            self.problems += error.problems


def examine(lesson: Lesson, flights: Flights) -> Examination:
    """Work out everything in a lesson; raises `MaterialError` only if the course file cannot be read."""
    course = load_course(flights.workspace.root / COURSE_FILE)
    flights.speech = course.speech
    found = Examination(lesson, course)
    with course.speech.numbers():
        _work_out(found, flights)
    return found


def _work_out(found: Examination, flights: Flights) -> None:
    lesson, course = found.lesson, found.course
    words = words_of(course)
    _check_front(found, flights, course)
    if len(lesson.mentions) > MOST_NUMBERS:
        found.problems.append(_too_many(lesson))
    found.problems += [_unread(unread) for unread in lesson.unread]
    for tex in lesson.equations:
        found.problems += tex_problems(tex.tex, tex.place)
    for crossing in lesson.crossings:
        found.problems += crossing_problems(crossing, lesson.source.path, flights.workspace)
    for mention in lesson.mentions[:MOST_NUMBERS]:
        if mention.scheme == "claim":
            found.findings[mention] = examine_claim(mention, flights)
        elif mention.scheme == "value":
            found.findings[mention] = examine_value(mention, flights)
        elif mention.cramped:
            found.problems.append(_cramped(mention.place))
        else:
            draw = draw_clip if mention.scheme == "clip" else draw_figure
            found.attempt(mention, found.pictures, lambda m, draw=draw: draw(m, flights, words))  # type: ignore[misc]
    for picture in lesson.pictures:
        if picture.cramped:
            found.problems.append(_cramped(picture.place))
            continue
        found.attempt(picture, found.images, lambda p: embed(p, lesson.source.path, flights.workspace))
    for fence in lesson.fences:
        _examine_fence(found, fence, flights)
    _gather(found, flights)


def _too_many(lesson: Lesson) -> Problem:
    what = f"the lesson has {len(lesson.mentions)} claims, values, figures and clips"
    allowed, cure = f"at most {MOST_NUMBERS} are looked at", "cut it into lessons, from this one on"
    place = lesson.mentions[MOST_NUMBERS].place
    return Problem("file-too-large", what, allowed, cure, place.file, place.line, place.column)


def _unread(unread: Unread) -> Problem:
    what = f"this {unread.scheme}: link cannot be read as a link, so nothing checks it"
    allowed = "no space outside <…>, and none between ] and ("
    cure = f"put the address in angle brackets: [text](<{unread.scheme}:…>)"
    place = unread.place
    return Problem("address-unreadable", what, allowed, cure, place.file, place.line, place.column)


def _cramped(place: Place) -> Problem:
    what = "a picture stands in a heading or a table"
    allowed, cure = "pictures stand in paragraphs and lists", "move it to a line of its own"
    return Problem("picture-unusable", what, allowed, cure, place.file, place.line, place.column)


def _check_front(found: Examination, flights: Flights, course: Course) -> None:
    """The demonstrations and objectives the front matter names must exist."""
    for named in found.lesson.front.demonstrations:
        try:
            flights.variant(named.text)
        except BrokenDemonstrationError:
            continue
        except MaterialError as error:
            where = named.place
            found.problems += [p if p.file else p.at(where.file, where.line, where.column) for p in error.problems]
    known = [objective.identity for objective in course.objectives]
    for named in found.lesson.front.objectives:
        if named.text not in known:
            near = nearest(named.text, known)
            cure = f'did you mean "{near}"?' if near else "add it to objectives in course.yaml"
            allowed = "objectives are " + ", ".join(known) if known else "course.yaml lists no objectives"
            what, where = f'there is no objective "{named.text}"', named.place
            found.problems.append(Problem("choice-unknown", what, allowed, cure, where.file, where.line, where.column))


def _examine_fence(found: Examination, fence: Fence, flights: Flights) -> None:
    if fence.kind == "equation":
        found.attempt(fence, found.equations, read_equation)
    elif fence.kind == "ask":
        found.attempt(fence, found.questions, lambda f: read_question(f, found.lesson.source, flights))
    elif fence.kind == "practice" and not fence.private:
        found.problems.append(refuse_practice(fence))


def _gather(found: Examination, flights: Flights) -> None:
    """Every problem in order of place; those of the demonstrations' own files first."""
    for finding in found.findings.values():
        if finding.state == "unchecked":
            found.problems += finding.problems
    own = sorted(dict.fromkeys(found.problems), key=lambda p: (p.line or 0, p.column or 0))
    found.problems = [*flights.broken, *own]
