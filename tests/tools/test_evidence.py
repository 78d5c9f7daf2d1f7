"""Evidence is held against its goal, written as promised, and never passes by failing."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from tools.evidence import Goal, Row, above, at_most, below, equal, near, report, true
from tools.evidence.registry import Measurement, measurements, topics
from tools.evidence.suite import rows_from_marked_tests, rows_from_quick_tests


@pytest.mark.parametrize(
    ("goal", "text", "meets", "misses"),
    [
        (below(15.0), "< 15", 14.9, 15.0),
        (at_most(0.005), "<= 0.005", 0.005, 0.0051),
        (above(0.0), "> 0", 1.0, 0.0),
        (near(-20.29, 0.01), "-20.29 ± 0.01", -20.281, -20.31),
        (equal(30.0), "30", 30.0, 30.001),
        (true(), "yes", True, False),
    ],
)
def test_goals(goal: Goal, text: str, meets: float, misses: float) -> None:
    assert goal.text == text
    assert goal.holds(meets)
    assert not goal.holds(misses)
    assert not goal.holds(math.nan)
    assert not goal.holds("14.9")


def good() -> Iterator[Row]:
    """One row that holds."""
    yield Row("time to null", 30.0, near(30.0, 0.001), "min", "common practice")


def failing() -> Iterator[Row]:
    """A measurement that breaks down."""
    yield from good()
    message = "no run"
    raise RuntimeError(message)


def run_report(
    monkeypatch: pytest.MonkeyPatch, folder: Path, *chosen: Measurement
) -> tuple[int, list[dict[str, object]]]:
    """Report on measurements of the test's own."""
    monkeypatch.setattr(report, "measurements", lambda _topic: chosen)
    code = report.report("mine", folder=folder / "out" / "evidence")
    return code, json.loads((folder / "out" / "evidence" / "mine.json").read_text(encoding="utf-8"))


def test_a_report_that_holds(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, written = run_report(monkeypatch, tmp_path, Measurement("time to null", "mine", good))
    assert code == 0
    assert written == [
        {
            "name": "time to null",
            "measured": 30.0,
            "goal": "30 ± 0.001",
            "unit": "min",
            "holds": True,
            "source": "common practice",
        }
    ]
    assert "1 of 1 rows hold" in capsys.readouterr().out


def test_a_measurement_that_breaks_down_falls_short_and_the_others_go_on(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    code, written = run_report(
        monkeypatch, tmp_path, Measurement("broken", "mine", failing), Measurement("time to null", "mine", good)
    )
    assert code == 1
    assert [(row["name"], row["measured"], row["holds"]) for row in written] == [
        ("time to null", 30.0, True),
        ("broken", "RuntimeError: no run", False),
        ("time to null", 30.0, True),
    ]


def test_no_rows_at_all_is_no_evidence(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    assert run_report(monkeypatch, tmp_path) == (1, [])


def test_every_topic_has_measurements_with_names_of_their_own() -> None:
    for topic in topics():
        names = [each.name for each in measurements(topic)]
        assert names
        assert len(set(names)) == len(names)


MEASURING = """
import pytest

TOLD = {"name": "headings", "measured": 0.002, "goal": 0.005, "unit": "deg"}

@pytest.mark.evidence
def test_measured(record_property):
    for name, value in TOLD.items():
        record_property(name, value)

@pytest.mark.evidence
def test_wrong(record_property):
    test_measured(record_property)
    assert False

@pytest.mark.evidence
def test_plain():
    pass

def test_quick(record_property):
    test_measured(record_property)

def test_quick_and_silent():
    pass

def test_quick_and_wrong():
    assert False
"""


def as_tuples(found: Iterator[Row]) -> list[tuple[str, object, str, bool]]:
    """Rows with the path of the test's own folder left out."""
    return [(row.name.split(": ")[-1].split(" in ")[0], row.measured, row.goal.text, row.holds) for row in found]


def test_marked_tests_become_rows(tmp_path: Path) -> None:
    (tmp_path / "test_slow.py").write_text(MEASURING, encoding="utf-8")
    assert as_tuples(rows_from_marked_tests(str(tmp_path))) == [
        ("headings", 0.002, "<= 0.005", True),
        ("headings", 0.002, "<= 0.005, and the test passes", False),
        ("test_plain", True, "yes", True),
    ]


def test_quick_tests_become_rows_where_they_measure(tmp_path: Path) -> None:
    (tmp_path / "test_slow.py").write_text(MEASURING, encoding="utf-8")
    assert as_tuples(rows_from_quick_tests(str(tmp_path))) == [
        ("headings", 0.002, "<= 0.005", True),
        ("failures among 2 more tests", 1, "0", False),
        ("tests", 3, "> 0", True),
    ]


def test_no_marked_test_is_no_row(tmp_path: Path) -> None:
    (tmp_path / "test_none.py").write_text("def test_quick():\n    pass\n", encoding="utf-8")
    assert list(rows_from_marked_tests(str(tmp_path))) == []


@pytest.mark.parametrize("kind", [rows_from_marked_tests, rows_from_quick_tests])
def test_tests_that_cannot_be_read_fall_short(tmp_path: Path, kind: Callable[[str], Iterator[Row]]) -> None:
    (tmp_path / "test_broken.py").write_text("def test_quick(:\n", encoding="utf-8")
    assert not all(row.holds for row in kind(str(tmp_path)))
