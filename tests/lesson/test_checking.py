"""What check says: every number, its place, what the run says, and every problem at once."""

from __future__ import annotations

import pytest

from gyrochalk.lesson import Report, check_lesson
from tests.lesson.desk import Desk


def checked(desk: Desk, body: str, front: str = "") -> Report:
    return check_lesson(desk.write(body, front=front))


def told(report: Report) -> list[str]:
    return [str(problem) for problem in report.all_problems]


def test_a_lesson_that_holds(desk: Desk) -> None:
    report = checked(
        desk,
        "It drifts [2.0°](claim:drift/gyro.end_error), twice that is [4°](claim:drift.double/gyro.end_error).\n"
        "Reads [352° gyro](claim:drift/reading), [2.00°](value:drift/gyro.end_error).\n",
        "demonstrations: [drift, drift.double]\nobjectives: [T1]\n",
    )
    assert told(report) == []
    assert report.holds
    assert [(f.place.line, f.place.column, f.state, f.computed) for f in report.findings] == [
        (7, 11, "holds", "2.00°"),
        (7, 61, "holds", "4.0°"),
        (8, 7, "holds", "352.0° gyro"),
        (8, 41, "fresh", "2.00°"),
    ]
    first = report.findings[0]
    assert (first.tolerance, first.unit, first.source) == (
        0.05,
        "deg",
        "the error of the unslaved gyro at the end, at 600 s",
    )
    assert first.margin == pytest.approx(0.05, abs=1e-4)


def test_a_false_claim_and_a_stale_value(desk: Desk) -> None:
    report = checked(
        desk, "> - said [3.0°](claim:drift/gyro.end_error) and [3°](value:drift/gyro.end_error?digits=0)\n"
    )
    assert told(report) == [
        'lessons/l.md:5:10  "3.0°" is stated, the run says 2.00°; 0.05° of difference is allowed, this is 0.95° more; '
        "state that, or change the demonstration if the flight is not the one meant  [claim-false]",
        'lessons/l.md:5:49  the value reads "3°", the run says 2°; the text of a value is what the run says; '
        "run gyrochalk refresh  [value-stale]",
    ]
    assert not report.holds


def test_everything_is_in_the_unit_stated(desk: Desk) -> None:
    (finding,) = checked(desk, "[10 min](claim:drift/actual.duration)\n").findings
    assert (finding.number, finding.unit, finding.tolerance, finding.margin) == (10.0, "min", 0.5, 0.5)


def test_a_bound(desk: Desk) -> None:
    body = "[less than 3°](claim:drift/gyro.end_error) [1°](claim:drift/gyro.end_error?is=below)\n"
    report = checked(desk, body)
    assert [finding.state for finding in report.findings] == ["holds", "false"]
    assert told(report) == [
        'lessons/l.md:5:44  "1°" is stated, the run says 2.0°; 1.0° beyond the bound; state that, or change the '
        "demonstration if the flight is not the one meant  [claim-false]"
    ]


@pytest.mark.parametrize(
    ("link", "message"),
    [
        (
            "[2°](claim:drift)",
            "'drift' is not an address; demonstration/measure, then ? and options if any; "
            "write it like [30 min](claim:cold-start/slaved.time_to_align)  [address-unreadable]",
        ),
        (
            "[2°](claim:drfit/gyro.end_error)",
            'there is no demonstration "drfit"; the demonstrations are drift; did you mean "drift"?  '
            "[demonstration-unknown]",
        ),
        (
            "[2°](claim:drift.dubble/gyro.end_error)",
            'the demonstration "drift" has no variant "dubble"; its variants are double; did you mean '
            '"drift.double"?  [variant-unknown]',
        ),
        (
            "[2°](claim:drift/gyro.end_eror)",
            '"gyro.end_eror" is no measure of drift; its own measures are reading; ready-made ones are listed by '
            'gyrochalk run; did you mean "gyro.end_error"?  [measure-unknown]',
        ),
        (
            "[2°](claim:drift/gyro.error)",
            '"gyro.error" is a channel: it has a value at every moment; a moment (at), or a way to reduce it '
            "(reducer); "
            "write gyro.error?at=60s or gyro.error?reducer=peak  [measure-unknown]",
        ),
        (
            "[2°](claim:drift/gyro.end_error?wihtin=2%)",
            'the option "wihtin" means nothing for gyro.end_error; options are from, to, span, last, at, bound, unit; '
            "leave it out  [option-unknown]",
        ),
        (
            "[2°](claim:drift/gyro.end_error?at=3s)",
            'the option "at" means nothing for gyro.end_error: it is not measured at one moment; options are from, to, '
            "span, last, at, bound, unit; leave it out  [option-unknown]",
        ),
        (
            "[](claim:drift/gyro.end_error)",
            "the claim states nothing; a number with its unit in the brackets; write [30 min]"
            "(claim:cold-start/slaved.time_to_align)  [claim-unstated]",
        ),
        (
            "<claim:drift/gyro.end_error>",
            "the claim states nothing; a number with its unit in the brackets; write [30 min]"
            "(claim:cold-start/slaved.time_to_align)  [claim-unstated]",
        ),
        (
            "<value:drift/gyro.end_error>",
            "the value has no text that could be kept up to date; a text in brackets; write [40°]"
            "(value:orbit/detector.peak_error?digits=0)  [claim-unstated]",
        ),
        (
            "[2°](value:drift/gyro.end_error?digits=x)",
            "digits=x is not a number of decimals; 0 to 6; write for example digits=1  [number-unreadable]",
        ),
        (
            "[2°](value:drift/gyro.end_error?unit=kt)",
            "gyro.end_error cannot be stated in kt; a unit of the same kind as deg; write unit=deg  [unit-wrong]",
        ),
    ],
)
def test_refusals(desk: Desk, link: str, message: str) -> None:
    report = checked(desk, f"é {link}\n")
    assert told(report) == [f"lessons/l.md:5:3  {message}"]
    assert report.findings[0].state == "unchecked"
    assert not report.holds


@pytest.mark.parametrize(
    ("body", "message"),
    [
        (
            "text\n\n```practice\nfamily: x\n```\n",
            "lessons/l.md:7:1  practice blocks need problem families; this version has none yet; take the block "
            "out, or "
            "keep it in a private block until then  [not-in-this-version]",
        ),
        (
            "```equation\nx = 1\n```\n",
            "lessons/l.md:5:1  the equation has no alt text; words after ```equation, the equation below them; "
            "write for "
            "example ```equation The rate is g tan bank over speed  [block-unreadable]",
        ),
        (
            "```equation Nothing\n```\n",
            "lessons/l.md:5:1  the equation is empty; words after ```equation, the equation below them; write for "
            "example ```equation The rate is g tan bank over speed  [block-unreadable]",
        ),
        (
            "- ![p](images/none.png)\n",
            "lessons/l.md:5:3  there is no picture images/none.png; a file in images/; check the name and the folder  "
            "[file-missing]",
        ),
    ],
)
def test_other_refusals(desk: Desk, body: str, message: str) -> None:
    assert told(checked(desk, body)) == [message]


def test_front_matter_names_what_there_is(desk: Desk) -> None:
    report = checked(desk, "", "demonstrations: [drift, xyz]\nobjectives: [T2]\n")
    assert told(report) == [
        'lessons/l.md:4:25  there is no demonstration "xyz"; the demonstrations are drift; add '
        "demonstrations/NAME.yaml  [demonstration-unknown]",
        'lessons/l.md:5:14  there is no objective "T2"; objectives are T1; add it to objectives in course.yaml  '
        "[choice-unknown]",
    ]


def test_a_broken_demonstration_is_told_once_where_it_is_broken(desk: Desk) -> None:
    desk.demonstration("bad", "gyrochalk: 1\nspede: 100 kt\n")
    report = checked(desk, "[1°](claim:bad/gyro.end_error) [2°](value:bad/gyro.end_error)\n", "demonstrations: [bad]\n")
    (message,) = told(report)
    assert message.startswith("demonstrations/bad.yaml:2:1  ")
    assert [finding.state for finding in report.findings] == ["unchecked", "unchecked"]


def test_private_blocks_are_checked(desk: Desk) -> None:
    report = checked(desk, "- x\n\n  ```private\n  [9°](claim:drift/gyro.end_error)\n  ```\n")
    assert [(f.private, f.state, f.place.line, f.place.column) for f in report.findings] == [(True, "false", 8, 3)]


def test_a_lesson_that_cannot_be_read_is_a_report(desk: Desk) -> None:
    report = check_lesson(desk.root / "lessons" / "none.md")
    assert told(report) == [
        "lessons/none.md  there is no such file; a Markdown file that exists; check the name and the folder  "
        "[file-missing]"
    ]


def test_no_workspace(desk: Desk) -> None:
    path = desk.write("")
    (desk.root / "course.yaml").unlink()
    assert told(check_lesson(path)) == [
        "lessons/l.md  no course.yaml lies in this folder or any above it; a lesson lives in a workspace, a "
        "folder with "
        "a course.yaml; make one with: gyrochalk new FOLDER  [workspace-missing]"
    ]


def test_for_a_program(desk: Desk) -> None:
    report = checked(desk, "[2°](claim:drift/gyro.end_error?within=10%)\n").for_program()
    assert report["holds"] is True
    numbers = report["numbers"]
    assert isinstance(numbers, list)
    (number,) = numbers
    assert number["state"] == "holds"
    assert number["options"] == {"within": "10%"}
    assert (number["file"], number["line"], number["column"]) == ("lessons/l.md", 5, 1)
