"""The course's words on its pages, in `check` and in `run`; the author's own sentences stay as written."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from gyrochalk.cli.commands.run import run
from gyrochalk.lesson import Flights, Workspace, build_index, build_lesson, check_lesson
from tests.lesson.desk import Desk

REPLACED = re.compile(
    r"(?<![\w./-])(detector|unslaved gyro|slaved (?:compass|card)|wander\w*|rate[ -]one)(?![\w-]|\.\w)", re.I
)
COURSE = """\
gyrochalk: 1
title: Test course
language: {language}
vocabulary:
  detector: flux valve
  unslaved gyro: unslaved heading indicator
  slaved compass: gyro-magnetic compass
  wander: drift
"""
TURN = """\
gyrochalk: 1
title: A turn
field: {horizontal: 19 uT, dip: 67 deg, variation: 0}
flight: {heading: 350M, legs: [{turn: {right: 90 deg, bank: 20 deg}}, {hold: 30 s}]}
effects: textbook
sample: 1 s
"""
BODY = """
[900°](claim:turn/detector.peak_error) and [900°](claim:turn/slaved.peak_error) and [900°](claim:turn/gyro.end_error)
and [15.0°/h](claim:rule/earth-rate-wander?lat=90).

![Faces](figure:turn?kind=faces)

![Traces](figure:turn)

![Ribbon](figure:turn?kind=ribbon)
"""


@pytest.fixture
def spoken(desk: Desk, request: pytest.FixtureRequest) -> Desk:
    (desk.root / "course.yaml").write_text(COURSE.format(language=request.param), encoding="utf-8")
    desk.demonstration("turn", TURN)
    return desk


@pytest.mark.parametrize("spoken", ["en-GB"], indirect=True)
def test_a_page_holds_none_of_the_usual_terms(spoken: Desk) -> None:
    built = build_lesson(spoken.write(BODY), Workspace(spoken.root))
    assert built.report.problems == ()
    assert built.path is not None
    shown = re.sub(r"<style>.*?</style>|<script>.*?</script>", "", built.path.read_text(encoding="utf-8"), flags=re.S)
    shown = re.sub(r"data-part=\"[^\"]*\"|class=\"[^\"]*\"|\(turn/[\w.]+\)|Rule \([^)]*\)", "", shown)
    assert REPLACED.findall(shown) == []
    assert "flux valve" in shown
    assert "unslaved heading indicator" in shown
    assert "gyro-magnetic compass" in shown


@pytest.mark.parametrize("spoken", ["fr"], indirect=True)
def test_a_page_in_french(spoken: Desk) -> None:
    built = build_lesson(spoken.write(BODY), Workspace(spoken.root))
    assert built.path is not None
    page = built.path.read_text(encoding="utf-8")
    for said in ("Aller au texte", "vanne de flux", "Les nombres de la figure 1", "la plus grande erreur"):
        assert said in page
    assert 'lang="fr"' in page
    marks = re.findall(r"Vol simulé : <b>([^<]*)</b>", page)
    assert len(marks) == 3
    assert all(re.fullmatch(r"−?\d+(,\d+)?°", mark) for mark in marks)
    assert re.findall(r"<text[^>]*>[^<]*\d\.\d[^<]*</text>", page) == []


@pytest.mark.parametrize("spoken", ["fr"], indirect=True)
def test_values_are_written_and_read_with_a_comma(spoken: Desk) -> None:
    path = spoken.write("[?](value:turn/detector.peak_error?digits=2)\n")
    workspace = Workspace(spoken.root)
    (stale,) = check_lesson(path, Flights(workspace)).findings
    assert re.fullmatch(r"\d+,\d\d°", stale.computed or "")
    path = spoken.write(f"[{stale.computed}](value:turn/detector.peak_error?digits=2)\n")
    (fresh,) = check_lesson(path, Flights(workspace)).findings
    assert fresh.state == "fresh"


@pytest.mark.parametrize("spoken", ["fr"], indirect=True)
def test_the_index_of_a_course_in_french(spoken: Desk) -> None:
    workspace = Workspace(spoken.root)
    built = build_lesson(spoken.write("No numbers.\n"), workspace)
    build_index(workspace, (built.entry,))
    page = (workspace.out / "index.html").read_text(encoding="utf-8")
    assert "Leçons" in page
    assert "n'énonce aucun nombre" in page


@pytest.mark.parametrize("spoken", ["en"], indirect=True)
def test_run_describes_measures_in_the_courses_words(spoken: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    run(Path("turn"), None, as_json=False, csv=None, npz=None, parquet=None)
    shown = capsys.readouterr().out
    described = [line for line in shown.splitlines() if "detector.peak_error " in line]
    assert ["flux valve" in line for line in described] == [True]
    assert REPLACED.findall(shown) == []


def test_what_an_author_wrote_stays(desk: Desk) -> None:
    (desk.root / "course.yaml").write_text(COURSE.format(language="en"), encoding="utf-8")
    report = check_lesson(desk.write("[352°](claim:drift/reading)\n"), Flights(Workspace(desk.root)))
    assert report.findings[0].source.startswith("what the unslaved gyro reads at the end")
