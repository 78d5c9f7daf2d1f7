"""What the tests measure: the slow ones, and the checks against the outside."""

from __future__ import annotations

from collections.abc import Iterator

from tools.evidence import Row, rows
from tools.evidence.suite import rows_from_marked_tests, rows_from_quick_tests


@rows("checks against published values and independent libraries")
def outside() -> Iterator[Row]:
    """One row for each check that measures something."""
    yield from rows_from_quick_tests("tests/outside")


@rows("tests too slow for make test")
def slow_tests() -> Iterator[Row]:
    """One row for each test marked `evidence`."""
    yield from rows_from_marked_tests("tests")
