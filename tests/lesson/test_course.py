"""The course file: read in full, or refused with every place."""

from __future__ import annotations

from pathlib import Path

import pytest

from gyrochalk.demonstration.course import Objective, load_course
from gyrochalk.errors import MaterialError
from gyrochalk.units.words import VOCABULARY


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "lessons").mkdir()
    (tmp_path / "lessons" / "one.md").write_text("", encoding="utf-8")
    return tmp_path


def write(folder: Path, text: str) -> Path:
    path = folder / "course.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_complete_course(folder: Path) -> None:
    course = load_course(
        write(
            folder,
            "gyrochalk: 1\ntitle: Heading\nschool: Fernhill\nlanguage: en-GB\npaper: Letter\nlessons: [one]\n"
            "objectives:\n  - {id: H1, text: Explain the loop}\nvocabulary:\n  detector: flux valve\n",
        )
    )
    assert (course.title, course.school, course.language, course.paper) == ("Heading", "Fernhill", "en-GB", "Letter")
    assert course.lessons == ("one",)
    assert course.objectives == (Objective("H1", "Explain the loop"),)
    assert course.vocabulary["detector"] == "flux valve"
    assert course.vocabulary["wander"] == VOCABULARY["wander"][0]


def test_shortest_course(folder: Path) -> None:
    course = load_course(write(folder, "gyrochalk: 1\ntitle: Heading\n"))
    assert (course.lessons, course.objectives, course.paper) == ((), (), "A4")


def test_every_problem_at_once(folder: Path) -> None:
    path = write(
        folder,
        "gyrochalk: one\ntitle:\n  - a\npaper: A5\nlessons: [one, two, ../one, one]\n"
        "objectives:\n  - id: H1\n    text: a\n  - id: H1\n  - x\nvocabulary:\n  detecter: x\n  wander: roam\n",
    )
    with pytest.raises(MaterialError) as refused:
        load_course(path, "course.yaml")
    assert str(refused.value).split("\n") == [
        "course.yaml:1:12  the format version is one; this gyrochalk reads version 1; write gyrochalk: 1  "
        "[version-unknown]",
        'course.yaml:3:3  "title" is a list or a group; one value; write title: …  [value-kind]',
        'course.yaml:4:8  "A5" is not a choice for paper; choices are A4, Letter; write for example "A4"  '
        "[choice-unknown]",
        "course.yaml:5:16  there is no lessons/two.md; a lesson that exists; check the name  [file-missing]",
        'course.yaml:5:21  "../one" is not the name of a lesson; names of files in lessons/; '
        "leave out folders and spaces  [name-unreadable]",
        'course.yaml:5:29  the lesson "one" is listed twice; each lesson once; remove one of the two  [name-duplicate]',
        'course.yaml:9:5  "text" is missing; a text for text; add a line text: …  [key-missing]',
        'course.yaml:9:5  the objective "H1" stands twice; each id once; give one of the two another id  '
        "[name-duplicate]",
        'course.yaml:10:5  an item of "objectives" has no keys; key: value lines; mend it  [value-kind]',
        'course.yaml:12:3  the key "detecter" is unknown; known keys are detector, unslaved gyro, slaved compass, '
        'rate one, wander, annunciator; did you mean "detector"?  [key-unknown]',
        'course.yaml:13:11  "roam" is not a choice for wander; choices are wander, drift; '
        'write for example "wander"  [choice-unknown]',
    ]
