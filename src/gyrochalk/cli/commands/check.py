"""`gyrochalk check`: what each lesson states, what the run says, and whether it holds."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from gyrochalk.cli.console import counted, roomy, show_json, show_problems, show_table
from gyrochalk.lesson import Finding, Flights, Report, Workspace, check_lesson, lessons_at

HEADER = ("place", "stated", "from the run", "margin", "where from", "")
STATES = {"holds": "holds", "false": "FALSE", "fresh": "up to date", "stale": "STALE", "unchecked": "not checked"}


def check(paths: Sequence[Path], *, as_json: bool) -> int:
    """Check lessons; 1 if any number does not hold or anything is wrong."""
    flights: dict[Workspace, Flights] = {}
    reports = []
    for path, workspace in lessons_at(paths):
        reports.append(check_lesson(path, flights.setdefault(workspace, Flights(workspace))))
    holds = all(report.holds for report in reports)
    if as_json:
        from gyrochalk import __version__

        show_json({"gyrochalk": __version__, "holds": holds, "lessons": [r.for_program() for r in reports]})
        return 0 if holds else 1
    for report in reports:
        _show(report)
    show_problems(dict.fromkeys(p for report in reports for p in report.all_problems))
    return 0 if holds else 1


def _show(report: Report) -> None:
    if report.findings:
        wide = roomy()
        rows = [_row(finding, wide=wide) for finding in report.findings]
        show_table(f"{report.file}: {report.title}", HEADER, rows, right=("margin",))
    print(summary(report))


def _row(finding: Finding, *, wide: bool) -> tuple[str, ...]:
    place = str(finding.place) if wide else f"{finding.place.line}:{finding.place.column}"
    where = f"{finding.demonstration}/{finding.measure}" if finding.demonstration else finding.measure
    return (place, finding.stated, finding.computed or "", margin(finding), where, STATES[finding.state])


def margin(finding: Finding) -> str:
    """The room left within the tolerance, with its sign and unit; empty where there is none."""
    if finding.margin is None or finding.unit is None:
        return ""
    from gyrochalk.units import format_quantity

    return format_quantity(finding.margin, finding.unit, 3 if abs(finding.margin) < 1 else 2)


def summary(report: Report) -> str:
    """One line on a checked lesson."""
    claims, values = report.count("claim"), report.count("value")
    false, stale = report.count("claim", "false"), report.count("value", "stale")
    unchecked = report.count("claim", "unchecked") + report.count("value", "unchecked") + report.unread
    parts = [f"{counted(claims, 'claim')}, {counted(false, 'false', 'false')}"]
    parts.append(f"{counted(values, 'value')}, {counted(stale, 'stale', 'stale')}")
    if unchecked:
        parts.append(f"{unchecked} not checked")
    if report.problems:
        parts.append(counted(len(report.problems), "problem"))
    return f"{report.file}: " + "; ".join(parts)
