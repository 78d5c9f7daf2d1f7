"""The lesson: every claim watched, every refusal worded."""

from __future__ import annotations

from collections.abc import Iterator

from tools.evidence import Row, rows
from tools.evidence.suite import rows_from_quick_tests


@rows("claims of the demo lesson, pages, and the wording of every refusal")
def lesson() -> Iterator[Row]:
    """Every claim changed either way fails at its place; every error code has its page and its message."""
    yield from rows_from_quick_tests("tests/lesson", "tests/demonstration", "tests/errors")
