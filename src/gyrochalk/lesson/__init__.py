"""Lessons: read them, check every number in them against the run, keep values fresh, build pages."""

from gyrochalk.lesson.reading import Lesson, parse, parse_text

__all__ = ["Lesson", "parse", "parse_text"]
