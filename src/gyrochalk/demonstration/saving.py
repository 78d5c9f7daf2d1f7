"""Saves a run for another program: CSV, NPZ or Parquet, each with units, norths, model, date and version."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import numpy as np

from gyrochalk import CAUTION
from gyrochalk.demonstration.aside import written_aside
from gyrochalk.demonstration.run_file import header_of, write_run
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.systems.run import Column, Run


def save_run(run: Run, path: Path, title: str = "") -> None:
    """Write a run to `path`; the ending `.csv`, `.npz` or `.parquet` decides the form.

    Raises `MaterialError`: choice-unknown for another ending, cannot-write where the file cannot be written or
    Parquet's library is not installed. Nothing half-written is left behind.
    """
    file = path.as_posix()
    write = WRITERS.get(path.suffix.casefold())
    if write is None:
        endings = ", ".join(WRITERS)
        what = f'a run cannot be saved as "{path.suffix}"'
        raise MaterialError(Problem("choice-unknown", what, f"allowed are {endings}", "choose one of them").at(file))
    try:
        with written_aside(path) as aside:
            write(run, aside, title)
    except OSError as error:
        what = f"the file cannot be written ({type(error).__name__})"
        problem = Problem("cannot-write", what, "a folder you may write to", "choose another folder or file name")
        raise MaterialError(problem.at(file)) from error
    except ImportError as error:
        what = "Parquet needs the library pyarrow"
        problem = Problem("cannot-write", what, ".csv and .npz need nothing more", "install pyarrow, or save as .npz")
        raise MaterialError(problem.at(file)) from error


def header_lines(run: Run, title: str = "") -> list[str]:
    """Where the numbers come from, in lines for people."""
    origin = run.provenance
    date = f", {origin.field_date}" if origin.field_date else ""
    lines = [
        f"{title}" if title else "a run",
        f"gyrochalk {origin.version}",
        f"magnetic field: {origin.field_model}{date}",
    ]
    lines.append(f"headings exact to {origin.tolerance_deg:g} deg of the model")
    lines += [f"warning: {warning}" for warning in origin.warnings]
    return [*lines, CAUTION]


def column_title(column: Column) -> str:
    """A column's name with unit and north: "slaved.heading [deg, magnetic]"."""
    return f"{column.name} [{column.unit}{f', {column.north}' if column.north else ''}]"


def _write_csv(run: Run, path: Path, title: str) -> None:
    columns = list(run.columns.values())
    cells = [_texts(run.time_s, None), *(_texts(column.values, column.valid) for column in columns)]
    titles = ["time [s]", *(column_title(column) for column in columns)]
    with path.open("w", encoding="utf-8", newline="\n") as file:
        file.writelines(f"# {line}\n" for line in header_lines(run, title))
        file.write(",".join(f'"{name}"' if "," in name else name for name in titles) + "\n")
        file.writelines(",".join(row) + "\n" for row in zip(*cells, strict=True))


def _texts(values: np.ndarray, valid: np.ndarray | None) -> list[str]:
    texts = [format(value + 0.0, ".9g") for value in values.tolist()]
    if valid is None:
        return texts
    return [text if shown else "" for text, shown in zip(texts, valid.tolist(), strict=True)]


def _write_npz(run: Run, path: Path, title: str) -> None:
    write_run(run, path, {"title": title, "origin": header_lines(run, title)})


def _write_parquet(run: Run, path: Path, title: str) -> None:
    import pyarrow
    import pyarrow.parquet

    fields = [pyarrow.field("time", pyarrow.float64(), metadata={"unit": "s"})]
    arrays = [pyarrow.array(run.time_s)]
    for column in run.columns.values():
        notes = {"unit": column.unit, "description": column.description, "north": column.north or ""}
        fields.append(pyarrow.field(column.name, pyarrow.float64(), metadata=notes))
        arrays.append(pyarrow.array(column.values, mask=None if column.valid is None else ~column.valid))
    notes = {"gyrochalk": json.dumps({**header_of(run), "origin": header_lines(run, title)}, ensure_ascii=False)}
    table = pyarrow.Table.from_arrays(arrays, schema=pyarrow.schema(fields, metadata=notes))
    pyarrow.parquet.write_table(table, path)


WRITERS: dict[str, Callable[[Run, Path, str], None]] = {
    ".csv": _write_csv,
    ".npz": _write_npz,
    ".parquet": _write_parquet,
}
"""How a run is written, by the file's ending."""
