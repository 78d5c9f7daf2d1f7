"""What the course calls the instruments, for pictures and for the words a page writes by itself."""

from __future__ import annotations

from gyrochalk.demonstration.course import Course
from gyrochalk.figures import Words


def words_of(course: Course) -> Words:
    """The names of the instruments as the course's vocabulary has them."""
    return Words(gyro=course.vocabulary["unslaved gyro"], detector=course.vocabulary["detector"])
