"""How the chain of the slaving loop is laid out: boxes, the links between them, and what is written on each."""

from __future__ import annotations

import dataclasses

from gyrochalk.figures.arrows import arrow, broken_line, open_switch, polyline
from gyrochalk.figures.devices import draw_device, draw_indicator
from gyrochalk.figures.lettering import text_width, wrap_text
from gyrochalk.figures.loop_state import DEVICES, Device, Link, LoopState
from gyrochalk.figures.svg import Canvas, Point
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX
from gyrochalk.figures.wires import draw_wires
from gyrochalk.figures.words import Words, capital
from gyrochalk.units import format_number

WIDE_PX, NARROW_PX = 600.0, 420.0
"""From this width (at text scale 1) the chain has four columns; below the other its letters are all small."""
_CELLS: dict[bool, dict[Device, tuple[int, int]]] = {
    True: {
        "detector": (0, 0),
        "comparison": (1, 0),
        "amplifier": (2, 0),
        "motor": (3, 0),
        "gyro": (3, 1),
        "card": (1, 1),
    },
    False: {
        "detector": (0, 0),
        "comparison": (1, 0),
        "amplifier": (2, 0),
        "motor": (2, 1),
        "gyro": (1, 1),
        "card": (0, 1),
    },
}


@dataclasses.dataclass(frozen=True, slots=True)
class Plan:
    """Where the boxes stand [px]: `left` and `top` of the whole, box `width` and `height`, `gap` between columns,
    `drop` between rows, `radius` of what is drawn inside, `wide` whether there are four columns, letter sizes."""

    left: float
    top: float
    width: float
    height: float
    gap: float
    drop: float
    radius: float
    wide: bool
    name_px: float
    head_lines: int

    def corner(self, device: Device) -> Point:
        """Upper left corner of a box."""
        column, row = _CELLS[self.wide][device]
        return self.left + column * (self.width + self.gap), self.top + row * (self.height + self.drop)

    def port(self, device: Device, side: str) -> Point:
        """The middle of one side of a box: left, right, above, below; left and right at the height of the mechanism."""
        x, y = self.corner(device)
        level = self.mechanism(device)[1]
        return {
            "left": (x, level),
            "right": (x + self.width, level),
            "above": (x + self.width / 2, y),
            "below": (x + self.width / 2, y + self.height),
        }[side]

    def mechanism(self, device: Device) -> Point:
        """The middle of what is drawn inside a box."""
        x, y = self.corner(device)
        return x + self.width / 2, y + self.height * 0.52

    @property
    def bottom(self) -> float:
        """The lowest edge of the boxes."""
        return self.top + 2 * self.height + self.drop


def lay_out(canvas: Canvas, left: float, top: float, width: float, words: Words) -> Plan:
    """Choose columns and sizes for a chain `width` px wide."""
    scale = canvas.theme.text_scale
    wide = width / scale >= WIDE_PX
    name_px = SMALL_PX if width / scale < NARROW_PX else LABEL_PX
    size, small = canvas.scaled(name_px), canvas.scaled(SMALL_PX)
    columns = 4 if wide else 3
    gap = text_width("−00.0 °/min", size, "figure-700") + (4 if name_px == SMALL_PX else 10) * scale
    box = (width - gap * (columns - 1)) / columns
    lines = max(len(wrap_text(capital(_name(d, words)), box - 6, size, "figure-700")) for d in DEVICES)
    head = size * (0.5 + 1.15 * lines)
    foot = small * 1.6
    radius = min(box * 0.36, 38.0 * scale)
    height = 2 * max(head, foot) + 2 * radius + 8 * scale
    drop = size * 1.2 + small * 2.6 + 18 * scale
    return Plan(left, top, box, height, gap, drop, radius, wide, name_px, lines)


def _name(device: Device, words: Words) -> str:
    return words.detector if device == "detector" else device


def draw_chain(canvas: Canvas, left: float, top: float, width: float, now: LoopState, words: Words) -> float:
    """Draw the loop in a space `width` px wide; returns its lowest edge [px]."""
    plan = lay_out(canvas, left + 1.0, top, width - 2.0, words)
    for device in DEVICES:
        _box(canvas, plan, device, now, words)
    for link in now.links:
        _link(canvas, plan, link, now)
    return _indicator(canvas, plan, now)


def _box(canvas: Canvas, plan: Plan, device: Device, now: LoopState, words: Words) -> None:
    x, y = plan.corner(device)
    size, small = canvas.scaled(plan.name_px), canvas.scaled(SMALL_PX)
    canvas.box(x, y, plan.width, plan.height, "window" + (" edge-alert" if device in now.broken else ""), device)
    middle = x + plan.width / 2
    css = {"detector": "fill-D", "card": "fill-S"}.get(device, "ink")
    lines = wrap_text(capital(_name(device, words)), plan.width - 6, size, "figure-700")
    fits = min(1.0, (plan.width - 6) / max(text_width(line, size, "figure-700") for line in lines))
    for i, line in enumerate(lines):
        place = (middle, y + size * (1.2 + 1.15 * i))
        canvas.text(place, line, plan.name_px * fits, css, "middle", bold=True, part="device")
    draw_device(canvas, device, plan.mechanism(device), plan.radius, now)
    note = now.notes[device]
    if note:
        part = f"note-{device}"
        canvas.text((middle, y + plan.height - small * 0.55), note, SMALL_PX, "quiet", "middle", part=part)


def _link(canvas: Canvas, plan: Plan, link: Link, now: LoopState) -> None:
    points = _route(plan, link)
    if link.start == "detector":
        draw_wires(canvas, points[0], points[-1], now)
    elif link.state == "broken" and link.start == "amplifier":
        open_switch(canvas, points[-2], points[-1], link.name)
    elif link.state == "broken":
        _broken(canvas, points, link.name)
    elif link.state == "acting":
        arrow(canvas, points, "arc-acting", "fill-acting", link.name)
    elif link.state == "signal":
        arrow(canvas, points, "trace-S", "fill-S", link.name)
    else:
        arrow(canvas, points, "rim", "quiet-solid", link.name)
    _label(canvas, plan, link, points)


def _broken(canvas: Canvas, points: list[Point], part: str) -> None:
    """A broken link, parted in the middle of its line."""
    if len(points) == 2:
        broken_line(canvas, points[0], points[1], part)
        return
    start, first, second, end = points
    polyline(canvas, [start, first], "rim", part)
    broken_line(canvas, first, second, part)
    polyline(canvas, [second, end], "rim", part)


def _route(plan: Plan, link: Link) -> list[Point]:
    """The corners of a link's line."""
    start, end = _CELLS[plan.wide][link.start], _CELLS[plan.wide][link.end]
    if start[1] == end[1]:
        sides = ("right", "left") if start[0] < end[0] else ("left", "right")
        return [plan.port(link.start, sides[0]), plan.port(link.end, sides[1])]
    if start[1] < end[1]:
        return [plan.port(link.start, "below"), plan.port(link.end, "above")]
    low, high = plan.port(link.start, "above"), plan.port(link.end, "below")
    if start[0] == end[0]:
        return [low, high]
    turn = high[1] + plan.drop * 0.5
    return [low, (low[0], turn), (high[0], turn), high]


def _label(canvas: Canvas, plan: Plan, link: Link, points: list[Point]) -> None:
    """The value over and the sense under a level link, both beside an upright one."""
    size, small = canvas.scaled(plan.name_px), canvas.scaled(SMALL_PX)
    css = {"acting": "fill-acting num", "broken": "alert num", "rest": "quiet num"}.get(link.state, "ink num")
    if link.start == "detector" and link.state == "signal":
        css = "fill-D num"
    elif link.state == "signal":
        css = "fill-S num"
    value, sense = f"value-{link.name}", f"sense-{link.name}"
    if points[0][0] == points[-1][0]:
        right_half = plan.wide and link.end == "comparison"
        aside = (14 if link.state == "broken" else 8) * canvas.theme.text_scale
        x = points[0][0] + (aside if right_half else -aside)
        anchor = "start" if right_half else "end"
        lines = wrap_text(link.sense, plan.gap + plan.width * 0.4, small)
        y = (points[0][1] + points[-1][1]) / 2 - (small * 1.15 * len(lines)) / 2 + size * 0.3
        canvas.text((x, y), link.value, plan.name_px, css, anchor, bold=True, part=value)  # type: ignore[arg-type]
        for i, line in enumerate(lines):
            below = y + small * 1.2 * (i + 1)
            canvas.text((x, below), line, SMALL_PX, "quiet", anchor, part=sense)  # type: ignore[arg-type]
        return
    start, end = (points[0], points[-1]) if len(points) == 2 else (points[1], points[2])
    middle, level = (start[0] + end[0]) / 2, start[1]
    clear = (16 if link.state == "broken" else 10 if link.start == "detector" else 6) * canvas.theme.text_scale
    canvas.text((middle, level - clear), link.value, plan.name_px, css, "middle", bold=True, part=value)
    for i, line in enumerate(wrap_text(link.sense, abs(end[0] - start[0]) - 4, small)):
        canvas.text((middle, level + clear + small * (0.8 + 1.15 * i)), line, SMALL_PX, "quiet", "middle", part=sense)


def _indicator(canvas: Canvas, plan: Plan, now: LoopState) -> float:
    """The synchronisation indicator under the card; returns its lowest edge [px]."""
    size, small = canvas.scaled(plan.name_px), canvas.scaled(SMALL_PX)
    x = plan.port("card", "below")[0]
    y = plan.bottom + size * 0.95
    half = min(plan.width * 0.34, plan.width / 2 - 8 - small * 0.7)
    canvas.line((x, plan.bottom), (x, y), "axis")
    draw_indicator(canvas, (x, y), half, now.indicator)
    text = format_number(now.indicator, 2)
    text = f"+{text}" if now.indicator >= 0.005 else text
    for end, sign in ((x - half - 8, "−"), (x + half + 8, "+")):
        canvas.text((end, y + small * 0.35), sign, SMALL_PX, "quiet", "end" if sign == "−" else "start")
    base = y + small * 1.6
    text = f"indicator {text}"
    x = max(x, plan.left + text_width(text, small) / 2)
    canvas.text((x, base), text, SMALL_PX, "quiet num", "middle", part="indicator-value")
    return base + small * 0.3
