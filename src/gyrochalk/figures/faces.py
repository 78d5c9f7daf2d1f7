"""The faces: what each instrument shows at one instant, and which part of it turns."""

from __future__ import annotations

import functools
import math

from gyrochalk.figures.finding import instant_finding, seconds, side
from gyrochalk.figures.lettering import text_width, wrap_text
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.picture import DataTable, Figure
from gyrochalk.figures.readings import Reading, instants, instruments_of, reading, value_at
from gyrochalk.figures.svg import Canvas, LabelBox, Point, number
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, Letter, Theme
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.words import INSTRUMENTS, Words, capital
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_quantity, wrap_360

ROSE_PX = 84.0
"""Radius of the rose at scale 1."""
WINDOW_PX = (172.0, 92.0)
"""Width and height of the window the floating card is seen through."""
CARD_PX = 104.0
"""Radius of the floating card."""
LEAST_NAME_PX = 9.8
"""Letters on a face are no smaller than this (at text scale 1)."""
SEEN_DEG = 50.0
"""How far to each side of its nearest line the card is seen."""

_ROSE_NAMES = {0: "N", 90: "E", 180: "S", 270: "W"}


def rose_name(mark_deg: int) -> str:
    """What a compass rose is marked with at `mark_deg`: N, 3, 6, E …"""
    return _ROSE_NAMES.get(mark_deg, str(mark_deg // 10))


def draw_faces(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Draw the faces of the chosen instruments at one instant."""
    shown = instruments_of(run, tuple(n for n in options.show if n != "actual"), ("card", "gyro", "slaved"))
    time_s = instants(run, options, shown)[0]
    actual = value_at(run, "actual.heading", time_s)
    readings = [reading(run, name, time_s) for name in shown]
    canvas = Canvas(options.width_px(theme), theme)
    title = options.title or instant_finding(readings, time_s, words)
    top = draw_title(canvas, title)
    top = _heading_line(canvas, top, actual, time_s, words)
    column = canvas.width_px / max(3, len(readings))
    offset = (canvas.width_px - column * len(readings)) / 2
    scale = min(column / 240.0 * 1.08, theme.text_scale * 1.1)
    lowest = top
    for i, read in enumerate(readings):
        centre = (offset + column * (i + 0.5), top + (ROSE_PX + 16) * scale)
        draw_face(canvas, centre, scale, read, run, time_s)
        lowest = max(lowest, _captions(canvas, centre, scale, column, read, run, time_s, words))
    table = _table(run, readings, actual, words)
    alt = _alt(run, readings, actual, time_s, title, words)
    caption = words.say("faces.caption", time=seconds(time_s), heading=format_heading(actual, "magnetic"))
    total = lowest + 8
    return Figure(
        canvas.finish(total, alt), title, alt, caption, table, canvas.width_px, total, tuple(canvas.labels), theme
    )


def _heading_line(canvas: Canvas, top: float, actual: float, time_s: float, words: Words) -> float:
    size = canvas.scaled(LABEL_PX)
    y = top + size * 1.1
    canvas.badge((size * 0.64, y - size * 0.34), "A", size * 0.62)
    heading = format_heading(actual, "magnetic")
    text = words.say("faces.actual", name=capital(words.actual), heading=heading, time=seconds(time_s))
    canvas.text((size * 1.6, y), text, LABEL_PX, "ink", part="actual")
    return y + size * 0.4


def draw_face(canvas: Canvas, centre: Point, scale: float, read: Reading, run: Run, time_s: float) -> None:
    """Draw one face at `time_s` about `centre`, its rose `ROSE_PX` times `scale` in radius."""
    if read.instrument == "card":
        _floating_card(canvas, centre, scale, read)
    elif read.instrument == "detector":
        _sensed_arrow(canvas, centre, scale, read)
    else:
        _rose(canvas, centre, scale, read)
    if read.instrument == "slaved" and "slaved.indicator" in run.columns:
        _synchronisation(canvas, centre, scale, value_at(run, "slaved.indicator", time_s))


def on_circle(centre: Point, radius: float, clockwise_deg: float) -> Point:
    """The point `clockwise_deg` from the top of a circle."""
    angle = math.radians(clockwise_deg)
    return centre[0] + radius * math.sin(angle), centre[1] - radius * math.cos(angle)


@functools.lru_cache(maxsize=64)
def _rose_marks(radius: float, least_px: float) -> str:
    """The rose with north up, round the origin: the same for every heading, so it is drawn once and turned.

    Where its numbers would be smaller than `least_px` only the four letters are written, large enough to be read.
    """
    few = _few(radius, least_px)
    ticks: dict[str, list[str]] = {"hair-mark": [], "mark": [], "heavy": []}
    names = []
    for mark in range(0, 360, 5):
        length, css = (0.16, "heavy") if mark % 30 == 0 else (0.12, "mark") if mark % 10 == 0 else (0.07, "hair-mark")
        (x0, y0), (x1, y1) = on_circle((0, 0), radius, mark), on_circle((0, 0), radius * (1 - length), mark)
        ticks[css].append(f"M{number(x0)} {number(y0)}L{number(x1)} {number(y1)}")
        if mark % (90 if few else 30) == 0:
            size = radius * (0.21 if mark % 90 else 0.34 if few else 0.25)
            out = radius * (0.55 if few else 0.64)
            css_text = "t ink middle" if mark % 90 else "t ink bold middle"
            place = f'transform="rotate({mark}) translate(0 {number(-out)})" font-size="{number(size)}"'
            names.append(f'<text class="{css_text}" {place}>{rose_name(mark)}</text>')
    paths = "".join(f'<path class="{css}" d="{"".join(d)}"/>' for css, d in ticks.items())
    return paths + "".join(names)


def _few(radius: float, least_px: float) -> bool:
    """Whether a rose is so small that only its four letters are written."""
    return radius * 0.21 < least_px


def _rose(canvas: Canvas, centre: Point, scale: float, read: Reading) -> None:
    """A rose that turns under a fixed mark."""
    letter = INSTRUMENTS[read.instrument]
    radius = ROSE_PX * scale
    x, y = number(centre[0]), number(centre[1])
    canvas.circle(centre, radius, f"trace-{letter}" if read.valid else "rim gone")
    turned = number(-read.heading_deg)
    gone = "" if read.valid else ' class="gone"'
    part = f' data-part="rose-{letter}"'
    least = canvas.scaled(LEAST_NAME_PX)
    marks = _rose_marks(radius, least)
    canvas.raw(f'<g{gone}{part} transform="translate({x} {y}) rotate({turned})">{marks}</g>')
    _note_rose_names(canvas, centre, radius, read.heading_deg, 90 if _few(radius, least) else 30)
    _fixed_mark(canvas, centre, radius)
    if read.valid:
        _actual_needle(canvas, centre, radius * 0.44, -read.error_deg, letter)


def _note_rose_names(canvas: Canvas, centre: Point, radius: float, heading_deg: float, step: int) -> None:
    half = radius * 0.1
    for mark in range(0, 360, step):
        x, y = on_circle(centre, radius * 0.7, mark - heading_deg)
        canvas.labels.append(LabelBox(rose_name(mark), x - half, y - half, x + half, y + half))


def _fixed_mark(canvas: Canvas, centre: Point, radius: float) -> None:
    top = centre[1] - radius
    half = radius * 0.065
    canvas.polygon(
        [(centre[0] - half, top - half * 2.4), (centre[0] + half, top - half * 2.4), (centre[0], top - 1)],
        "solid",
        "fixed-mark",
    )


def _actual_needle(canvas: Canvas, centre: Point, radius: float, clockwise_deg: float, letter: Letter) -> None:
    """Where on this rose the actual heading stands, and the error as an arc from the fixed mark to it."""
    tip = on_circle(centre, radius, clockwise_deg)
    if abs(clockwise_deg) >= 0.5:
        start, end = on_circle(centre, radius * 0.8, 0), on_circle(centre, radius * 0.8, clockwise_deg)
        large = 1 if abs(clockwise_deg) > 180 else 0
        sweep = 1 if clockwise_deg > 0 else 0
        r = number(radius * 0.8)
        arc = f"M{number(start[0])} {number(start[1])}A{r} {r} 0 {large} {sweep} {number(end[0])} {number(end[1])}"
        canvas.path(arc, f"arc-{letter}", f"error-arc-{letter}")
    canvas.line(centre, tip, "trace-A", f"actual-needle-{letter}")
    canvas.circle(centre, 2.2, "solid")
    size = max(radius * 0.3, canvas.scaled(LEAST_NAME_PX))
    back = on_circle(centre, max(radius * 0.34, size * 0.5 + 3.5), clockwise_deg + 180)
    canvas.text((back[0], back[1] + size * 0.34), "A", size / canvas.theme.text_scale, "ink", "middle", bold=True)


def _floating_card(canvas: Canvas, centre: Point, scale: float, read: Reading) -> None:
    """A card seen from outside through a window: its numbers grow to the left, and the line is fixed to the case."""
    width, height = WINDOW_PX[0] * scale, WINDOW_PX[1] * scale
    left, top = centre[0] - width / 2, centre[1] - height / 2
    radius = CARD_PX * scale
    canvas.box(left, top, width, height, "window" if read.valid else "window gone")
    parts: dict[str, list[str]] = {"hair-mark": [], "mark": [], "heavy": []}
    first = math.ceil((read.heading_deg - SEEN_DEG) / 5)
    last = math.floor((read.heading_deg + SEEN_DEG) / 5)
    base = centre[1] + height * 0.34
    names: list[tuple[float, str, bool]] = []
    for step in range(first, last + 1):
        mark = step * 5
        x = card_x(centre[0], radius, mark - read.heading_deg)
        length, css = (0.22, "heavy") if mark % 30 == 0 else (0.16, "mark") if mark % 10 == 0 else (0.09, "hair-mark")
        parts[css].append(f"M{number(x)} {number(base)}L{number(x)} {number(base - height * length)}")
        if mark % 30 == 0:
            names.append((x, rose_name(mark % 360), mark % 90 == 0))
    for css, moves in parts.items():
        if moves:
            canvas.path("".join(moves), css, f"card-{css}")
    canvas.line((left + 1, base), (left + width - 1, base), "trace-C" if read.valid else "rim gone", "card-edge")
    canvas.line((centre[0], top - 7 * scale), (centre[0], top + height + 7 * scale), "fixed", "fixed-line")
    size = height * 0.27
    for x, name, bold in names:
        half = text_width(name, size, "figure-700") / 2
        if left + 3 < x - half and x + half < left + width - 3:
            at = (x, centre[1] - height * 0.02)
            canvas.text(at, name, size / canvas.theme.text_scale, "ink halo", "middle", bold=bold, part="card-name")
    if read.valid:
        _actual_on_card(canvas, centre, radius, height, read)


def card_x(centre_x: float, radius: float, ahead_deg: float) -> float:
    """Where a mark `ahead_deg` greater than the reading stands in the card's window [px]: to the left."""
    return centre_x - radius * math.sin(math.radians(ahead_deg))


def _actual_on_card(canvas: Canvas, centre: Point, radius: float, height: float, read: Reading) -> None:
    """A mark under the window at the card's own graduation of the actual heading."""
    ahead = max(-SEEN_DEG, min(SEEN_DEG, -read.error_deg))
    x = card_x(centre[0], radius, ahead)
    y = centre[1] + height / 2
    size = max(height * 0.17, canvas.scaled(LEAST_NAME_PX))
    out = abs(read.error_deg) > SEEN_DEG
    tip = math.copysign(5.0, read.error_deg) if out else 0.0
    canvas.line((x, y - height * 0.16), (x, y + 5), "trace-A", "actual-on-card")
    if out:
        canvas.polygon([(x + tip, y + 2), (x - tip * 0.2, y - 2), (x - tip * 0.2, y + 6)], "solid")
    canvas.text((x, y + 5 + size), "A", size / canvas.theme.text_scale, "ink", "middle", bold=True)


def _sensed_arrow(canvas: Canvas, centre: Point, scale: float, read: Reading) -> None:
    """The detector: magnetic north as it senses it, seen from above, nose up, with the actual north beside it."""
    radius = ROSE_PX * scale * 0.8
    canvas.circle(centre, radius, "rim")
    _fixed_mark(canvas, centre, radius)
    if read.valid:
        canvas.line(centre, on_circle(centre, radius * 0.92, -read.heading_deg), "trace-D", "sensed-north")
        tip = on_circle(centre, radius * 0.92, -read.heading_deg + read.error_deg)
        canvas.line(centre, tip, "trace-A", "actual-north")
    canvas.circle(centre, 2.2, "solid")


def _synchronisation(canvas: Canvas, centre: Point, scale: float, signal: float) -> None:
    """The synchronisation indicator: a bar from the middle, left or right by the sign of the signal."""
    y = centre[1] + (ROSE_PX + 13) * scale
    half = 26 * scale
    canvas.line((centre[0] - half, y), (centre[0] + half, y), "axis")
    canvas.line((centre[0], y - 4), (centre[0], y + 4), "mark")
    x = centre[0] + half * max(-1.0, min(1.0, signal))
    canvas.circle((x, y), 3.6 * scale, "acting-dot", "indicator")
    size = SMALL_PX
    canvas.text((centre[0] - half - 5, y + 4), "−", size, "quiet", "end")
    canvas.text((centre[0] + half + 5, y + 4), "+", size, "quiet")


def _captions(
    canvas: Canvas, centre: Point, scale: float, column: float, read: Reading, run: Run, time_s: float, words: Words
) -> float:
    """Name, value and error beneath a face, and what in it turns; returns the lowest edge [px]."""
    letter = INSTRUMENTS[read.instrument]
    size, small = canvas.scaled(LABEL_PX), canvas.scaled(SMALL_PX)
    left = centre[0] - column / 2 + 10
    y = centre[1] + (ROSE_PX + 30) * scale + size
    canvas.badge((left + size * 0.62, y - size * 0.34), letter, size * 0.62)
    name_lines = _name_lines(capital(words.name(read.instrument)), column - 20 - size * 1.6, size)
    for i, line in enumerate(name_lines):
        canvas.text((left + size * 1.6, y + i * size * 1.15), line, LABEL_PX, f"fill-{letter}", bold=True)
    y += size * (0.15 + 1.15 * len(name_lines))
    north = run[f"{read.instrument}.heading"].north
    shown = format_heading(read.heading_deg, north) if read.valid else words.say("reading.none")
    value = canvas.text((left, y + size * 0.35), shown, LABEL_PX * 1.35, "ink num", bold=True, part=f"value-{letter}")
    if read.valid:
        error = side(read.error_deg, words)
        beside = (value.right + 8, y + size * 0.35)
        if beside[0] + text_width(error, size) > left + column - 14:
            y += size * 1.2
            beside = (left, y + size * 0.35)
        canvas.text(beside, error, LABEL_PX, f"fill-{letter}", part=f"error-{letter}")
    y += size * 0.45
    notes = [_mode(run, time_s, words)] if read.instrument == "slaved" and "slaved.mode" in run.columns else []
    for line in [*notes, *wrap_text(words.say(f"faces.{read.instrument}_turns"), column - 20, small)]:
        y += small * 1.3
        canvas.text((left, y), line, SMALL_PX, "quiet")
    return y


def _name_lines(name: str, width_px: float, size_px: float) -> list[str]:
    """A name in lines; a word too wide for a line of its own is broken at its hyphens."""
    fits = [text_width(word, size_px, "figure-700") <= width_px for word in name.split()]
    words = [word if whole else word.replace("-", "- ") for word, whole in zip(name.split(), fits, strict=True)]
    return wrap_text(" ".join(words), width_px, size_px, "figure-700")


def _mode(run: Run, time_s: float, words: Words) -> str:
    i = min(int(run.time_s.searchsorted(time_s + 1e-9)), run.time_s.size) - 1
    mode = int(run["slaved.mode"].values[max(i, 0)])
    return capital(words.say(f"faces.mode_{mode if mode in range(4) else 0}"))


def _table(run: Run, readings: list[Reading], actual: float, words: Words) -> DataTable:
    rows = [(capital(words.actual), format_heading(actual, "magnetic", 1), "")]
    for read in readings:
        north = run[f"{read.instrument}.heading"].north
        shown = format_heading(read.heading_deg, north, 1) if read.valid else "–"
        error = format_quantity(read.error_deg, "deg", 1) if read.valid else "–"
        rows.append((capital(words.name(read.instrument)), shown, error))
    return DataTable(("", words.say("reading.heading"), words.say("reading.error")), tuple(rows))


def _alt(run: Run, readings: list[Reading], actual: float, time_s: float, title: str, words: Words) -> str:
    heading = format_heading(actual, "magnetic")
    name = capital(words.actual)
    parts = [words.say("faces.alt", time=seconds(time_s), title=title, name=name, heading=heading)]
    for read in readings:
        name = capital(words.name(read.instrument))
        north = run[f"{read.instrument}.heading"].north
        if read.valid:
            value = format_heading(wrap_360(read.heading_deg), north)
            error = format_quantity(read.error_deg, "deg", 1)
            parts.append(words.say("faces.alt_reading", name=name, value=value, error=error))
        else:
            parts.append(words.say("faces.alt_none", name=name))
    return " ".join(parts)
