"""The tests that are too slow for `make test`."""

from __future__ import annotations

from collections.abc import Iterator

from tools.evidence import Row, rows
from tools.evidence.suite import rows_from_tests


@rows("tests marked evidence")
def slow_tests() -> Iterator[Row]:
    """One row for each test marked `evidence`."""
    yield from rows_from_tests("tests")
