"""Arrows, breaks and open switches: how a link, a vector or a wire is drawn."""

from __future__ import annotations

import math
from collections.abc import Sequence

from gyrochalk.figures.svg import Canvas, Point, number

HEAD_PX = 8.0
"""Length of an arrowhead at line scale 1."""


def arrow(canvas: Canvas, points: Sequence[Point], css: str, head_css: str, part: str = "") -> None:
    """A line of straight pieces through `points` with a head at its end; too short for a head it is only a line."""
    size = HEAD_PX * canvas.theme.line_scale
    (x0, y0), (x1, y1) = points[-2], points[-1]
    length = math.hypot(x1 - x0, y1 - y0)
    if length < size * 1.1:
        polyline(canvas, points, css, part)
        return
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    polyline(canvas, [*points[:-1], (x1 - ux * size * 0.8, y1 - uy * size * 0.8)], css, part)
    base, half = (x1 - ux * size, y1 - uy * size), size * 0.42
    wings = [(base[0] - uy * half, base[1] + ux * half), (base[0] + uy * half, base[1] - ux * half)]
    canvas.polygon([(x1, y1), *wings], head_css, f"{part}-head" if part else "")


def polyline(canvas: Canvas, points: Sequence[Point], css: str, part: str = "") -> None:
    """A line of straight pieces."""
    canvas.path("M" + "L".join(f"{number(x)} {number(y)}" for x, y in points), css, part)


def parted(start: Point, end: Point, gap: float, at: float = 0.5) -> tuple[list[Point], list[Point]]:
    """The two pieces of a straight line with a `gap` [px] about the fraction `at` of it."""
    length = math.hypot(end[0] - start[0], end[1] - start[1]) or 1.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    near, far = at * length - gap / 2, at * length + gap / 2
    return (
        [start, (start[0] + ux * near, start[1] + uy * near)],
        [(start[0] + ux * far, start[1] + uy * far), end],
    )


def broken_line(canvas: Canvas, start: Point, end: Point, part: str, slash: float = 7.0) -> None:
    """A line that leads nowhere: thin, parted, two strokes across it at the ends of the gap."""
    slash *= canvas.theme.line_scale
    before, after = parted(start, end, slash * 1.6)
    polyline(canvas, before, "rim", part)
    polyline(canvas, after, "rim", part)
    length = math.hypot(end[0] - start[0], end[1] - start[1]) or 1.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    for x, y in (before[1], after[0]):
        lean = (ux * 0.45 - uy, uy * 0.45 + ux)
        canvas.line(
            (x - lean[0] * slash, y - lean[1] * slash), (x + lean[0] * slash, y + lean[1] * slash), "broken", "break"
        )


def open_switch(canvas: Canvas, start: Point, end: Point, part: str) -> None:
    """A line with an open switch in its middle: a hinge, a blade that stands away, a contact it does not touch."""
    gap = min(26.0 * canvas.theme.line_scale, 0.5 * math.hypot(end[0] - start[0], end[1] - start[1]))
    before, after = parted(start, end, gap)
    polyline(canvas, before, "rim", part)
    polyline(canvas, after, "rim", part)
    hinge, contact = before[1], after[0]
    dx, dy = contact[0] - hinge[0], contact[1] - hinge[1]
    turn = math.radians(-32.0)
    tip = (
        hinge[0] + dx * math.cos(turn) - dy * math.sin(turn),
        hinge[1] + dx * math.sin(turn) + dy * math.cos(turn),
    )
    canvas.line(hinge, tip, "broken", "open-switch")
    for spot in (hinge, contact):
        canvas.circle(spot, 2.6 * canvas.theme.line_scale, "badge edge-alert")
