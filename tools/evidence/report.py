"""Runs the measurements of a topic, prints a line for each row, writes them all as JSON."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from tools.environment import ROOT
from tools.evidence.goals import Goal, Measured
from tools.evidence.registry import Measurement, Row, measurements

WIDTH = 88
"""Columns for a row's name."""


def report(topic: str, only: str = "", folder: Path = ROOT / "out" / "evidence") -> int:
    """Measure a topic, or only what is registered under a name with `only` in it; 1 if anything falls short, else 0."""
    chosen = [each for each in measurements(topic) if only.casefold() in each.name.casefold()]
    found = list(measured_rows(chosen))
    folder.mkdir(parents=True, exist_ok=True)
    target = folder / (f"{topic}-part.json" if only else f"{topic}.json")
    target.write_text(
        json.dumps([as_json(each) for each in found], indent=1, ensure_ascii=False) + "\n", encoding="utf-8"
    )
    short = [each.name for each in found if not each.holds]
    print(f"{len(found) - len(short)} of {len(found)} rows hold; written to {target.relative_to(folder.parents[1])}")
    for name in short:
        print(f"falls short: {name}")
    return 1 if short or not found else 0


def measured_rows(chosen: list[Measurement]) -> Iterator[Row]:
    """Measure one after the other, printing each row as soon as it is known; a failure is a row that does not hold."""
    print(f"{'name':<{WIDTH}} {'measured':>16}  {'goal':<20}holds", flush=True)
    for number, measurement in enumerate(chosen, start=1):
        began = time.monotonic()
        progress(f"[{number}/{len(chosen)}] measuring: {measurement.name} …")
        try:
            for each in measurement.measure():
                print(line_of(each), flush=True)
                yield each
        except Exception as error:  # noqa: BLE001 - whatever went wrong, the row falls short and the others go on
            failed = Row(measurement.name, f"{type(error).__name__}: {error}", Goal("a number", bool), "", "")
            print(line_of(failed), flush=True)
            yield failed
        progress(f"[{number}/{len(chosen)}] {time.monotonic() - began:.1f} s")


def progress(text: str) -> None:
    """A line on the error stream, so that the rows stay a table."""
    print(text, file=sys.stderr, flush=True)


def line_of(row: Row) -> str:
    """A row as a line of the table."""
    measured = f"{number_of(row.measured)} {row.unit}".strip().partition("\n")[0][:60]
    return f"{row.name:<{WIDTH}} {measured:>16}  {row.goal.text:<20}{'yes' if row.holds else 'NO'}"


def number_of(measured: Measured) -> str:
    """A measured value as a person reads it."""
    if isinstance(measured, bool):
        return "yes" if measured else "no"
    return measured if isinstance(measured, str) else f"{measured:.4g}"


def as_json(row: Row) -> dict[str, object]:
    """A row as it is written to the file."""
    return {
        "name": row.name,
        "measured": row.measured,
        "goal": row.goal.text,
        "unit": row.unit,
        "holds": row.holds,
        "source": row.source,
    }
