"""A strip shows each still at its own instant, with the run's numbers under it."""

from __future__ import annotations

import numpy as np
import pytest

from gyrochalk.figures import FigureOptions, draw
from gyrochalk.figures.readings import value_at
from gyrochalk.units import wrap_180
from tests.figures.loop_runs import circle
from tests.figures.read_back import parse, parts, turned, words, written


def test_roses_of_a_strip_are_turned_still_by_still() -> None:
    run = circle()
    times = np.linspace(20.0, 140.0, 5)
    root = parse(draw(run, FigureOptions(kind="strip", from_s=20.0, to_s=140.0, instants=5)).svg)
    roses = parts(root, "rose-S")
    assert len(roses) == 5
    for time_s, rose, value in zip(times, roses, parts(root, "value-S"), strict=True):
        heading = value_at(run, "slaved.heading", float(time_s))
        assert abs(wrap_180(-turned(rose) - heading)) < 0.01
        assert abs(wrap_180(written(words(value)) - heading)) <= 0.5 + 1e-6


def test_chains_of_a_strip_carry_their_own_values() -> None:
    run = circle()
    root = parse(draw(run, FigureOptions(kind="strip", of="path", instants=4)).svg)
    shown = [written(words(node)) for node in parts(root, "value-comparison-amplifier")]
    expected = [value_at(run, "slaved.difference", float(t)) for t in np.linspace(0.0, run.time_s[-1], 4)]
    assert shown == pytest.approx(expected, abs=0.051)


def test_planes_of_a_strip_are_tilted_still_by_still() -> None:
    run = circle()
    root = parse(draw(run, FigureOptions(kind="strip", of="earth", at=(22.0, 60.0, 139.0))).svg)
    tilts = [turned(node) for node in parts(root, "plane-behind")]
    assert tilts == pytest.approx([value_at(run, "card.tilt_bank", t) for t in (22.0, 60.0, 139.0)], abs=0.01)


def test_a_strip_has_six_stills_unless_told() -> None:
    figure = draw(circle(), FigureOptions(kind="strip"))
    assert [row[0] for row in figure.table.rows] == ["0.0 s", "36.0 s", "72.0 s", "108.0 s", "144.0 s", "180.0 s"]
    assert figure.alt.startswith("6 stills of instrument faces. ")


def test_a_strip_of_ribbons_is_the_ribbon_s_own() -> None:
    strip = draw(circle(), FigureOptions(kind="strip", of="ribbon", instants=5))
    assert strip.svg == draw(circle(), FigureOptions(kind="ribbon", instants=5)).svg
