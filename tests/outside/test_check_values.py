"""Every row of `data/check_values.csv` that the models cover holds within its tolerance.

Value, tolerance, conditions, mark and source of each row are read from the table; `rows.py` computes them with the
product. A row's source is printed with it, and is part of what a failing test says.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.outside.recording import Tell, tell
from tests.outside.rows import OTHER_MODELS, ROWS

TABLE = Path(__file__).parent / "data" / "check_values.csv"


class CheckValue(NamedTuple):
    """One row of the table."""

    id: str
    conditions: str
    quantity: str
    value: str
    unit: str
    tolerance: str
    mark: str
    source: str

    def told(self) -> str:
        """What is checked, and by which source."""
        return f"{self.quantity} ({self.conditions}) [{self.unit}], source ({self.mark}): {self.source}"


def table() -> dict[str, CheckValue]:
    """The rows of the table by id."""
    with TABLE.open(encoding="utf-8", newline="") as stream:
        return {row["id"]: CheckValue(**row) for row in csv.DictReader(stream)}


GIVEN = table()


@pytest.mark.parametrize("row", [pytest.param(GIVEN[name], id=f"{name}-by-{GIVEN[name].mark}") for name in ROWS])
def test_row_holds(row: CheckValue, record_property: Tell) -> None:
    computed = ROWS[row.id]()
    expected, tolerance = float(row.value), float(row.tolerance)
    name = f"check value {row.id}: {row.quantity}, distance from {expected:g} {row.unit}"
    tell(record_property, name, abs(computed - expected), tolerance * (1.0 + 1e-9), row.unit, row.source)
    print(f"{row.id}: {computed:.6f}, expected {expected:g} ± {tolerance:g}. {row.told()}")
    assert computed == pytest.approx(expected, abs=tolerance * (1.0 + 1e-9), rel=0.0), row.told()


def test_every_row_of_the_table_is_computed_or_belongs_to_another_model() -> None:
    assert sorted([*ROWS, *OTHER_MODELS]) == sorted(GIVEN)
    assert set(ROWS).isdisjoint(OTHER_MODELS)


def test_no_tolerance_is_so_wide_that_anything_would_pass() -> None:
    loose = [
        row.id
        for row in (GIVEN[name] for name in ROWS)
        if float(row.value) != 0.0 and float(row.tolerance) >= 0.3 * abs(float(row.value))
    ]
    assert loose == []
