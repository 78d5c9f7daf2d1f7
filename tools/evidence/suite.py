"""Rows from pytest: tests marked `evidence`, run once, one row each.

A test tells what it measured with pytest's own `record_property`:

    @pytest.mark.evidence
    def test_heading_agrees(record_property):
        ...
        record_property("name", "headings against LSODA")
        record_property("measured", worst_deg)
        record_property("goal", 0.005)          # at most this, unless "goal_kind" says otherwise
        record_property("unit", "deg")
        record_property("source", "scipy, independent right-hand side")
        assert worst_deg <= 0.005

A test that records nothing becomes a row of its own: passed, or not. A failed test never holds.
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


def rows_from_tests(*paths: str, marker: str = "evidence") -> Iterator[Row]:
    """Run the tests with `marker` under the paths and yield a row for each; none at all is a row that falls short."""
    with tempfile.TemporaryDirectory() as folder:
        result = Path(folder) / "result.xml"
        options = ["-q", "-p", "no:cacheprovider", "-m", marker, f"--junitxml={result}", "-o", "junit_family=xunit1"]
        subprocess.run([sys.executable, "-m", "pytest", *options, *paths], cwd=ROOT, check=False, stdout=sys.stderr)
        found = [row_of(case) for case in ET.parse(result).iter("testcase")] if result.exists() else []
    yield from found
    if not found:
        yield Row(f"tests marked {marker} in {', '.join(paths)}", 0, above(0), "tests", "pytest")


def row_of(case: ET.Element) -> Row:
    """The row one test case stands for."""
    said = {each.get("name", ""): each.get("value", "") for each in case.iter("property")}
    passed = not any(case.find(kind) is not None for kind in ("failure", "error", "skipped"))
    name = said.get("name") or f"{case.get('classname')}: {case.get('name')}"
    source = said.get("source", "pytest")
    if "measured" not in said or "goal" not in said:
        return Row(name, passed, true(), "", source)
    goal = KINDS[said.get("goal_kind", "at most")](float(said["goal"]))
    if not passed:
        goal = Goal(f"{goal.text}, and the test passes", lambda _: False)
    return Row(name, float(said["measured"]), goal, said.get("unit", ""), source)
