"""No label stands on another or outside the frame, at any size, in any theme, with long names."""

from __future__ import annotations

import itertools

import pytest

from gyrochalk.figures import PAGE, PROJECTOR, Theme, Words
from gyrochalk.figures.options import Size
from tests.figures.pictures import LONG_WORDS, PICTURES, picture

SIZES: tuple[Size, ...] = ("small", "medium", "large")


@pytest.mark.parametrize("words", [Words(), LONG_WORDS], ids=["usual", "long"])
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("theme", [PAGE, PROJECTOR], ids=lambda t: t.name)
@pytest.mark.parametrize("name", PICTURES)
def test_labels_are_clear_of_each_other_and_of_the_frame(name: str, theme: Theme, size: Size, words: Words) -> None:
    drawn = picture(name, theme, size, words)
    meeting = [(a.text, b.text) for a, b in itertools.combinations(drawn.labels, 2) if a.meets(b)]
    outside = [
        label.text
        for label in drawn.labels
        if label.left < -0.5 or label.right > drawn.width_px + 0.5 or label.top < 0 or label.bottom > drawn.height_px
    ]
    assert (meeting, outside) == ([], [])
