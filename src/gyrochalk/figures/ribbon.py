"""The ribbon: how far each instrument stands from the actual heading, one lane each, at one instant or several."""

from __future__ import annotations

import dataclasses
import math

from gyrochalk.figures.finding import error_finding, instant_finding, seconds
from gyrochalk.figures.lettering import text_width, wrap_text
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.picture import DataTable, Figure
from gyrochalk.figures.readings import Reading, instants, instruments_of, reading, value_at
from gyrochalk.figures.svg import Anchor, Canvas
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, Letter, Theme
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.words import INSTRUMENTS, Words, capital, joined
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_quantity

LEAST_SCALE_PART = 0.45
"""If the scale would get less than this part of the width, the values beside it are stacked."""
LANES = ("card", "gyro", "slaved")
FINE_DEG, COARSE_DEG = 5.0, 45.0
"""The two scales: full deflection each way."""


@dataclasses.dataclass(frozen=True, slots=True)
class Scale:
    """The fixed line and the scale each side of it: `centre` [px], `half` [px] for `full_deg` each way."""

    centre: float
    half: float
    full_deg: float

    def x(self, error_deg: float) -> float:
        """Where the mark of `error_deg` [deg, high positive] stands [px], held at the end of the scale."""
        return self.centre + self.half * max(-1.0, min(1.0, error_deg / self.full_deg))

    def marks(self) -> list[tuple[float, bool]]:
        """Error of every mark on the scale, and whether it carries its number."""
        step, named = (1, 5) if self.full_deg == FINE_DEG else (5, 15)
        full = int(self.full_deg)
        return [(float(m), m % named == 0) for m in range(-full, full + 1, step)]


def full_scale(readings: list[Reading], options: FigureOptions) -> float:
    """±5° if every mark stays on it, else ±45°, unless the options fix it."""
    if options.scale != "auto":
        return float(options.scale)
    return FINE_DEG if all(abs(r.error_deg) <= FINE_DEG for r in readings if r.valid) else COARSE_DEG


def draw_ribbon(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Draw the ribbon at one instant, or a strip of ribbons over several."""
    shown = instruments_of(run, tuple(n for n in options.show if n != "actual"), LANES)
    times = instants(run, options, shown)
    rows = [[reading(run, name, t) for name in shown] for t in times]
    canvas = Canvas(options.width_px(theme), theme)
    full = full_scale([r for row in rows for r in row], options)
    single = len(times) == 1
    finding = (
        instant_finding(rows[0], times[0], words) if single else error_finding(run, shown, times[0], times[-1], words)
    )
    title = options.title or finding
    top = draw_title(canvas, title)
    draw = _draw_single if single else _draw_strip
    total = draw(canvas, run, top, full, times, rows, words)
    alt = _alt(run, title, full, times, rows, words)
    caption = _caption(full, times, shown, words)
    table = _table(run, times, rows, words)
    return Figure(
        canvas.finish(total, alt), title, alt, caption, table, canvas.width_px, total, tuple(canvas.labels), theme
    )


def _signed(error_deg: float) -> str:
    text = format_quantity(error_deg, "deg", 1)
    return f"+{text}" if error_deg >= 0.05 else text


def _draw_single(
    canvas: Canvas, run: Run, top: float, full: float, times: list[float], rows: list[list[Reading]], words: Words
) -> float:
    size, readings = canvas.scaled(LABEL_PX), rows[0]
    names = [wrap_text(capital(words.name(r.instrument)), canvas.width_px * 0.22, size) for r in readings]
    left = max(text_width(line, size) for lines in names for line in lines) + 14
    right = canvas.width_px - _values_width(canvas)
    stacked = right - left < canvas.width_px * LEAST_SCALE_PART
    if stacked:
        right = canvas.width_px - max(_error_width(canvas), text_width("000° gyro", size)) - 8
    badge = size * 0.9
    scale = Scale((left + right) / 2, (right - left) / 2 - badge - 8, full)
    lane = size * max(3.0, 0.5 + 1.05 * max(len(lines) for lines in names))
    first = _actual_head(canvas, scale, top, value_at(run, "actual.heading", times[0]), words)
    bottom = first + lane * len(readings)
    for i in range(len(readings)):
        canvas.box(left, first + lane * i + 2, right - left, lane - 4, "shade", "lane")
    _scale_lines(canvas, scale, first, bottom)
    for i, (read, lines) in enumerate(zip(readings, names, strict=True)):
        y = first + lane * (i + 0.5)
        _mark(canvas, scale, y, read, badge, INSTRUMENTS[read.instrument])
        for k, line in enumerate(lines):
            base = y + size * (0.34 + 1.05 * (k - (len(lines) - 1) / 2))
            canvas.text((0, base), line, LABEL_PX, f"fill-{INSTRUMENTS[read.instrument]}", part="lane-name")
        _lane_values(canvas, run, read, right + 8, y, words, stacked=stacked)
    return _scale_foot(canvas, scale, bottom, words)


def _actual_head(canvas: Canvas, scale: Scale, top: float, actual: float, words: Words) -> float:
    """The fixed line's head: the letter A and the actual heading; returns where the lanes begin [px]."""
    size = canvas.scaled(LABEL_PX)
    radius = size * 0.74
    y = top + radius + size * 0.35
    canvas.line((scale.centre, y), (scale.centre, y + radius + 4), "fixed")
    canvas.badge((scale.centre, y), "A", radius)
    text = words.say("ribbon.actual", name=capital(words.actual), heading=format_heading(actual, "magnetic"))
    fits = scale.centre + radius + 7 + text_width(text, size, "figure-700") < canvas.width_px
    anchor: Anchor = "start" if fits else "end"
    x = scale.centre + (radius + 7 if fits else -radius - 7)
    canvas.text((x, y + size * 0.34), text, LABEL_PX, "ink", anchor, bold=True, part="actual")
    return y + radius + 4


def _scale_lines(canvas: Canvas, scale: Scale, top: float, bottom: float) -> None:
    """The scale's lines behind the lanes and the fixed line, which is the actual heading."""
    for error, named in scale.marks():
        if error and named:
            canvas.line((scale.x(error), top), (scale.x(error), bottom), "hair", "scale-line")
    canvas.line((scale.centre, top), (scale.centre, bottom), "fixed", "fixed-line")


def _scale_foot(canvas: Canvas, scale: Scale, bottom: float, words: Words) -> float:
    """The scale under the lanes with its numbers, and words for its two sides; returns the lowest edge [px]."""
    small = canvas.scaled(SMALL_PX)
    canvas.line((scale.x(-scale.full_deg), bottom), (scale.x(scale.full_deg), bottom), "axis")
    y = bottom + 4 + small * 1.1
    named_px = scale.half * (15.0 if scale.full_deg == COARSE_DEG else 5.0) / scale.full_deg
    roomy = named_px > text_width("+45°", small) + 6
    for error, named in scale.marks():
        canvas.line((scale.x(error), bottom), (scale.x(error), bottom + (6 if named else 4)), "axis")
        if named and (roomy or abs(error) in (0.0, scale.full_deg)):
            text = "0" if error == 0 else f"{'+' if error > 0 else '−'}{abs(error):.0f}°"
            canvas.text((scale.x(error), y), text, SMALL_PX, "quiet num", "middle", part="scale-mark")
    y += small * 1.25
    low, high = words.say("ribbon.reads_low"), words.say("ribbon.reads_high")
    canvas.text((scale.x(-scale.full_deg), y), low, SMALL_PX, "quiet")
    if 2 * scale.half < text_width(f"{low} {high}", small) + 8:
        y += small * 1.2
    canvas.text((scale.x(scale.full_deg), y), high, SMALL_PX, "quiet", "end")
    if 2 * scale.half < text_width(f"{low} {words.say('ribbon.scale', full='45')} {high}", small) + 12:
        y += small * 1.2
    name = words.say("ribbon.scale", full=f"{scale.full_deg:.0f}")
    canvas.text((scale.centre, y), name, SMALL_PX, "quiet", "middle", part="scale")
    return y + small * 0.5


def _mark(canvas: Canvas, scale: Scale, y: float, read: Reading, badge: float, letter: Letter) -> None:
    """The mark itself, joined to the fixed line; at the end of the scale an arrow says that it stands further out."""
    if not read.valid:
        canvas.badge((scale.centre, y), letter, badge, gone=True)
        return
    x = scale.x(read.error_deg)
    if abs(x - scale.centre) > badge + 2:
        canvas.line((scale.centre, y), (x - math.copysign(badge, read.error_deg), y), f"trace-{letter}")
    canvas.badge((x, y), letter, badge)
    if abs(read.error_deg) > scale.full_deg:
        out = math.copysign(1.0, read.error_deg)
        tip = x + out * (badge + 6)
        canvas.polygon([(tip, y), (tip - out * 5, y - 5), (tip - out * 5, y + 5)], f"fill-{letter}", "beyond")


def _error_width(canvas: Canvas) -> float:
    return text_width("+180.0°", canvas.scaled(LABEL_PX) * 1.25, "figure-700")


def _values_width(canvas: Canvas) -> float:
    return _error_width(canvas) + text_width("000° gyro", canvas.scaled(LABEL_PX)) + 22


def _lane_values(canvas: Canvas, run: Run, read: Reading, x: float, y: float, words: Words, *, stacked: bool) -> None:
    """Error and reading beside a lane, the reading beneath the error if they are `stacked`."""
    size = canvas.scaled(LABEL_PX)
    letter = INSTRUMENTS[read.instrument]
    if not read.valid:
        _no_reading(canvas, x, y, words)
        return
    edge = x + _error_width(canvas)
    lift = size * 0.6 if stacked else 0.0
    at = (edge, y + size * 0.42 - lift)
    css = f"fill-{letter} num"
    canvas.text(at, _signed(read.error_deg), LABEL_PX * 1.25, css, "end", bold=True, part=f"error-{letter}")
    shown = format_heading(read.heading_deg, run[f"{read.instrument}.heading"].north)
    beside = (x, y + size * 1.1) if stacked else (edge + 8, y + size * 0.42)
    canvas.text(beside, shown, LABEL_PX, "quiet num", part=f"value-{letter}")


def _no_reading(canvas: Canvas, x: float, y: float, words: Words) -> None:
    """Say, in as many lines as it needs, that there is nothing to read."""
    size = canvas.scaled(LABEL_PX)
    lines = wrap_text(words.say("reading.none"), canvas.width_px - x, size)
    for i, line in enumerate(lines):
        base = y + size * (0.34 + 1.05 * (i - (len(lines) - 1) / 2))
        canvas.text((x, base), line, LABEL_PX, "quiet")


def _draw_strip(
    canvas: Canvas, run: Run, top: float, full: float, times: list[float], rows: list[list[Reading]], words: Words
) -> float:
    """Small ribbons one beneath the other, time going down."""
    size, small = canvas.scaled(LABEL_PX), canvas.scaled(SMALL_PX)
    badge = small * 0.62
    longest = max(text_width(word, small) for r in rows[0] for word in words.name(r.instrument).split())
    number_width = max(text_width("−180.0°", small) + 14, longest + 8)
    left = max(text_width(seconds(t), size, "figure-700") for t in times) + text_width("000° M", small) + 26
    right = canvas.width_px - number_width * len(rows[0]) - 8
    scale = Scale((left + right) / 2, (right - left) / 2 - badge - 4, full)
    first = _strip_head(canvas, top, left, right, number_width, rows[0], words)
    sub = badge * 2.15
    row_height = sub * len(rows[0]) + small * 0.9
    bottom = first + row_height * len(times)
    _scale_lines(canvas, scale, first, bottom)
    for i, (time_s, readings) in enumerate(zip(times, rows, strict=True)):
        row_top = first + row_height * i
        middle = row_top + row_height / 2
        if i:
            canvas.line((0, row_top), (canvas.width_px, row_top), "hair")
        canvas.text((0, middle + size * 0.34), seconds(time_s), LABEL_PX, "ink", bold=True, part="time")
        heading = format_heading(value_at(run, "actual.heading", time_s), "magnetic")
        canvas.text((left - 10, middle + small * 0.34), heading, SMALL_PX, "quiet num", "end", part="actual")
        for k, read in enumerate(readings):
            letter = INSTRUMENTS[read.instrument]
            y = row_top + small * 0.45 + sub * (k + 0.5)
            _mark(canvas, scale, y, read, badge, letter)
            text = _signed(read.error_deg) if read.valid else "–"
            edge = right + number_width * (k + 1)
            canvas.text(
                (edge, middle + small * 0.34), text, SMALL_PX, f"fill-{letter} num", "end", part=f"error-{letter}"
            )
    return _scale_foot(canvas, scale, bottom, words)


def _strip_head(
    canvas: Canvas, top: float, left: float, right: float, column: float, readings: list[Reading], words: Words
) -> float:
    """Names over the columns of a strip; returns where its rows begin [px]."""
    small = canvas.scaled(SMALL_PX)
    names = [wrap_text(words.name(r.instrument), column - 6, small) for r in readings]
    rows = max(2, *(len(lines) for lines in names))
    base = top + small * (2.3 + 1.1 * rows)
    canvas.text((0, base), words.say("reading.time"), SMALL_PX, "quiet")
    for i, line in enumerate(reversed(wrap_text(words.actual, left * 0.6, small))):
        canvas.text((left - 10, base - small * 1.1 * i), line, SMALL_PX, "quiet", "end")
    for k, (read, lines) in enumerate(zip(readings, names, strict=True)):
        letter = INSTRUMENTS[read.instrument]
        edge = right + column * (k + 1)
        for i, line in enumerate(reversed(lines)):
            canvas.text((edge, base - small * 1.1 * i), line, SMALL_PX, f"fill-{letter}", "end", part="column-name")
        canvas.badge((edge - small * 0.7, base - small * (1.1 * len(lines) + 0.6)), letter, small * 0.68)
    return base + small * 0.6


def _table(run: Run, times: list[float], rows: list[list[Reading]], words: Words) -> DataTable:
    names = [words.name(r.instrument) for r in rows[0]]
    columns = [words.say(f"ribbon.column_{what}", name=name) for name in names for what in ("heading", "error")]
    header = (words.say("reading.time"), words.actual, *columns)
    return DataTable(header, tuple(_row(run, t, row) for t, row in zip(times, rows, strict=True)))


def _row(run: Run, time_s: float, readings: list[Reading]) -> tuple[str, ...]:
    cells = [seconds(time_s, 1), format_heading(value_at(run, "actual.heading", time_s), "magnetic", 1)]
    for read in readings:
        north = run[f"{read.instrument}.heading"].north
        cells += [format_heading(read.heading_deg, north, 1), _signed(read.error_deg)] if read.valid else ["–", "–"]
    return tuple(cells)


def _alt(run: Run, title: str, full: float, times: list[float], rows: list[list[Reading]], words: Words) -> str:
    parts = [words.say("ribbon.alt", full=f"{full:.0f}", title=title)]
    for time_s, readings in zip(times, rows, strict=True):
        heading = format_heading(value_at(run, "actual.heading", time_s), "magnetic")
        said = [_signed(r.error_deg) if r.valid else words.say("reading.none") for r in readings]
        marks = joined(
            [
                words.say("ribbon.alt_mark", name=words.name(r.instrument), error=text)
                for r, text in zip(readings, said, strict=True)
            ],
            words,
        )
        parts.append(words.say("ribbon.alt_at", time=seconds(time_s), name=words.actual, heading=heading, marks=marks))
    return " ".join(parts)


def _caption(full: float, times: list[float], shown: tuple[str, ...], words: Words) -> str:
    names = joined([words.name(name) for name in shown], words)
    if len(times) == 1:
        return words.say("ribbon.caption_instant", names=names, time=seconds(times[0]), full=f"{full:.0f}")
    return words.say("ribbon.caption_instants", names=names, count=len(times), full=f"{full:.0f}")
