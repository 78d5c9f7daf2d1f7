"""Error as distance from a circle, heading as direction: the same curve as against heading, seen as a compass rose."""

from __future__ import annotations

import dataclasses
import math

import numpy as np

from gyrochalk.figures.faces import on_circle
from gyrochalk.figures.finding import seconds
from gyrochalk.figures.lettering import wrap_text
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.panel import Trace
from gyrochalk.figures.picture import Figure
from gyrochalk.figures.readings import Floats
from gyrochalk.figures.round_the_compass import RoundRun, round_alt, round_finding, round_run, round_table
from gyrochalk.figures.svg import Canvas, LabelBox, Point, number
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, Theme
from gyrochalk.figures.thinning import pieces
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.words import Words, capital, joined
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_quantity

FULL_SCALES_DEG = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 45.0, 60.0, 90.0, 180.0)
ZERO_PART = 0.58
"""Radius of the circle of no error, as a part of the outer circle."""
BESIDE_PX = 560.0
"""From this width (at text scale 1) the words stand beside the circle, below it they stand under it."""
NEAREST_PX = 1.0
RING_NAMES_DEG = (15, 345, 45, 315, 75, 285, 105, 255, 165, 195)
"""Where the names of the rings may stand, the first the usual one."""


@dataclasses.dataclass(frozen=True, slots=True)
class Rose:
    """Where things stand: `centre` and outer `radius` [px], `full_deg` from the circle of no error to the outer one."""

    centre: Point
    radius: float
    full_deg: float

    def distance(self, error_deg: Floats | float) -> Floats:
        """Distance of `error_deg` from the centre [px]: outside the circle of no error if it reads high."""
        return np.asarray(self.radius * (ZERO_PART + (1.0 - ZERO_PART) * np.asarray(error_deg) / self.full_deg))

    def places(self, heading_deg: Floats, error_deg: Floats) -> tuple[Floats, Floats]:
        """Points of the curve [px]: `heading_deg` clockwise from the top, `error_deg` from the circle of no error."""
        angle, distance = np.radians(heading_deg), self.distance(error_deg)
        return self.centre[0] + distance * np.sin(angle), self.centre[1] - distance * np.cos(angle)


def draw_polar(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Draw errors round the compass."""
    found = round_run(run, options, words)
    canvas = Canvas(options.width_px(theme), theme)
    title = options.title or round_finding(found, words)
    top = draw_title(canvas, title)
    small = canvas.scaled(SMALL_PX)
    beside = canvas.width_px / theme.text_scale >= BESIDE_PX
    radius = canvas.width_px * (0.24 if beside else 0.38) - small * 0.5
    centre_x = radius + small * 2.6 if beside else canvas.width_px / 2
    rose = Rose((centre_x, top + radius + small * 2.6), radius, full_scale(found))
    _draw_rose(canvas, rose)
    for trace in found.traces:
        _curve(canvas, rose, trace, found)
    _name_rings(canvas, rose, found)
    _badges(canvas, rose, found)
    bottom = rose.centre[1] + radius + small * 2.2
    left = rose.centre[0] + radius + small * 4.0 if beside else 0.0
    listed = _list(canvas, found, left, top + small * 1.6 if beside else bottom, canvas.width_px - left)
    total = max(bottom, listed) + small * 0.4
    names, begin, end = joined([t.label for t in found.traces], words), seconds(found.from_s), seconds(found.to_s)
    caption = words.say("round.caption_polar", names=names, begin=begin, end=end, full=_scale(rose.full_deg))
    alt = round_alt(found, "round.alt_polar", title)
    return Figure(
        canvas.finish(total, alt), title, alt, caption, round_table(found), canvas.width_px, total,
        tuple(canvas.labels), theme,
    )  # fmt: skip


def full_scale(found: RoundRun) -> float:
    """The least scale that holds every error; larger ones turn inside out and are held at 180°."""
    largest = max((trace.largest for trace in found.traces), default=0.0)
    return next((full for full in FULL_SCALES_DEG if full >= largest), FULL_SCALES_DEG[-1])


def _scale(deg: float) -> str:
    return format_quantity(deg, "deg", 0 if deg >= 1.0 else 1)


def _draw_rose(canvas: Canvas, rose: Rose) -> None:
    small = canvas.scaled(SMALL_PX)
    for mark in range(0, 360, 30):
        inner = on_circle(rose.centre, float(rose.distance(-rose.full_deg)), mark)
        canvas.line(inner, on_circle(rose.centre, rose.radius, mark), "hair", "spoke")
        x, y = on_circle(rose.centre, rose.radius + small * 1.25, mark)
        name = {0: "N", 90: "E", 180: "S", 270: "W"}.get(mark, f"{mark:03d}")
        canvas.text((x, y + small * 0.36), name, SMALL_PX, "quiet num", "middle", bold=mark % 90 == 0, part="bearing")
    for part in (-1.0, -0.5, 0.5, 1.0):
        canvas.circle(rose.centre, float(rose.distance(part * rose.full_deg)), "hair", "ring")
    canvas.circle(rose.centre, float(rose.distance(0.0)), "mark", "ring-zero")
    canvas.circle(rose.centre, 1.6, "quiet-solid")


def _name_rings(canvas: Canvas, rose: Rose, found: RoundRun) -> None:
    """What three of the rings mean, over the curves, between the two spokes where the fewest of them pass."""
    small = canvas.scaled(SMALL_PX)
    rings = (-rose.full_deg, 0.0, rose.full_deg)

    def crowd(bearing: int) -> float:
        """How many points of the curves lie near the names there; those on the circle of no error count little."""
        total = 0.0
        for trace in found.traces:
            x, y = rose.places(found.heading_deg, trace.values)
            for ring in rings:
                at = on_circle(rose.centre, float(rose.distance(ring)), bearing)
                near = np.hypot(x - at[0], y - at[1]) < small * 1.6
                total += float(near.sum()) * (1.0 if ring else 0.5)
        return total

    bearing = min(RING_NAMES_DEG, key=crowd)
    for ring in rings:
        text = "0" if ring == 0.0 else f"{'+' if ring > 0 else '−'}{_scale(rose.full_deg)}"
        x, y = on_circle(rose.centre, float(rose.distance(ring)), bearing)
        canvas.text((x, y + small * 0.36), text, SMALL_PX, "quiet halo", "middle", part="ring-name")


def _curve(canvas: Canvas, rose: Rose, trace: Trace, found: RoundRun) -> None:
    commands = []
    for start, stop in pieces(trace.values, None, 360.0):
        x, y = rose.places(found.heading_deg[start:stop], trace.values[start:stop])
        commands.append("M" + "L".join(f"{number(x[i])} {number(y[i])}" for i in _apart(x, y)))
    if commands:
        canvas.path("".join(commands), f"trace-{trace.letter}", f"curve {trace.name}")


def _apart(x: Floats, y: Floats) -> list[int]:
    """Indices of points at least `NEAREST_PX` from the one kept before, first and last always."""
    kept = [0]
    for i in range(1, x.size):
        if math.hypot(x[i] - x[kept[-1]], y[i] - y[kept[-1]]) >= NEAREST_PX or i == x.size - 1:
            kept.append(i)
    return kept if len(kept) > 1 else [0, 0]


def _badges(canvas: Canvas, rose: Rose, found: RoundRun) -> None:
    """Each curve's letter where it stands farthest from the circle of no error, moved along it if another is there."""
    radius = canvas.scaled(SMALL_PX) * 0.72
    taken = [_around(label) for label in canvas.labels if label.text]
    for trace in found.traces:
        good = np.flatnonzero(np.isfinite(trace.values))
        if good.size == 0:
            continue
        x, y = rose.places(found.heading_deg[good], trace.values[good])
        for i in np.argsort(-np.abs(trace.values[good]), kind="stable")[:: max(1, good.size // 400)]:
            place = LabelBox(trace.letter, x[i] - radius, y[i] - radius, x[i] + radius, y[i] + radius)
            if not any(place.meets(other, 0.0) for other in taken):
                canvas.badge((float(x[i]), float(y[i])), trace.letter, radius)
                taken.append(place)
                break


def _around(label: LabelBox) -> LabelBox:
    return LabelBox(label.text, label.left - 2, label.top - 2, label.right + 2, label.bottom + 2)


def _list(canvas: Canvas, found: RoundRun, left: float, top: float, width: float) -> float:
    """Letter, name and largest errors of each curve; returns the lowest edge [px]."""
    size, small = canvas.scaled(LABEL_PX), canvas.scaled(SMALL_PX)
    indent = left + size * 1.6
    y = top
    for trace in found.traces:
        y += size * 1.2
        canvas.badge((left + size * 0.64, y - size * 0.34), trace.letter, size * 0.62)
        for i, line in enumerate(wrap_text(capital(trace.label), width - size * 1.6, size, "figure-700")):
            y += size * 1.15 if i else 0.0
            canvas.text((indent, y), line, LABEL_PX, f"fill-{trace.letter}", bold=True, part="name")
        for text in _extremes(found, trace):
            y += small * 1.35
            canvas.text((indent, y), text, SMALL_PX, "ink num", part=f"extreme {trace.name}")
        y += size * 0.5
    return y


def _extremes(found: RoundRun, trace: Trace) -> list[str]:
    low, high = found.lowest(trace), found.highest(trace)
    if low is None or high is None:
        return [found.words.say("round.nothing_valid")]
    return [
        found.words.say(key, value=_signed(e.value_deg), heading=format_heading(e.heading_deg, "magnetic"))
        for e, key in ((high, "round.most"), (low, "round.least"))
    ]


def _signed(deg: float) -> str:
    text = format_quantity(deg, "deg", 1)
    return f"+{text}" if deg >= 0.05 else text
