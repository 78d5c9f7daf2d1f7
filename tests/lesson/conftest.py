"""The small workspace these tests share."""

from tests.lesson.desk import desk

__all__ = ["desk"]
