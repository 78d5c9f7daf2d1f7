"""What an author mis-typed is told at its place, not left on the page as if it were meant."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from gyrochalk.cli.commands.check import summary
from gyrochalk.lesson import build_lesson, check_lesson, find_workspace, flights
from gyrochalk.lesson.examination import MOST_NUMBERS
from gyrochalk.quantities import Measure, Value, evaluate
from gyrochalk.systems.run import Run
from tests.lesson.desk import Desk


def told(desk: Desk, body: str) -> list[str]:
    return [str(problem) for problem in check_lesson(desk.write(body)).all_problems]


def unread(place: str, scheme: str = "claim") -> str:
    return (
        f"lessons/l.md:{place}  this {scheme}: link cannot be read as a link, so nothing checks it; no space outside "
        f"<…>, and none between ] and (; put the address in angle brackets: [text](<{scheme}:…>)  [address-unreadable]"
    )


@pytest.mark.parametrize(
    ("body", "messages"),
    [
        ("A [999°](claim:drift/gyro.error?at=5 s) b\n", [unread("5:3")]),
        ("é *x* ![p](figure:drift?from=0 s) b\n", [unread("5:7", "figure")]),
        ("- one\n- [2°](value:drift/gyro.error?at=5 s)\n", [unread("6:3", "value")]),
        ("| a | b |\n|---|---|\n| é | [2°](clip:drift?to=5 s) |\n", [unread("7:7", "clip")]),
        ("# [2°](claim:drift/gyro.error?at=5 s)\n", [unread("5:3")]),
        ("One\ntwo [2°] (claim:drift/gyro.end_error) and\n[3°](Claim:drift/x y)\n", [unread("6:5"), unread("7:1")]),
        ("[2°](<claim:drift/gyro.end_error b\n", [unread("5:1")]),
        ("```private\n[2°](claim:drift/gyro.error?at=5 s)\n```\n", [unread("6:1")]),
        ("`[2°](claim:drift/x y)` \\[2°\\](claim:drift/x y)\n\n    [2°](claim:drift/x y)\n", []),
        ("```text\n[2°](claim:drift/x y)\n```\n", []),
        ("[2.0°](claim:drift/gyro.end_error) [2.0°](<claim:drift/gyro.error?at=600 s>)\n", []),
    ],
)
def test_a_link_of_ours_left_in_the_text(desk: Desk, body: str, messages: list[str]) -> None:
    assert told(desk, body) == messages


def tex(place: str, what: str, cure: str) -> str:
    allowed = "an equation in TeX whose braces pair and whose commands are known"
    return f"lessons/l.md:{place}  {what}; {allowed}; {cure}  [block-unreadable]"


@pytest.mark.parametrize(
    ("body", "messages"),
    [
        (
            "é $\\frac{1$ b\n",
            [tex("5:3", "the equation \\frac{1 has a { that is never closed", "close it with }")],
        ),
        ("- $x^{2$\n", [tex("5:3", "the equation x^{2 has a { that is never closed", "close it with }")]),
        (
            "$x}$\n",
            [tex("5:1", "the equation x} has a } with no { before it", "take it out, or write \\}")],
        ),
        ("$\\unknown$\n", [tex("5:1", "the equation's command \\unknown is not known", "check its spelling")]),
        (
            "```equation Foo of x\n\\foo{x}\n```\n",
            [tex("5:1", "the equation's command \\foo is not known", "check its spelling")],
        ),
        ("a\n\n$$\n\\foo\n$$\n", [tex("7:1", "the equation's command \\foo is not known", "check its spelling")]),
        (
            "$\\begin{foo}1\\end{foo}$\n",
            [tex("5:1", "the equation's command \\begin{foo} is not known", "check its spelling")],
        ),
        (
            "$x_$\n",
            [
                tex(
                    "5:1",
                    "the equation x_ cannot be read (missing super script or subscript)",
                    "complete its commands",
                )
            ],
        ),
        ("$\\dot\\psi_s = r_{slow} \\cdot \\mathrm{sgn}(\\psi) \\{x\\} \\text{a\\b}$ \\$5 and `$\\foo$`\n", []),
    ],
)
def test_an_equation_that_would_not_show(desk: Desk, body: str, messages: list[str]) -> None:
    assert told(desk, body) == messages


def test_a_link_to_another_lesson_leads_to_its_page(desk: Desk) -> None:
    desk.write("", name="02-other")
    path = desk.write("[u](02-other.md) [v](02-other.md#part) [w](../lessons/02-other.md) [x](https://e.org/a.md)\n")
    built = build_lesson(path, find_workspace(path))
    assert built.report.problems == ()
    assert built.path is not None
    html = built.path.read_text(encoding="utf-8")
    for link in ("02-other.html", "02-other.html#part", "https://e.org/a.md"):
        assert f'<a href="{link}">' in html
    assert ".md" not in html.replace("https://e.org/a.md", "")


def test_a_link_to_no_lesson(desk: Desk) -> None:
    desk.write("", name="02-other")
    assert told(desk, "é [u](02-othr.md#part)\n") == [
        "lessons/l.md:5:3  there is no lesson 02-othr.md; a link to a Markdown file leads to a lesson in lessons/; "
        'did you mean "02-other.md"?  [file-missing]'
    ]


def test_more_numbers_than_a_lesson_can_hold(desk: Desk) -> None:
    report = check_lesson(desk.write("[2°](claim:drift/gyro.end_error)\n\n" * (MOST_NUMBERS + 1)))
    assert [str(problem) for problem in report.all_problems] == [
        "lessons/l.md:4005:1  the lesson has 2001 claims, values, figures and clips; at most 2000 are looked at; "
        "cut it into lessons, from this one on  [file-too-large]"
    ]
    assert len(report.findings) == MOST_NUMBERS


def linked(link: Path, target: Path) -> None:
    try:
        link.symlink_to(target)
    except OSError:
        pytest.skip("links cannot be made here")


OUTSIDE = (
    "lies outside the workspace; everything a course reads lies in the folder of its course.yaml, links followed; "
    "copy the file into the workspace  [file-outside]"
)


@pytest.fixture
def away(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder outside the workspace."""
    return tmp_path_factory.mktemp("away")


def test_a_lesson_linked_from_outside(desk: Desk, away: Path) -> None:
    outside = away / "x.md"
    outside.write_text("---\ngyrochalk: 1\ntitle: X\n---\n", encoding="utf-8")
    linked(desk.root / "lessons" / "x.md", outside)
    path = desk.root / "lessons" / "x.md"
    message = f"lessons/x.md  x.md {OUTSIDE}"
    assert [str(problem) for problem in check_lesson(path).all_problems] == [message]
    assert [str(problem) for problem in build_lesson(path, find_workspace(path)).report.problems] == [message]


def test_a_demonstration_linked_from_outside(desk: Desk, away: Path) -> None:
    outside = away / "x.yaml"
    outside.write_text((desk.root / "demonstrations" / "drift.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    linked(desk.root / "demonstrations" / "x.yaml", outside)
    assert told(desk, "[2°](claim:x/gyro.end_error)\n") == [f"demonstrations/x.yaml  x.yaml {OUTSIDE}"]


def test_a_course_file_linked_from_outside(desk: Desk, away: Path) -> None:
    outside = away / "course.yaml"
    outside.write_text("gyrochalk: 1\ntitle: X\n", encoding="utf-8")
    (desk.root / "course.yaml").unlink()
    linked(desk.root / "course.yaml", outside)
    assert told(desk, "") == [f"course.yaml  course.yaml {OUTSIDE}"]


RECORDED = """\
gyrochalk: 1
title: Recorded
field: {horizontal: 19 uT, dip: 67 deg, variation: 0}
flight:
  recorded: FILE
gyros: {drift: 12 deg/h}
"""


def test_a_recording_outside(desk: Desk, away: Path) -> None:
    desk.demonstration("r", RECORDED.replace("FILE", "flights/../../a.csv"))
    assert told(desk, "[2°](claim:r/gyro.end_error)\n") == [
        'demonstrations/r.yaml:5:13  recorded: "flights/../../a.csv" leads out of its folder; '
        "a file below the workspace's folder; put the file into the folder flights  [file-outside]"
    ]
    (away / "a.csv").write_text("time [s]\n", encoding="utf-8")
    (desk.root / "flights").mkdir()
    linked(desk.root / "flights" / "a.csv", away / "a.csv")
    desk.demonstration("r", RECORDED.replace("FILE", "flights/a.csv"))
    assert told(desk, "[2°](claim:r/gyro.end_error)\n") == [f"flights/a.csv  a.csv {OUTSIDE}"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_does_not_hang(desk: Desk) -> None:
    os.mkfifo(desk.root / "lessons" / "p.md")
    assert [str(problem) for problem in check_lesson(desk.root / "lessons" / "p.md").all_problems] == [
        "lessons/p.md  this is a device or a pipe, not a lesson; a Markdown file; save the text in a file  "
        "[file-missing]"
    ]
    (desk.root / "flights").mkdir()
    os.mkfifo(desk.root / "flights" / "a.csv")
    desk.demonstration("r", RECORDED.replace("FILE", "flights/a.csv"))
    assert told(desk, "[2°](claim:r/gyro.end_error)\n") == [
        "flights/a.csv  this is a device or a pipe, not a file; an ordinary file; save the text in a file  "
        "[file-missing]"
    ]


def test_files_are_named_from_the_folder_one_is_in(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    desk.demonstration("r", RECORDED.replace("FILE", "flights/none.csv"))
    desk.write("[2°](claim:r/gyro.end_error) [3°](claim:drfit/gyro.end_error)\n")
    monkeypatch.chdir("lessons")
    assert [str(problem).partition("; ")[0] for problem in check_lesson(Path("l.md")).all_problems] == [
        "../flights/none.csv  there is no such file",
        'l.md:5:30  there is no demonstration "drfit"',
    ]


def test_links_that_cannot_be_read_are_counted_as_not_checked(desk: Desk) -> None:
    report = check_lesson(desk.write("[2.0°](claim:drift/gyro.end_error) [2°](claim:drift/gyro.error?at=5 s)\n"))
    assert report.unread == 1
    assert summary(report) == "lessons/l.md: 1 claim, 0 false; 0 values, 0 stale; 1 not checked; 1 problem"


def test_the_same_claim_is_worked_out_once(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Measure] = []

    def counted(run: Run, measure: Measure) -> Value:
        asked.append(measure)
        return evaluate(run, measure)

    monkeypatch.setattr(flights, "evaluate", counted)
    report = check_lesson(
        desk.write("[2.0°](claim:drift/gyro.end_error) [2°](claim:drift/gyro.end_error?within=10%)\n" * 5)
    )
    assert report.count("claim", "holds") == 10
    assert [measure.name for measure in asked] == ["gyro.end_error"]
