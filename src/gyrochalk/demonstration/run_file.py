"""A run as one file of arrays, and back: what the cache keeps and what `save_run` writes as NPZ."""

from __future__ import annotations

import dataclasses
import json
import zipfile
from pathlib import Path
from typing import Any

import numpy as np

from gyrochalk.systems.run import Column, Event, Provenance, Run, Span

FORM = 1
"""Version of the file's inner form; another one is not read."""


class UnreadableRunError(Exception):
    """The file is not a run that this version can read."""


def write_run(run: Run, path: Path, extra: dict[str, Any] | None = None) -> None:
    """Write a run as NPZ: `time_s`, one array a channel, `valid:NAME` where a channel has it, `header` (JSON text)."""
    arrays: dict[str, Any] = {"time_s": run.time_s}
    for name, column in run.columns.items():
        arrays[name] = column.values
        if column.valid is not None:
            arrays[f"valid:{name}"] = column.valid
    arrays["header"] = np.array(json.dumps({**header_of(run), **(extra or {})}, ensure_ascii=False))
    with path.open("wb") as file:
        np.savez(file, **arrays)


def header_of(run: Run) -> dict[str, Any]:
    """Everything of a run but its numbers."""
    return {
        "form": FORM,
        "columns": [
            {"name": column.name, "unit": column.unit, "description": column.description, "north": column.north}
            for column in run.columns.values()
        ],
        "events": [dataclasses.asdict(event) for event in run.events],
        "spans": [dataclasses.asdict(span) for span in run.spans],
        "provenance": dataclasses.asdict(run.provenance),
    }


def read_run(path: Path) -> Run:
    """Read a run back; raises `UnreadableRunError` for anything that is not one."""
    try:
        with path.open("rb") as file, np.load(file, allow_pickle=False) as arrays:
            header = json.loads(str(arrays["header"]))
            if header["form"] != FORM:
                raise UnreadableRunError(f"form {header['form']}")
            columns = {row["name"]: _column(row, arrays) for row in header["columns"]}
            return Run(
                arrays["time_s"],
                columns,
                tuple(Event(**event) for event in header["events"]),
                tuple(Span(**span) for span in header["spans"]),
                Provenance(**{**header["provenance"], "warnings": tuple(header["provenance"]["warnings"])}),
            )
    except (OSError, ValueError, KeyError, TypeError, EOFError, zipfile.BadZipFile) as error:
        raise UnreadableRunError(str(error)) from error


def _column(row: dict[str, Any], arrays: Any) -> Column:
    valid = f"valid:{row['name']}"
    return Column(
        row["name"],
        row["unit"],
        row["description"],
        arrays[row["name"]],
        row["north"],
        arrays[valid] if valid in arrays.files else None,
    )
