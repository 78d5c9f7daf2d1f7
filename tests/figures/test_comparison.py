"""Two runs over one another: what they are apart is the run's own difference."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.figures import FigureOptions, compare, draw
from gyrochalk.systems.run import Run
from tests.figures.loop_runs import circle, loop_run, random_loop_run, steady
from tests.figures.read_back import axis, only, parse, parts, points, words, written

COMPARED = FigureOptions(kind="compare")


def flown(slaved_deg: float, end_s: float = 100.0, step_s: float = 0.5) -> Run:
    """Straight and level with a slaved compass that is out by a steady angle."""
    t = np.arange(0.0, end_s + step_s / 2, step_s)
    none = np.zeros_like(t)
    return loop_run(t, none + 90.0, none, none + slaved_deg)


def test_title_says_how_far_they_part() -> None:
    figure = compare({"early": flown(3.0), "late": flown(-1.5)}, COMPARED)
    assert figure.title == ("The slaved compass is up to 3.0° out in early, 1.5° in late; they are 4.5° apart at 0 s")


def test_agreement_is_said() -> None:
    figure = compare({"one": flown(3.0), "other": flown(3.0)}, COMPARED)
    assert figure.title == "The slaved compass is the same in one and other"


def test_angles_part_the_short_way() -> None:
    figure = compare({"one": flown(179.0), "other": flown(-179.0)}, COMPARED)
    assert figure.title.endswith("they are 2.0° apart at 0 s")
    assert not parts(parse(figure.svg), "apart slaved.error")


@pytest.mark.parametrize("seed", range(50))
def test_bar_between_the_lines_is_as_long_as_the_difference_written(seed: int) -> None:
    one = random_loop_run(seed)
    other = dataclasses.replace(one, columns={**one.columns, "slaved.error": one["gyro.error"]})
    root = parse(compare({"one": one, "other": other}, COMPARED).svg)
    bars = parts(root, "apart slaved.error")
    apart = (one["slaved.error"].values - other["slaved.error"].values + 180.0) % 360.0 - 180.0
    if not bars:
        direct = one["slaved.error"].values - other["slaved.error"].values
        widest = int(np.abs(apart).argmax())
        assert abs(direct[widest]) > 180.0 or np.abs(apart).max() < 0.5
        return
    _, slope = axis(root, "y-mark", "y")
    (_, y0), (_, y1) = points(bars[0])
    long = abs((y1 - y0) * slope)
    assert long == pytest.approx(np.abs(apart).max(), abs=0.02 + 0.002 * long)
    label = parts(root, "apart-label slaved.error")
    if label:
        text = words(label[0])
        assert written(text) == pytest.approx(np.abs(apart).max(), abs=0.051 if "." in text else 0.51)


def test_second_run_is_ringed_and_thin() -> None:
    root = parse(compare({"one": circle(), "other": steady()}, COMPARED).svg)
    assert only(root, "trace slaved.error first").get("class") == "trace-S"
    assert only(root, "trace slaved.error second").get("class") == "other-S"
    assert len(parts(root, "ring")) >= 4


def test_rings_stand_on_the_second_line() -> None:
    other = flown(-1.5)
    root = parse(compare({"one": flown(3.0), "other": other}, COMPARED).svg)
    offset, slope = axis(root, "y-mark", "y")
    for ring in parts(root, "ring"):
        assert offset + slope * (float(ring.get("cy") or "nan") + 12.0 * 0.35) == pytest.approx(-1.5, abs=0.02)


def test_runs_sampled_otherwise_are_met_in_between() -> None:
    one, other = flown(3.0, step_s=0.5), flown(-1.5, step_s=0.7)
    table = compare({"one": one, "other": other}, COMPARED).table
    assert {row[1:] for row in table.rows} == {("3.0°", "−1.5°", "4.5°")}


def test_the_shorter_run_ends_the_picture() -> None:
    figure = compare({"long": flown(1.0, 200.0), "short": flown(2.0, 100.0)}, COMPARED)
    assert figure.caption == (
        "Error of the slaved compass in long (own line) and in short (thin line with rings), from 0 s to 100 s. "
        "The shorter run ends it. Events are those of long."
    )


def test_one_run_is_no_comparison() -> None:
    with pytest.raises(MaterialError) as refused:
        draw(circle(), COMPARED)
    assert str(refused.value) == (
        "a comparison is drawn of two runs; one run was given; name the other with against, for example "
        "against=orbit.textbook  [figure-value]"
    )


def test_naming_another_run_asks_for_a_comparison() -> None:
    assert FigureOptions.parse({"against": "orbit.textbook"}).kind == "compare"
