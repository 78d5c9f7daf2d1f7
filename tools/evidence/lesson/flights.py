"""What must hold for any flight, and how nearly it does."""

from __future__ import annotations

from collections.abc import Iterator

from tools.evidence import Row, rows
from tools.evidence.suite import rows_from_quick_tests


@rows("what holds for any flight")
def properties() -> Iterator[Row]:
    """One row for each property of models and flights that measures something."""
    yield from rows_from_quick_tests("tests/systems", "tests/physics")
