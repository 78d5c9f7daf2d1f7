"""Looking square down on the plane an instrument lies in: where the field in it points, and where north is."""

from __future__ import annotations

import math

from gyrochalk.figures.arrows import arrow
from gyrochalk.figures.beside import label_beside
from gyrochalk.figures.faces import on_circle
from gyrochalk.figures.sections import ASPECT
from gyrochalk.figures.svg import Canvas, LabelBox, Point
from gyrochalk.figures.theme import SMALL_PX, Letter
from gyrochalk.figures.tilted_plane import EarthView


def draw_plane(canvas: Canvas, left: float, top: float, width: float, view: EarthView, letter: Letter) -> float:
    """Draw the plane with the nose up, `width` px wide; returns its lowest edge [px]."""
    height = width * ASPECT
    radius = width * 0.36
    centre = (left + width / 2, top + height * 0.53)
    frame = (left, top, left + width, top + height)
    canvas.circle(centre, radius, "rim")
    _nose(canvas, centre, radius)
    scale = radius / max(1.15 * view.in_plane_ut, 1e-9)
    corner = (centre[0], centre[1] - view.along_ut * scale)
    tip = (centre[0] + view.across_ut * scale, corner[1])
    canvas.line(centre, corner, "event", "ahead")
    canvas.line(corner, tip, "event", "across")
    north = on_circle(centre, radius, -view.heading_deg)
    own = on_circle(centre, radius, -view.reading_deg)
    canvas.line(centre, north, "trace-A", "north")
    if view.valid:
        canvas.line(centre, own, f"trace-{letter}", "own-north")
    arrow(canvas, [centre, tip], "arc-acting", "fill-acting", "pull")
    canvas.circle(centre, 2.6 * canvas.theme.line_scale, "solid")
    _names(canvas, frame, centre, tip, view, radius, letter)
    return top + height


def _nose(canvas: Canvas, centre: Point, radius: float) -> None:
    half, top = radius * 0.07, centre[1] - radius
    canvas.polygon(
        [(centre[0] - half, top - half * 2.2), (centre[0] + half, top - half * 2.2), (centre[0], top)], "solid"
    )


def _names(
    canvas: Canvas, frame: tuple[float, float, float, float], centre: Point, tip: Point, view: EarthView, radius: float,
    letter: Letter,
) -> None:  # fmt: skip
    lines = [_spot(centre, end, k) for end in (tip, on_circle(centre, radius, -view.heading_deg)) for k in range(1, 8)]
    half = radius * 0.07
    nose = LabelBox("", centre[0] - half, centre[1] - radius - half * 2.2, centre[0] + half, centre[1] - radius)
    lines.append(nose)
    spots = ((-view.heading_deg, "A", "north"), (-view.reading_deg, letter, f"{view.instrument} N"))
    for clockwise, key, text in spots if view.valid else spots[:1]:
        at = on_circle(centre, radius + 3, clockwise)
        out = (math.sin(math.radians(clockwise)), -math.cos(math.radians(clockwise)))
        css = f"fill-{key} halo"
        label_beside(canvas, at, out, text, SMALL_PX, css, frame, lines, f"name-{key}")
    size = f"{view.in_plane_ut:.1f} µT"
    out = (tip[0] - centre[0], tip[1] - centre[1])
    own = [_spot(centre, on_circle(centre, radius, -view.reading_deg), k) for k in range(1, 8)] if view.valid else []
    round_it = [on_circle(centre, radius, d) for d in range(0, 360, 3)]
    rim = [LabelBox("", x - 2, y - 2, x + 2, y + 2) for x, y in round_it]
    inside = (centre[0] + 0.6 * out[0], centre[1] + 0.6 * out[1])
    clear = (*lines, *own, *rim)
    aside = (-out[1], out[0])
    for at, way, kept in ((tip, out, clear), (inside, aside, clear), (tip, out, lines), (inside, aside, lines)):
        if label_beside(canvas, at, way, size, SMALL_PX, "fill-acting halo", frame, kept, "pull-size"):
            break


def _spot(start: Point, end: Point, k: int) -> LabelBox:
    x, y = start[0] + (end[0] - start[0]) * k / 7, start[1] + (end[1] - start[1]) * k / 7
    return LabelBox("", x - 3, y - 3, x + 3, y + 3)
