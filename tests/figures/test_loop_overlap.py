"""No label of the loop, Earth, compass, comparison and strip pictures stands on another or outside the frame."""

from __future__ import annotations

import itertools

import pytest

from gyrochalk.figures import PAGE, PROJECTOR, Figure, FigureOptions, Theme, Words, draw
from gyrochalk.figures.options import Size
from tests.figures.loop_pictures import LOOP_PICTURES, loop_picture
from tests.figures.loop_runs import random_loop_run
from tests.figures.pictures import LONG_WORDS

SIZES: tuple[Size, ...] = ("small", "medium", "large")


def faults(drawn: Figure) -> tuple[list[tuple[str, str]], list[str]]:
    """Labels that meet, and labels outside the frame."""
    meeting = [(a.text, b.text) for a, b in itertools.combinations(drawn.labels, 2) if a.meets(b)]
    outside = [
        label.text
        for label in drawn.labels
        if label.left < -0.5 or label.right > drawn.width_px + 0.5 or label.top < 0 or label.bottom > drawn.height_px
    ]
    return meeting, outside


@pytest.mark.parametrize("words", [Words(), LONG_WORDS], ids=["usual", "long"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("theme", [PAGE, PROJECTOR], ids=lambda t: t.name)
@pytest.mark.parametrize("name", LOOP_PICTURES)
def test_labels_are_clear_of_each_other_and_of_the_frame(name: str, theme: Theme, size: Size, words: Words) -> None:
    assert faults(loop_picture(name, theme, size, words)) == ([], [])


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize("kind", ["path", "earth", "polar", "against-heading"])
def test_labels_are_clear_in_random_runs(kind: str, seed: int) -> None:
    options = FigureOptions.parse({"as": kind, "at": "17 s"})
    for theme in (PAGE, PROJECTOR):
        assert faults(draw(random_loop_run(seed), options, theme)) == ([], [])
