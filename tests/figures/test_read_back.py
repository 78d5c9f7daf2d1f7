"""What a picture shows is what the run says: its parts are measured and compared with the numbers."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from gyrochalk.figures import FigureOptions, draw
from gyrochalk.figures.faces import CARD_PX
from gyrochalk.figures.readings import FLYING, reading, value_at
from gyrochalk.units import wrap_180
from tests.figures.random_runs import random_run
from tests.figures.read_back import axis, only, parse, parts, points, strokes, turned, words, written
from tests.figures.sample_runs import orbit

SEEDS = range(50)
HALF_A_DIGIT = 0.05


def some_time(seed: int) -> float:
    """An instant of a random run that is no sample."""
    return float(random_run(seed).time_s[-1] * np.random.default_rng(seed + 1000).uniform())


@pytest.mark.parametrize("seed", SEEDS)
def test_rose_is_turned_by_the_heading_shown(seed: int) -> None:
    run, time_s = random_run(seed), some_time(seed)
    root = parse(draw(run, FigureOptions(kind="faces", at=(time_s,))).svg)
    for instrument, letter in (("gyro", "G"), ("slaved", "S")):
        read = reading(run, instrument, time_s)
        rose = turned(only(root, f"rose-{letter}"))
        assert abs(wrap_180(-rose - read.heading_deg)) < HALF_A_DIGIT
        assert abs(wrap_180(-rose - written(words(only(root, f"value-{letter}"))))) <= 0.5 + HALF_A_DIGIT


@pytest.mark.parametrize("seed", SEEDS)
def test_actual_heading_stands_on_the_rose_where_it_is(seed: int) -> None:
    run, time_s = random_run(seed), some_time(seed)
    root = parse(draw(run, FigureOptions(kind="faces", at=(time_s,))).svg)
    actual = value_at(run, "actual.heading", time_s)
    for letter in ("G", "S"):
        (x0, y0), (x1, y1) = points(only(root, f"actual-needle-{letter}"))
        clockwise = np.degrees(np.arctan2(x1 - x0, y0 - y1))
        on_the_rose = clockwise - turned(only(root, f"rose-{letter}"))
        assert abs(wrap_180(float(on_the_rose) - actual)) < 0.05


@pytest.mark.parametrize("seed", SEEDS)
def test_floating_card_shows_its_reading_at_the_line(seed: int) -> None:
    run, time_s = random_run(seed), some_time(seed)
    root = parse(draw(run, FigureOptions(kind="faces", at=(time_s,))).svg)
    (line, _), _ = points(only(root, "fixed-line"))
    heading = reading(run, "card", time_s).heading_deg
    tens = {"N": 0, "E": 90, "S": 180, "W": 270}
    scale = min(720 / 3 / 240 * 1.08, 1.1)
    for name in parts(root, "card-name"):
        mark = tens.get(words(name))
        mark = int(words(name)) * 10 if mark is None else mark
        to_the_left = line - float(name.get("x") or "nan")
        ahead = np.degrees(np.arcsin(to_the_left / (CARD_PX * scale)))
        assert abs(wrap_180(mark - float(ahead) - heading)) < HALF_A_DIGIT


@pytest.mark.parametrize("seed", SEEDS)
def test_ribbon_marks_stand_off_by_their_errors(seed: int) -> None:
    run, time_s = random_run(seed), some_time(seed)
    root = parse(draw(run, FigureOptions(kind="ribbon", at=(time_s,), show=FLYING)).svg)
    offset, slope = axis(root, "scale-mark", "x")
    full = abs(written(words(only(root, "scale")).split("±")[1]))
    errors = {name: reading(run, name, time_s).error_deg for name in FLYING}
    assert full == (5 if max(abs(e) for e in errors.values()) <= 5 else 45)
    for name, letter in (("card", "C"), ("gyro", "G"), ("slaved", "S"), ("detector", "D")):
        shown = offset + slope * float(only(root, f"badge-{letter}").get("cx") or "nan")
        held = max(-full, min(full, errors[name]))
        assert abs(shown - held) < HALF_A_DIGIT
        assert abs(written(words(only(root, f"error-{letter}"))) - errors[name]) <= HALF_A_DIGIT + 1e-9


@pytest.mark.parametrize("seed", SEEDS)
def test_trace_points_are_samples_of_the_run(seed: int) -> None:
    run = random_run(seed)
    for name in FLYING:
        root = parse(draw(run, FigureOptions(show=(name,))).svg)
        x_offset, x_slope = axis(root, "x-mark", "x")
        y_offset, y_slope = axis(root, "y-mark", "y")
        # Labels of the y axis stand a constant way under their line: measure it at the grid lines.
        grid = [points(node)[0][1] for node in parts(root, "grid")]
        labels = [float(node.get("y") or "nan") for node in parts(root, "y-mark")]
        drop = labels[0] - grid[0]
        seconds = {"s": 1.0, "min": 60.0, "h": 3600.0}[words(only(root, "x-name")).split()[0]]
        column = run[f"{name}.error"].values
        pixel_s = abs(x_slope) * seconds
        for x, y in points(only(root, f"trace {name}.error")):
            time_s = (x_offset + x_slope * x) * seconds
            value = y_offset + y_slope * (y + drop)
            near = np.abs(run.time_s - time_s) <= max(0.03 * pixel_s, 1e-6) + 0.02
            assert near.any()
            assert np.abs(column[near] - value).min() < max(HALF_A_DIGIT, 0.03 * abs(y_slope))


def test_every_extreme_of_a_trace_is_drawn() -> None:
    run = orbit()
    root = parse(draw(run, FigureOptions(show=("card",))).svg)
    offset, slope = axis(root, "y-mark", "y")
    drop = float(parts(root, "y-mark")[0].get("y") or "nan") - points(parts(root, "grid")[0])[0][1]
    drawn = [offset + slope * (y + drop) for _, y in points(only(root, "trace card.error"))]
    assert max(drawn) == pytest.approx(run["card.error"].values.max(), abs=HALF_A_DIGIT)
    assert min(drawn) == pytest.approx(run["card.error"].values.min(), abs=HALF_A_DIGIT)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_heading_passing_north_is_no_vertical_line(seed: int) -> None:
    root = parse(draw(random_run(seed), FigureOptions(form="headings")).svg)
    for name in ("actual", *FLYING):
        for stroke in strokes(only(root, f"trace {name}.heading")):
            for (x0, y0), (x1, y1) in itertools.pairwise(stroke):
                assert not (abs(y1 - y0) > 110 and abs(x1 - x0) < 4), name
