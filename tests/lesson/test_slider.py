"""A figure with one slider: a run for each step of a sweep, and what is refused."""

from __future__ import annotations

import pytest

from gyrochalk.lesson import Workspace, build_lesson
from tests.lesson.desk import DRIFT, Desk

SWEPT = DRIFT.replace("drift: 12 deg/h}\neffects", "drift: {sweep: {from: 12 deg/h, to: 24 deg/h, steps: 3}}}\neffects")
AT = "lessons/l.md:5:1  "


def built(desk: Desk, link: str, text: str = SWEPT) -> tuple[str, list[str]]:
    """The page of a lesson with one figure, and its problems."""
    desk.demonstration("drift", text)
    done = build_lesson(
        desk.write(f"![It drifts](<figure:drift?{link}>)\n").relative_to(desk.root), Workspace(desk.root)
    )
    page = done.path.read_text(encoding="utf-8") if done.path else ""
    return page, [str(problem) for problem in done.report.all_problems]


def test_a_picture_for_each_step(desk: Desk) -> None:
    page, problems = built(desk, "show=gyro&slider=gyros.drift")
    assert problems == []
    assert page.count('<div class="slide">') == page.count('type="radio"') == 3
    assert [page.count(f"Drift: {label}<") for label in ("12 °/h", "18 °/h", "24 °/h")] == [1, 1, 1]
    assert [said in page for said in ("2.0° out", "3.0° out", "4.0° out")] == [True, True, True]
    assert "<script" not in page


@pytest.mark.parametrize(
    ("link", "text", "said"),
    [
        (
            "slider=gyros.drif",
            SWEPT,
            "slider=gyros.drif is not swept in drift; what is swept there is gyros.drift; did you mean gyros.drift?",
        ),
        (
            "slider=gyros.drift",
            DRIFT,
            "slider=gyros.drift is not swept in drift; nothing is swept there; write sweep: {from: …, to: …, steps: …} "
            "in the demonstration",
        ),
        (
            "slider=gyros.drift",
            SWEPT.replace("steps: 3", "steps: 42"),
            "slider=gyros.drift has 42 steps; a slider moves over at most 41 runs; sweep it in 41 steps",
        ),
        (
            "slider=gyros.drift&against=drift.double",
            SWEPT,
            "slider and against are both given; one of the two; leave against out",
        ),
    ],
)
def test_what_is_refused(desk: Desk, link: str, text: str, said: str) -> None:
    _, problems = built(desk, link, text)
    assert problems == [f"{AT}{said}  [figure-value]"]


def test_too_large_is_refused(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("gyrochalk.lesson.slider.MOST_BYTES", 1000)
    _, problems = built(desk, "slider=gyros.drift")
    assert len(problems) == 1
    assert "the 3 pictures of slider=gyros.drift take 0.0 MB; less than 0.001 MB" in problems[0]
