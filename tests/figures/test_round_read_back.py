"""Error against heading and round the compass: the curves pass through the run's own numbers."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.figures import FigureOptions, draw
from gyrochalk.figures.polar import ZERO_PART, full_scale
from gyrochalk.figures.round_the_compass import round_run
from gyrochalk.figures.words import WORDS
from tests.figures.loop_runs import Floats, circle, random_loop_run
from tests.figures.read_back import axis, only, parse, parts, points, strokes

UNDER_THE_LINE_PX = 12.0 * 0.35
"""How far the baseline of an axis label lies under its line."""


def from_the_curve(pieces: list[Floats], places: Floats) -> Floats:
    """Distance of each place (n, 2) from the nearest straight part of the curve."""
    found = np.full(len(places), np.inf)
    for piece in pieces:
        for start, end in itertools.pairwise(piece):
            along = end - start
            part = np.clip((places - start) @ along / max(float(along @ along), 1e-12), 0.0, 1.0)
            found = np.minimum(found, np.linalg.norm(places - start - part[:, None] * along, axis=1))
    return found


def ends_of_axis(unwrapped_deg: Floats) -> tuple[float, float]:
    """The headings an axis should begin and end at: the whole circle, or round numbers about what was flown."""
    if np.ptp(unwrapped_deg) > 300.0:
        return 0.0, 360.0
    step = 30.0 if np.ptp(unwrapped_deg) > 60.0 else 10.0
    low, high = unwrapped_deg.min() / step, unwrapped_deg.max() / step
    return float(np.floor(low + 1e-6) * step), float(np.ceil(high - 1e-6) * step)


@pytest.mark.parametrize("seed", range(50))
def test_curve_against_heading_stands_where_the_run_does(seed: int) -> None:
    run = random_loop_run(seed)
    options = FigureOptions(kind="against-heading", show=("slaved",))
    found = round_run(run, options, WORDS)
    root = parse(draw(run, options).svg)
    offset, slope = axis(root, "y-mark", "y")
    (left, _), (right, _) = points(parts(root, "grid")[0])
    low, high = ends_of_axis(found.unwrapped_deg)
    headings = found.heading_deg if high - low == 360.0 else found.unwrapped_deg
    x = left + (headings - low) / (high - low) * (right - left)
    y = (found.traces[0].values - offset) / slope - UNDER_THE_LINE_PX
    expected = np.stack([x, y], axis=1)
    pieces = [np.array(stroke) for stroke in strokes(only(root, "curve slaved.error"))]
    assert all(np.linalg.norm(expected - corner, axis=1).min() < 0.05 for piece in pieces for corner in piece)
    assert from_the_curve(pieces, expected).max() < 0.2


@pytest.mark.parametrize("seed", range(50))
def test_polar_curve_keeps_its_distance(seed: int) -> None:
    run = random_loop_run(seed)
    options = FigureOptions(kind="polar", show=("slaved",))
    found = round_run(run, options, WORDS)
    root = parse(draw(run, options).svg)
    zero = only(root, "ring-zero")
    cx, cy, r0 = (float(zero.get(k) or "nan") for k in ("cx", "cy", "r"))
    per_degree = r0 / ZERO_PART * (1.0 - ZERO_PART) / full_scale(found)
    values, headings = found.traces[0].values, found.heading_deg
    drawn = np.array([p for stroke in strokes(only(root, "curve slaved.error")) for p in stroke])
    angle = np.radians(headings)
    distance = r0 + values * per_degree
    expected = np.stack([cx + distance * np.sin(angle), cy - distance * np.cos(angle)], axis=1)
    gaps = np.linalg.norm(drawn[:, None, :] - expected[None, :, :], axis=2).min(axis=1)
    assert gaps.max() < 0.02


def test_largest_errors_are_written_beside_the_rose() -> None:
    run = circle()
    figure = draw(run, FigureOptions(kind="polar", show=("detector",)))
    turn = (run.time_s >= 20.0) & (run.time_s <= 140.0)
    errors, headings = run["detector.error"].values[turn], run["actual.heading"].values[turn]
    high, low = int(errors.argmax()), int(errors.argmin())
    row = figure.table.rows[0]
    assert row[1] == f"{errors[low]:.1f}°".replace("-", "−")
    assert row[4] == f"{errors[high]:.1f}°"
    assert (row[2], row[5]) == (f"{headings[low]:03.0f}° M", f"{headings[high]:03.0f}° M")


def test_only_the_turns_are_drawn_unless_asked_otherwise() -> None:
    usual = round_run(circle(), FigureOptions(kind="polar"), WORDS)
    asked = round_run(circle(), FigureOptions(kind="polar", from_s=0.0, to_s=180.0), WORDS)
    assert ((usual.from_s, usual.to_s), (asked.from_s, asked.to_s)) == ((20.0, 140.0), (0.0, 180.0))


def test_a_rate_is_not_drawn_against_heading() -> None:
    with pytest.raises(MaterialError) as refused:
        draw(circle(), FigureOptions(kind="polar", channels=("slaved.correction",)))
    assert str(refused.value) == (
        "slaved.correction cannot be drawn against heading; errors, differences and tilts in degrees can; "
        "choose for example slaved.difference  [figure-value]"
    )


def test_a_curve_is_lifted_at_north() -> None:
    root = parse(draw(circle(), FigureOptions(kind="against-heading", show=("detector",))).svg)
    pieces = strokes(only(root, "curve detector.error"))
    assert len(pieces) == 2
    for piece in pieces:
        x = [p[0] for p in piece]
        assert max(abs(b - a) for a, b in itertools.pairwise(x)) < 100.0
