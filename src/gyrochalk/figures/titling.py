"""The finding, written across the top of a picture."""

from __future__ import annotations

from gyrochalk.figures.lettering import wrap_text
from gyrochalk.figures.svg import Canvas
from gyrochalk.figures.theme import TITLE_PX


def draw_title(canvas: Canvas, title: str) -> float:
    """Write the finding across the top; returns where the picture goes on below it [px]."""
    size = canvas.scaled(TITLE_PX)
    y = size * 1.15
    for line in wrap_text(title, canvas.width_px - 4, size, "figure-700"):
        canvas.text((0.0, y), line, TITLE_PX, "ink", bold=True, part="title")
        y += size * 1.25
    return y + size * 0.1
