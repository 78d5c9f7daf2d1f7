"""`course.yaml`: the course's title, its lessons in order, its objectives, house style and vocabulary."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping
from pathlib import Path

from gyrochalk.demonstration.fields import Fields
from gyrochalk.demonstration.workspace import require_inside
from gyrochalk.demonstration.yaml_source import Mapping as Group
from gyrochalk.demonstration.yaml_source import Node, Scalar, read_text, read_tree
from gyrochalk.errors import ProblemList
from gyrochalk.units.words import VOCABULARY, Speech, speech_of

KEYS = ("gyrochalk", "title", "school", "language", "paper", "lessons", "objectives", "vocabulary")
_LESSON = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*")


@dataclasses.dataclass(frozen=True, slots=True)
class Objective:
    """One learning objective: a short id and the sentence it stands for."""

    identity: str
    text: str


@dataclasses.dataclass(frozen=True, slots=True)
class Course:
    """A course: `lessons` are names of files in `lessons/` without `.md`, in teaching order.

    `language` is a language tag such as "en"; `paper` "A4" or "Letter"; `vocabulary` has the chosen word for every
    key of `VOCABULARY`.
    """

    title: str
    school: str = ""
    language: str = "en"
    paper: str = "A4"
    lessons: tuple[str, ...] = ()
    objectives: tuple[Objective, ...] = ()
    vocabulary: Mapping[str, str] = dataclasses.field(default_factory=lambda: {k: v[0] for k, v in VOCABULARY.items()})

    @property
    def speech(self) -> Speech:
        """The language and the words everything this course builds is written in."""
        return speech_of(self.language, self.vocabulary)


def load_course(path: Path, file: str | None = None) -> Course:
    """Read a course file; raises `MaterialError` with every problem and its place."""
    file = file or path.as_posix()
    problems = ProblemList()
    require_inside(path, path.parent, file)
    fields = Fields(read_tree(read_text(path), file), file, problems, KEYS)
    fields.check_format()
    course = Course(
        title=fields.text("title", required=True),
        school=fields.text("school"),
        language=fields.text("language", "en"),
        paper=fields.choice("paper", ("A4", "Letter"), "A4"),
        lessons=_lessons(fields, path.parent / "lessons"),
        objectives=_objectives(fields, file, problems),
        vocabulary=_vocabulary(fields, file, problems),
    )
    problems.refuse_if_any()
    return course


def _lessons(fields: Fields, folder: Path) -> tuple[str, ...]:
    names: list[str] = []
    for scalar in fields.texts("lessons"):
        name = scalar.text.removesuffix(".md")
        if not _LESSON.fullmatch(name):
            what = f'"{scalar.text}" is not the name of a lesson'
            fields.report(
                "name-unreadable", what, "names of files in lessons/", "leave out folders and spaces", scalar.place
            )
        elif name in names:
            what = f'the lesson "{name}" is listed twice'
            fields.report("name-duplicate", what, "each lesson once", "remove one of the two", scalar.place)
        elif not (folder / f"{name}.md").is_file():
            what = f"there is no lessons/{name}.md"
            fields.report("file-missing", what, "a lesson that exists", "check the name", scalar.place)
        names.append(name)
    return tuple(names)


def _objectives(fields: Fields, file: str, problems: ProblemList) -> tuple[Objective, ...]:
    objectives: dict[str, Objective] = {}
    for group in fields.groups("objectives"):
        item = Fields(group, file, problems, ("id", "text"))
        identity, text = item.text("id", required=True), item.text("text", required=True)
        if identity and identity in objectives:
            what = f'the objective "{identity}" stands twice'
            item.report("name-duplicate", what, "each id once", "give one of the two another id", group.place)
        objectives[identity] = Objective(identity, text)
    return tuple(objectives.values())


def _vocabulary(fields: Fields, file: str, problems: ProblemList) -> dict[str, str]:
    chosen = {key: words[0] for key, words in VOCABULARY.items()}
    node = fields.node("vocabulary")
    if isinstance(node, Group):
        words = Fields(node, file, problems, tuple(VOCABULARY))
        for key, choices in VOCABULARY.items():
            chosen[key] = words.choice(key, choices, choices[0])
    elif node is not None and not _empty(node):
        fields.report("value-kind", '"vocabulary" has no keys', "term: word lines", "mend it", node.place)
    return chosen


def _empty(node: Node) -> bool:
    return isinstance(node, Scalar) and not node.text
