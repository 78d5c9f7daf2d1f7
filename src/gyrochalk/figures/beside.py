"""Finding a free place for a label beside the thing it names."""

from __future__ import annotations

import math
from collections.abc import Sequence

from gyrochalk.figures.lettering import ASCENT, DESCENT, text_width
from gyrochalk.figures.svg import Anchor, Canvas, LabelBox, Point

TURNS_DEG = (0, 25, -25, 50, -50, 80, -80, 115, -115, 150, -150, 180)
Frame = tuple[float, float, float, float]
"""Left, top, right, bottom [px]."""


def label_beside(
    canvas: Canvas,
    at: Point,
    outwards: Point,
    text: str,
    size_px: float,
    css: str,
    frame: Frame,
    avoid: Sequence[LabelBox] = (),
    part: str = "",
) -> bool:
    """Write `text` near `at`, if possible on the side `outwards` points to; False if there is no room for it.

    The label stays inside `frame` and clear of every label already written and of the boxes to `avoid`.
    """
    size = canvas.scaled(size_px)
    width = text_width(text, size)
    angle = math.atan2(outwards[1], outwards[0])
    for away in (0.55, 1.1, 1.8):
        for turn in TURNS_DEG:
            direction = angle + math.radians(turn)
            place = _box_at(at, direction, away * size, width, size, text)
            if _free(place, frame, (*canvas.labels, *avoid)):
                anchor: Anchor = "start"
                canvas.text((place.left, place.top + ASCENT * size), text, size_px, css, anchor, part=part)
                return True
    return False


def _box_at(at: Point, direction: float, away: float, width: float, size: float, text: str) -> LabelBox:
    """A label whose edge nearest to `at` lies `away` px from it in `direction`."""
    height = (ASCENT + DESCENT) * size
    dx, dy = math.cos(direction), math.sin(direction)
    x = at[0] + dx * (away + width / 2)
    y = at[1] + dy * (away + height / 2)
    return LabelBox(text, x - width / 2, y - height / 2, x + width / 2, y + height / 2)


def _free(place: LabelBox, frame: Frame, taken: Sequence[LabelBox]) -> bool:
    left, top, right, bottom = frame
    inside = left <= place.left and place.right <= right and top <= place.top and place.bottom <= bottom
    return inside and not any(_near(place, other) for other in taken)


def _near(one: LabelBox, other: LabelBox, clear: float = 1.5) -> bool:
    across = min(one.right, other.right) - max(one.left, other.left)
    down = min(one.bottom, other.bottom) - max(one.top, other.top)
    return across > -clear and down > -clear
