"""What the course calls the instruments, for pictures and for the words a page writes by itself."""

from __future__ import annotations

from pathlib import Path

from gyrochalk.demonstration.course import Course, load_course
from gyrochalk.errors import MaterialError
from gyrochalk.figures import Words
from gyrochalk.lesson.workspace import COURSE_FILE, find_workspace
from gyrochalk.units.words import ENGLISH, Speech


def words_of(course: Course) -> Words:
    """The names of the instruments as the course's vocabulary has them."""
    return Words.of(course.speech)


def speech_at(path: Path) -> Speech:
    """The way the course that `path` lies in speaks; English in the usual words where no course can be read."""
    try:
        workspace = find_workspace(path if path.exists() else Path())
        return load_course(workspace.root / COURSE_FILE).speech
    except MaterialError:
        return ENGLISH
