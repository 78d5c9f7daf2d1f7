"""Saved runs carry units, norths, model, date and version, in every form."""

from __future__ import annotations

import builtins
import json
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow.parquet
import pytest
from tests.demonstration.test_flying import hand_made

from gyrochalk import CAUTION
from gyrochalk.demonstration import save_run
from gyrochalk.errors import MaterialError

ORIGIN = [
    "A circle",
    "gyrochalk 0.1.0",
    "magnetic field: WMM2025, 2026-01-01",
    "headings exact to 0.01 deg of the model",
    "warning: weak field",
    CAUTION,
]


def test_csv(tmp_path: Path) -> None:
    save_run(hand_made(), tmp_path / "run.csv", "A circle")
    assert (tmp_path / "run.csv").read_text(encoding="utf-8").splitlines() == [
        *(f"# {line}" for line in ORIGIN),
        'time [s],"slaved.heading [deg, magnetic]",gyro.error [deg]',
        "0,359.5,0.1",
        "0.5,0,",
        "1,1.5,-0.3",
    ]


def test_npz(tmp_path: Path) -> None:
    save_run(hand_made(), tmp_path / "run.npz", "A circle")
    with np.load(tmp_path / "run.npz", allow_pickle=False) as arrays:
        header = json.loads(str(arrays["header"]))
        assert arrays["slaved.heading"].tolist() == [359.5, 0.0, 1.5]
        assert arrays["time_s"].tolist() == [0.0, 0.5, 1.0]
    assert header["origin"] == ORIGIN
    assert header["columns"][0] == {
        "name": "slaved.heading",
        "unit": "deg",
        "description": "the slaved card",
        "north": "magnetic",
    }


def test_parquet(tmp_path: Path) -> None:
    save_run(hand_made(), tmp_path / "run.parquet", "A circle")
    table = pyarrow.parquet.read_table(tmp_path / "run.parquet")
    assert table.column_names == ["time", "slaved.heading", "gyro.error"]
    assert table["gyro.error"].to_pylist() == [0.1, None, -0.3]
    assert table.schema.field("slaved.heading").metadata[b"unit"] == b"deg"
    assert json.loads(table.schema.metadata[b"gyrochalk"])["origin"] == ORIGIN


def message(path: Path) -> str:
    with pytest.raises(MaterialError) as caught:
        save_run(hand_made(), path)
    return str(caught.value).replace(path.as_posix(), "FILE")


def test_another_ending(tmp_path: Path) -> None:
    assert message(tmp_path / "run.xls") == (
        'FILE  a run cannot be saved as ".xls"; allowed are .csv, .npz, .parquet; choose one of them  [choice-unknown]'
    )


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    assert message(tmp_path / "file" / "run.csv") == (
        "FILE  the file cannot be written (FileExistsError); a folder you may write to; "
        "choose another folder or file name  [cannot-write]"
    )


def test_nothing_half_written_is_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "run.csv").write_text("what was there", encoding="utf-8")

    def full(run: Any, path: Path, title: str) -> None:
        path.write_text("half", encoding="utf-8")
        raise OSError("no space")

    monkeypatch.setitem(save_run.__globals__["WRITERS"], ".csv", full)
    assert message(tmp_path / "run.csv").endswith("[cannot-write]")
    assert {path.name: path.read_text(encoding="utf-8") for path in tmp_path.glob("*")} == {"run.csv": "what was there"}


def test_parquet_without_its_library(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    usual = builtins.__import__

    def missing(name: str, *arguments: Any, **more: Any) -> Any:
        if name.startswith("pyarrow"):
            raise ImportError(name)
        return usual(name, *arguments, **more)

    monkeypatch.setattr(builtins, "__import__", missing)
    assert message(tmp_path / "run.parquet") == (
        "FILE  Parquet needs the library pyarrow; .csv and .npz need nothing more; "
        "install pyarrow, or save as .npz  [cannot-write]"
    )
