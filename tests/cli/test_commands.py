"""The commands as a person and as a program use them."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from gyrochalk import __version__
from gyrochalk.cli.main import FINE, MATERIAL, main
from tests.lesson.desk import Desk

GOOD = "[2.0°](claim:drift/gyro.end_error) and [2°](value:drift/gyro.end_error?digits=0)\n"
BAD = "[3.0°](claim:drift/gyro.end_error) and [5°](value:drift/gyro.end_error?digits=0)\n"
FALSE = (
    'lessons/l.md:5:1  "3.0°" is stated, the run says 2.00°; 0.05° of difference is allowed, this is 0.95° more; state '
    "that, or change the demonstration if the flight is not the one meant  [claim-false]"
)
STALE = (
    'lessons/l.md:5:40  the value reads "5°", the run says 2°; the text of a value is what the run says; run gyrochalk '
    "refresh  [value-stale]"
)

Capture = pytest.CaptureFixture[str]


def answer(capture: Capture) -> Any:
    """What a command printed, read as JSON."""
    return json.loads(capture.readouterr().out)


def cells(line: str) -> list[str]:
    """The cells of a printed table's row."""
    return re.split(r"\s{2,}", line.strip())


def test_check_prints_a_row_a_number(desk: Desk, capsys: Capture) -> None:
    path = desk.write(GOOD)
    assert main(["check", str(path)]) == FINE
    shown = capsys.readouterr()
    assert shown.err == ""
    lines = shown.out.splitlines()
    assert lines[0].strip() == "lessons/l.md: A lesson"
    assert cells(lines[2]) == ["place", "stated", "from the run", "margin", "where from"]
    assert cells(lines[4]) == ["lessons/l.md:5:1", "2.0°", "2.00°", "0.050°", "drift/gyro.end_error", "holds"]
    assert cells(lines[5]) == ["lessons/l.md:5:40", "2°", "2°", "drift/gyro.end_error", "up to date"]
    assert lines[-1] == "lessons/l.md: 1 claim, 0 false; 1 value, 0 stale"


def test_check_fails_for_a_false_claim_and_a_stale_value(desk: Desk, capsys: Capture) -> None:
    desk.write(BAD)
    assert main(["check"]) == MATERIAL
    shown = capsys.readouterr()
    assert shown.err.splitlines() == [FALSE, STALE]
    assert "FALSE" in shown.out
    assert shown.out.splitlines()[-1] == "lessons/l.md: 1 claim, 1 false; 1 value, 1 stale"


def test_check_for_a_program(desk: Desk, capsys: Capture) -> None:
    desk.write(BAD)
    assert main(["check", "--json"]) == MATERIAL
    told = answer(capsys)
    assert told["gyrochalk"] == __version__
    assert told["holds"] is False
    (lesson,) = told["lessons"]
    assert (lesson["file"], lesson["title"], lesson["holds"]) == ("lessons/l.md", "A lesson", False)
    claim, value = lesson["numbers"]
    assert {key: claim[key] for key in ("kind", "file", "line", "column", "stated", "computed", "state", "unit")} == {
        "kind": "claim",
        "file": "lessons/l.md",
        "line": 5,
        "column": 1,
        "stated": "3.0°",
        "computed": "2.00°",
        "state": "false",
        "unit": "deg",
    }
    assert claim["value"] == pytest.approx(2.0, abs=1e-3)
    assert claim["margin"] == pytest.approx(-0.95, abs=1e-3)
    assert (value["state"], value["column"]) == ("stale", 40)
    assert [problem["code"] for problem in lesson["problems"]] == ["claim-false", "value-stale"]


def test_check_tells_a_broken_demonstration_once_for_all_lessons(desk: Desk, capsys: Capture) -> None:
    desk.demonstration("bad", "gyrochalk: 1\nspede: 100 kt\n")
    for name in ("a", "b"):
        desk.write("[1°](claim:bad/gyro.end_error)\n", name)
    assert main(["check"]) == MATERIAL
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_check_without_lessons(desk: Desk, capsys: Capture) -> None:
    assert main(["check"]) == MATERIAL
    assert (
        capsys.readouterr().err
        == ".  the workspace has no lessons; Markdown files in lessons/; write one  [file-missing]\n"
    )


def test_refresh_then_check(desk: Desk, capsys: Capture) -> None:
    path = desk.write("[5°](value:drift/gyro.end_error?digits=0)\n")
    assert main(["refresh"]) == FINE
    shown = capsys.readouterr()
    assert shown.out == 'lessons/l.md:5:1  "5°" is now "2°"\nlessons/l.md: 1 value rewritten\n'
    assert path.read_text(encoding="utf-8").endswith("[2°](value:drift/gyro.end_error?digits=0)\n")
    assert main(["check"]) == FINE


def test_refresh_for_a_program(desk: Desk, capsys: Capture) -> None:
    desk.write("[5°](value:drift/gyro.end_error?digits=0)\n")
    assert main(["refresh", "--json"]) == FINE
    told = answer(capsys)
    (change,) = told["lessons"][0]["changes"]
    assert (change["was"], change["now"], change["line"], change["column"]) == ("5°", "2°", 5, 1)
    assert told["problems"] == []


def test_refresh_tells_what_it_cannot_do(desk: Desk, capsys: Capture) -> None:
    desk.write("[5°](value:drift/none)\n", "a")
    (desk.root / "lessons" / "b.md").write_text("no front matter", encoding="utf-8")
    assert main(["refresh"]) == MATERIAL
    codes = re.findall(r"\[([a-z-]+)\]$", capsys.readouterr().err, re.MULTILINE)
    assert codes == ["measure-unknown", "front-matter"]


def test_build_writes_pages_and_the_index(desk: Desk, capsys: Capture) -> None:
    desk.write(GOOD, "a")
    desk.write("Words.\n", "b")
    assert main(["build"]) == FINE
    assert capsys.readouterr().out.splitlines() == [
        "lessons/a.md: 1 claim, 0 false; 1 value, 0 stale; page out/a.html",
        "lessons/b.md: 0 claims, 0 false; 0 values, 0 stale; page out/b.html",
    ]
    assert sorted(path.name for path in (desk.root / "out").iterdir()) == ["a.html", "b.html", "index.html"]


def test_build_of_one_lesson_leaves_the_index(desk: Desk) -> None:
    path = desk.write(GOOD, "a")
    desk.write("Words.\n", "b")
    assert main(["build", str(path)]) == FINE
    assert [path.name for path in (desk.root / "out").iterdir()] == ["a.html"]


def test_build_marks_what_is_false_and_fails(desk: Desk, capsys: Capture) -> None:
    desk.write(BAD)
    assert main(["build", "--json"]) == MATERIAL
    told = answer(capsys)
    assert told["lessons"][0]["page"] == str(Path("out") / "l.html")
    assert [problem["code"] for problem in told["problems"]] == ["claim-false", "value-stale"]


def test_build_refuses_a_lesson_with_problems(desk: Desk, capsys: Capture) -> None:
    desk.write("[1°](claim:none/x)\n")
    assert main(["build"]) == MATERIAL
    shown = capsys.readouterr()
    assert shown.out == "lessons/l.md: 1 claim, 0 false; 0 values, 0 stale; 1 not checked; 1 problem; no page built\n"
    assert not (desk.root / "out" / "l.html").exists()


def test_new_then_check_then_build(tmp_path: Path, capsys: Capture) -> None:
    folder = tmp_path / "first course"
    assert main(["new", str(folder)]) == FINE
    assert f'gyrochalk serve "{folder}"' in capsys.readouterr().out
    assert main(["check", str(folder)]) == FINE
    assert main(["build", str(folder)]) == FINE
    assert (folder / "out" / "01-a-circle.html").is_file()
    assert main(["new", str(folder)]) == MATERIAL


def test_run_prints_measures(desk: Desk, capsys: Capture) -> None:
    assert main(["run", "drift.double"]) == FINE
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].strip() == "drift.double: Ten minutes of twice the drift"
    rows = {row[0]: row[1:] for row in map(cells, lines[4:]) if len(row) > 1}
    assert rows["reading"] == ["354.00° gyro", "600.0 s", "what the unslaved gyro reads at the end"]
    assert rows["gyro.end_error"][:2] == ["4.00°", "600.0 s"]
    assert lines[-1].startswith("Field: ")


def test_run_for_a_program(desk: Desk, capsys: Capture) -> None:
    assert main(["run", "demonstrations/drift.yaml", "--variant", "double", "--json"]) == FINE
    told = answer(capsys)
    assert (told["gyrochalk"], told["demonstration"], told["variant"]) == (__version__, "drift", "double")
    assert told["measures"]["gyro.end_error"]["value"] == pytest.approx(4.0, abs=1e-3)
    assert told["measures"]["gyro.end_error"]["unit"] == "deg"
    assert told["channels"]["gyro.heading"]["north"] == "gyro"
    assert told["not_measured"]["gyro.time_of_topple"][0]["code"] == "event-missing"


def test_run_writes_files(desk: Desk, capsys: Capture) -> None:
    assert main(["run", "drift", "--csv", "a.csv", "--npz", "a.npz", "--parquet", "a.parquet"]) == FINE
    capsys.readouterr()
    with Path("a.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.reader(file) if not row[0].startswith("#")]
    error = rows[0].index("gyro.error [deg]")
    assert float(rows[-1][error]) == pytest.approx(2.0, abs=1e-3)
    with np.load("a.npz") as arrays:
        assert float(arrays["gyro.error"][-1]) == pytest.approx(2.0, abs=1e-3)
    assert Path("a.parquet").read_bytes()[:4] == b"PAR1"


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        (["run", "nothing"], "demonstration-unknown"),
        (["run", "drift", "--variant", "x"], "variant-unknown"),
        (["run", "drift", "--csv", "demonstrations/drift.yaml/a.csv"], "cannot-write"),
        (["check", "lessons/none.md"], "file-missing"),
        (["serve", ".."], "workspace-missing"),
    ],
)
def test_material_errors(desk: Desk, capsys: Capture, arguments: list[str], code: str) -> None:
    assert main(arguments) == MATERIAL
    shown = capsys.readouterr()
    assert shown.err.rstrip().endswith(f"[{code}]")
    assert len(shown.err.splitlines()) == 1
