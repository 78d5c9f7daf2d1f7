"""Error against actual heading: the curve that shows on which headings an instrument is wrong."""

from __future__ import annotations

import dataclasses
import itertools
import math

import numpy as np

from gyrochalk.figures.finding import seconds
from gyrochalk.figures.lettering import text_width, wrap_text
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.panel import Trace
from gyrochalk.figures.picture import Figure
from gyrochalk.figures.placing import spread
from gyrochalk.figures.readings import Floats
from gyrochalk.figures.round_the_compass import RoundRun, round_alt, round_finding, round_run, round_table
from gyrochalk.figures.svg import Canvas, number
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, Theme
from gyrochalk.figures.thinning import drop_straight, keep_extremes, pieces
from gyrochalk.figures.ticks import decimals_of, degree_step, marks
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.traces import by_size
from gyrochalk.figures.words import Words, joined
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_number, wrap_360

WHOLE_DEG = 300.0
"""A flight that turns through more than this is drawn on 000 to 360."""
WIDEST_LABELS = 0.24
LEAST_SPAN_DEG = 0.4


@dataclasses.dataclass(frozen=True, slots=True)
class HeadingAxis:
    """Actual heading from `low_deg` to `high_deg` between `left` and `right` [px], `label_width` px right of that."""

    low_deg: float
    high_deg: float
    left: float
    right: float
    label_width: float

    def x(self, heading_deg: Floats | float) -> Floats:
        """Where `heading_deg`, as the axis counts it, stands [px]."""
        part = (np.asarray(heading_deg) - self.low_deg) / (self.high_deg - self.low_deg)
        return np.asarray(self.left + part * (self.right - self.left))


@dataclasses.dataclass(frozen=True, slots=True)
class Sheet:
    """One set of curves on one scale: `low` to `high` [deg] over `height` px from `top`."""

    traces: list[Trace]
    low: float
    high: float
    top: float
    height: float

    def y(self, value: Floats | float) -> Floats:
        """Where a value stands [px]."""
        part = (np.asarray(value) - self.low) / (self.high - self.low)
        return np.asarray(self.top + self.height * (1.0 - part))


def draw_against_heading(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Draw errors against actual heading."""
    found = round_run(run, options, words)
    canvas = Canvas(options.width_px(theme), theme)
    title = options.title or round_finding(found, words)
    groups = by_size(list(found.traces))
    small, size = canvas.scaled(SMALL_PX), canvas.scaled(LABEL_PX)
    heading, axis = _axis(canvas, found)
    height = canvas.width_px * {1: 0.4, 2: 0.27}.get(len(groups), 0.2)
    top = draw_title(canvas, title) + small * 1.6
    for i, group in enumerate(groups):
        rows = sum(len(wrap_text(t.label, axis.label_width, size)) for t in group)
        tall = max(height, size * (1.05 * rows + 0.4 * len(group)))
        sheet = Sheet(group, *_limits(group), top, tall)
        _draw_sheet(canvas, axis, sheet, heading, words, finer=i > 0)
        top += tall + size * 2.0
    total = _heading_marks(canvas, axis, top - size * 2.0, words)
    names = joined(list(dict.fromkeys(t.label for t in found.traces)), words)
    begin, end = seconds(found.from_s), seconds(found.to_s)
    caption = words.say("round.caption_against", names=names, begin=begin, end=end)
    caption += words.say("traces.scales_differ") if groups[1:] else ""
    alt = round_alt(found, "round.alt_against", title)
    return Figure(
        canvas.finish(total, alt), title, alt, caption, round_table(found), canvas.width_px, total,
        tuple(canvas.labels), theme,
    )  # fmt: skip


def _axis(canvas: Canvas, found: RoundRun) -> tuple[Floats, HeadingAxis]:
    """The headings as they are drawn, and their axis: the whole circle, or as much of it as was flown."""
    size, most = canvas.scaled(LABEL_PX), canvas.width_px * WIDEST_LABELS
    width = max(text_width(line, size) for t in found.traces for line in wrap_text(t.label, most, size)) + 0.5
    left, right = canvas.scaled(SMALL_PX) * 3.4, canvas.width_px - (17 + 1.24 * size + width)
    low, high = float(found.unwrapped_deg.min()), float(found.unwrapped_deg.max())
    if high - low > WHOLE_DEG:
        return found.heading_deg, HeadingAxis(0.0, 360.0, left, right, width)
    step = 30.0 if high - low > 60.0 else 10.0
    low, high = math.floor(low / step + 1e-6) * step, math.ceil(high / step - 1e-6) * step
    if high <= low:
        low, high = low - step, high + step
    return found.unwrapped_deg, HeadingAxis(low, high, left, right, width)


def _limits(traces: list[Trace]) -> tuple[float, float]:
    """The scale of a sheet, zero always in sight."""
    every = np.concatenate([t.values[np.isfinite(t.values)] for t in traces])
    low, high = (min(float(every.min()), 0.0), max(float(every.max()), 0.0)) if every.size else (0.0, 0.0)
    spare = max(LEAST_SPAN_DEG - (high - low), 0.0) / 2 + 0.06 * (high - low)
    return low - spare, high + spare


def _draw_sheet(canvas: Canvas, axis: HeadingAxis, sheet: Sheet, heading: Floats, words: Words, *, finer: bool) -> None:
    small = canvas.scaled(SMALL_PX)
    step = degree_step(sheet.high - sheet.low, max(2, int(sheet.height / (small * 2.4))))
    for mark in marks(sheet.low, sheet.high, step):
        y = float(sheet.y(mark))
        canvas.line((axis.left, y), (axis.right, y), "axis" if abs(mark) < 1e-9 else "hair", "grid")
        text = format_number(mark, decimals_of(step)) if abs(mark) > 1e-9 else "0"
        text = f"+{text}" if mark > 1e-9 else text
        canvas.text((axis.left - 6, y + small * 0.35), text, SMALL_PX, "quiet num", "end", part="y-mark")
    for mark in marks(axis.low_deg, axis.high_deg, 90.0):
        x = float(axis.x(mark))
        canvas.line((x, sheet.top), (x, sheet.top + sheet.height), "hair", "grid")
    name = words.say("round.axis")
    name = words.say("traces.finer", name=name) if finer else name
    canvas.text((axis.left, sheet.top - small * 0.5), name, SMALL_PX, "quiet halo", part="y-name")
    for trace in sheet.traces:
        _curve(canvas, axis, sheet, trace, heading)
    _labels(canvas, axis, sheet, heading)


def _curve(canvas: Canvas, axis: HeadingAxis, sheet: Sheet, trace: Trace, heading: Floats) -> None:
    """The line, lifted where the heading or the error passes the end of its circle, and an arrow along it."""
    commands, longest = [], (0, 0)
    for start, stop in _strokes(trace.values, heading):
        longest = max(longest, (start, stop), key=lambda p: p[1] - p[0])
        kept = keep_extremes(trace.values[start:stop], max(2, int(axis.right - axis.left))) + start
        x, y = axis.x(heading[kept]), sheet.y(trace.values[kept])
        chosen = drop_straight(x, y, 0.12) if bool(np.all(np.diff(x) > 0)) else range(x.size)
        points = [f"{number(x[i])} {number(y[i])}" for i in chosen]
        commands.append("M" + "L".join(points if len(points) > 1 else points * 2))
    if commands:
        canvas.path("".join(commands), f"trace-{trace.letter}", f"curve {trace.name}")
        _way(canvas, axis, sheet, trace, heading, longest)


def _strokes(values: Floats, heading: Floats) -> list[tuple[int, int]]:
    """Stretches [start, stop) that may be joined by a line: neither the value nor the heading jumps within one."""
    cuts = np.flatnonzero(np.abs(np.diff(heading)) > 180.0) + 1
    found: list[tuple[int, int]] = []
    for start, stop in pieces(values, None, 360.0):
        found += itertools.pairwise([start, *(int(c) for c in cuts if start < c < stop), stop])
    return found


def _way(
    canvas: Canvas, axis: HeadingAxis, sheet: Sheet, trace: Trace, heading: Floats, piece: tuple[int, int]
) -> None:
    """An arrowhead on the curve that points the way the flight went."""
    start, stop = piece
    x, y = axis.x(heading[start:stop]), sheet.y(trace.values[start:stop])
    travelled = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    size = 9.0 * canvas.theme.line_scale
    if travelled[-1] < 6 * size:
        return
    half = travelled[-1] * 0.4
    i, j = (int(np.searchsorted(travelled, half + d)) for d in (-size / 2, size / 2))
    dx, dy = float(x[j] - x[i]), float(y[j] - y[i])
    length = math.hypot(dx, dy) or 1.0
    ux, uy = dx / length, dy / length
    tip = (float(x[j]), float(y[j]))
    base = (tip[0] - ux * size, tip[1] - uy * size)
    wing = size * 0.5
    wings = [(base[0] - uy * wing, base[1] + ux * wing), (base[0] + uy * wing, base[1] - ux * wing)]
    canvas.polygon([tip, *wings], f"fill-{trace.letter}", f"way {trace.name}")


def _labels(canvas: Canvas, axis: HeadingAxis, sheet: Sheet, heading: Floats) -> None:
    """The name of each curve at the right, led to from the curve's rightmost point."""
    size = canvas.scaled(LABEL_PX)
    radius = size * 0.62
    lines = [wrap_text(t.label, axis.label_width, size) for t in sheet.traces]
    ends = [_rightmost(axis, sheet, trace, heading) for trace in sheet.traces]
    gap = size * (0.35 + 1.05 * max(len(found) for found in lines))
    places = spread([y for _, y in ends], gap, sheet.top + gap / 2, sheet.top + sheet.height - gap / 2)
    x = axis.right + 10
    for trace, words, (from_x, from_y), y in zip(sheet.traces, lines, ends, places, strict=True):
        if abs(y - from_y) > 2 or from_x < axis.right - 2:
            canvas.line((from_x + 1, from_y), (x, y), "leader")
        canvas.badge((x + radius, y), trace.letter, radius)
        for i, line in enumerate(words):
            base = y + size * (0.34 + 1.05 * (i - (len(words) - 1) / 2))
            canvas.text((x + 2 * radius + 5, base), line, LABEL_PX, f"fill-{trace.letter}", part="line-end")


def _rightmost(axis: HeadingAxis, sheet: Sheet, trace: Trace, heading: Floats) -> tuple[float, float]:
    good = np.flatnonzero(np.isfinite(trace.values))
    if good.size == 0:
        return axis.right, float(sheet.y(0.0))
    i = int(good[heading[good].argmax()])
    return float(axis.x(heading[i])), float(sheet.y(trace.values[i]))


def _heading_marks(canvas: Canvas, axis: HeadingAxis, bottom: float, words: Words) -> float:
    """Headings under the curves; returns the lowest edge [px]."""
    small = canvas.scaled(SMALL_PX)
    span = axis.high_deg - axis.low_deg
    wide = text_width("000°", small) * 1.35
    steps = (10.0, 30.0, 90.0) if span <= 90 else (30.0, 90.0)
    step = next((s for s in steps if (axis.right - axis.left) * s / span >= wide), 90.0)
    y = bottom + small * 1.6
    for mark in marks(axis.low_deg, axis.high_deg, step):
        x = float(axis.x(mark))
        canvas.line((x, bottom), (x, bottom + 4), "axis")
        text = "360°" if mark == 360.0 else format_heading(float(wrap_360(mark)))
        canvas.text((x, y), text, SMALL_PX, "quiet num", "middle", part="x-mark")
    y += small * 1.4
    canvas.text(
        ((axis.left + axis.right) / 2, y), words.say("round.actual"), SMALL_PX, "quiet", "middle", part="x-name"
    )
    return y + small * 0.5
