"""A question is decided by the run, and refused if the run does not decide it."""

from __future__ import annotations

import pytest

from gyrochalk.lesson import Flights, Workspace, check_lesson, parse
from gyrochalk.lesson.examination import examine
from tests.lesson.desk import Desk

GOOD = """\
> ```ask
> question: How far out after ten minutes, with $x$?
> decided by: drift/gyro.end_error
> options:
>   - text: Less than 1°
>     below: 1 deg
>   - {text: Between 1° and 3°, between: 1 deg to 3 deg}
>   - text: More than 3°
>     above: 3 deg
> ```
"""


def test_the_run_decides(desk: Desk) -> None:
    lesson = parse(desk.write(GOOD))
    found = examine(lesson, Flights(Workspace(desk.root)))
    (question,) = found.questions.values()
    assert found.problems == []
    assert (question.right, question.answer) == (1, "2.0°")
    assert question.source == "Ten minutes of drift: the error of the unslaved gyro at the end, at 600 s."


def test_the_answer_is_in_the_unit_of_the_options(desk: Desk) -> None:
    body = (
        "```ask\nquestion: How long?\ndecided by: drift/actual.duration\noptions:\n"
        "  - {text: a, below: 5 min}\n  - {text: b, above: 5 min}\n```\n"
    )
    found = examine(parse(desk.write(body)), Flights(Workspace(desk.root)))
    (question,) = found.questions.values()
    assert question.answer == "10.0 min"


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            "3 deg\n> ```",
            "1.5 deg\n> ```",
            "5:3  the run says 2.0°, and 2 of the 3 options hold; exactly one holds; mend the bounds or the "
            "demonstration  [block-unreadable]",
        ),
        (
            "gyro.end_error",
            "gyro.end_eror",
            '7:15  "gyro.end_eror" is no measure of drift; its own measures are reading; ready-made ones are listed by '
            'gyrochalk run; did you mean "gyro.end_error"?  [measure-unknown]',
        ),
        (
            "decided by",
            "decided",
            '7:3  the key "decided" is unknown; known keys are question, decided by, options; '
            'did you mean "decided by"?  [key-unknown]',
        ),
        (
            "below: 1 deg",
            "below: 1",
            "10:14  1 has no unit; allowed are deg, rad; write for example 1 deg  [unit-missing]",
        ),
        (
            "below: 1 deg",
            "blow: 1 deg",
            '9:7  the option "Less than 1°" has 0 bounds; one of below, above, between; write for example '
            "below: 5 deg  "
            "[block-unreadable]",
        ),
        (
            "1 deg to 3 deg",
            "1 deg and 3 deg",
            "11:42  '1 deg and 3 deg' is not a range; two quantities; write between: 2 deg to 5 deg  "
            "[block-unreadable]",
        ),
        (
            "gyro.end_error",
            "reading",
            "10:14  the measure is a heading; an amount, such as an error or a time; choose another  "
            "[block-unreadable]",
        ),
    ],
)
def test_refusals(desk: Desk, old: str, new: str, message: str) -> None:
    assert old in GOOD
    report = check_lesson(desk.write(GOOD.replace(old, new)))
    assert f"lessons/l.md:{message}" in [str(problem) for problem in report.all_problems]


def test_an_empty_block(desk: Desk) -> None:
    report = check_lesson(desk.write("```ask\n```\n"))
    assert [str(problem) for problem in report.all_problems] == [
        "lessons/l.md:5:1  the block is empty; question, decided by, options; fill it  [block-unreadable]"
    ]


def test_too_few_options(desk: Desk) -> None:
    report = check_lesson(desk.write("```ask\nquestion: x\ndecided by: drift/gyro.end_error\noptions: []\n```\n"))
    assert [str(problem) for problem in report.all_problems] == [
        "lessons/l.md:6:1  the question has fewer than two options; two or more; add options  [block-unreadable]"
    ]
