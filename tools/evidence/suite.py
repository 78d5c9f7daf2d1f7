"""Rows from pytest: what tests measured, told with pytest's own `record_property`.

    def test_heading_agrees(record_property):
        ...
        record_property("name", "headings against LSODA")
        record_property("measured", worst_deg)
        record_property("goal", 0.005)          # at most this, unless "goal_kind" says below, above or equal
        record_property("unit", "deg")
        record_property("source", "scipy, independent right-hand side")
        assert worst_deg <= 0.005

Each such test is a row. Tests that record nothing are a row each if they are few and marked `evidence`, and are counted
in one row otherwise. A failed test never holds.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path

from tools.environment import ROOT
from tools.evidence.goals import Goal, above, at_most, below, equal, true
from tools.evidence.registry import Row

KINDS = {"at most": at_most, "below": below, "above": above, "equal": equal}
ORDERLY = {0, 1, 5}
"""Exit codes of pytest after which its results can be read: all passed, some failed, none selected."""


def rows_from_marked_tests(*paths: str) -> Iterator[Row]:
    """Run the tests marked `evidence` under the paths; a row for each, none if none is marked."""
    yield from (row_of(case) for case in run_tests("evidence", *paths))


def rows_from_quick_tests(*paths: str) -> Iterator[Row]:
    """Run the tests that `make test` runs under the paths; a row for each that measured, one row for all others."""
    cases = run_tests("not evidence", *paths)
    told = [case for case in cases if "measured" in properties(case)]
    silent = [case for case in cases if "measured" not in properties(case)]
    yield from (row_of(case) for case in told)
    failed = sum(not passed(case) for case in silent)
    where = ", ".join(paths)
    yield Row(f"failures among {len(silent)} more tests in {where}", failed, equal(0), "tests", "pytest")
    yield Row(f"tests in {where}", len(cases), above(0), "tests", "pytest")


def run_tests(marker: str, *paths: str) -> list[ET.Element]:
    """The result of every test with the marker, in the order they stand in their files; raises if pytest broke down."""
    with tempfile.TemporaryDirectory() as folder:
        result = Path(folder) / "result.xml"
        results = [f"--junitxml={result}", "-o", "junit_family=xunit1"]
        command = [sys.executable, "-m", "pytest", "-q", "-n", "auto", "--timeout=900", "-m", marker, *results, *paths]
        code = subprocess.run(command, cwd=ROOT, check=False, stdout=sys.stderr).returncode
        if code not in ORDERLY:
            message = f"pytest ended with {code} over {', '.join(paths)}"
            raise RuntimeError(message)
        found = ET.parse(result).iter("testcase")
        return sorted(found, key=lambda case: (case.get("file", ""), int(case.get("line", "0")), case.get("name", "")))


def properties(case: ET.Element) -> dict[str, str]:
    """What a test told."""
    return {each.get("name", ""): each.get("value", "") for each in case.iter("property")}


def passed(case: ET.Element) -> bool:
    """Whether a test ran and passed."""
    return all(case.find(kind) is None for kind in ("failure", "error", "skipped"))


def row_of(case: ET.Element) -> Row:
    """The row one test stands for."""
    told = properties(case)
    name = told.get("name") or f"{case.get('classname')}: {case.get('name')}"
    source = told.get("source", "pytest")
    if "measured" not in told or "goal" not in told:
        return Row(name, passed(case), true(), "", source)
    goal = KINDS[told.get("goal_kind", "at most")](float(told["goal"]))
    if not passed(case):
        goal = Goal(f"{goal.text}, and the test passes", lambda _: False)
    return Row(name, float(told["measured"]), goal, told.get("unit", ""), source)
