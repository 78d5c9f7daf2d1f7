"""Lessons: read them, check every number in them against the run, keep values fresh, build pages."""

from gyrochalk.lesson.building import Built, build_index, build_lesson, course_entries
from gyrochalk.lesson.checking import Report, lessons_at, problem_for_program
from gyrochalk.lesson.checking import check as check_lesson
from gyrochalk.lesson.findings import Finding
from gyrochalk.lesson.flights import Flights
from gyrochalk.lesson.index import Entry
from gyrochalk.lesson.reading import Lesson, parse, parse_text
from gyrochalk.lesson.refreshing import Change
from gyrochalk.lesson.refreshing import refresh as refresh_lesson
from gyrochalk.lesson.starting import start_workspace
from gyrochalk.lesson.workspace import Workspace, find_workspace

__all__ = [
    "Built",
    "Change",
    "Entry",
    "Finding",
    "Flights",
    "Lesson",
    "Report",
    "Workspace",
    "build_index",
    "build_lesson",
    "check_lesson",
    "course_entries",
    "find_workspace",
    "lessons_at",
    "parse",
    "parse_text",
    "problem_for_program",
    "refresh_lesson",
    "start_workspace",
]
