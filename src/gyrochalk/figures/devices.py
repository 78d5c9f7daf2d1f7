"""What is inside each device of the chain: a pendulum, two hands, an amplifier, a motor, a rotor, a rose."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable

from gyrochalk.figures.faces import on_circle
from gyrochalk.figures.loop_state import RESTING, Device, LoopState
from gyrochalk.figures.svg import Canvas, Point, number

_NAMES = ((0, "N"), (90, "E"), (180, "S"), (270, "W"))


def draw_device(canvas: Canvas, device: Device, centre: Point, radius: float, now: LoopState) -> None:
    """Draw the mechanism of one device about `centre` within `radius` [px], as it stands at that instant."""
    _DEVICES[device](canvas, centre, radius, now)
    if device in ("motor", "gyro") and device in now.broken:
        (x, y), reach = centre, radius * 0.9
        canvas.line((x - reach, y + reach), (x + reach, y - reach), "broken", f"struck-{device}")


def _turned(canvas: Canvas, centre: Point, clockwise_deg: float, inside: str, part: str) -> None:
    place = f"translate({number(centre[0])} {number(centre[1])}) rotate({number(clockwise_deg)})"
    canvas.raw(f'<g data-part="{part}" transform="{place}">{inside}</g>')


def _detector(canvas: Canvas, centre: Point, radius: float, now: LoopState) -> None:
    """Seen from behind: the case banked with the aircraft, the true vertical, and the pendulum where it hangs."""
    pivot = (centre[0], centre[1] - radius * 0.72)
    arm = radius * 1.42
    canvas.line(pivot, (pivot[0], pivot[1] + arm * 1.08), "event", "vertical")
    case = f'<path class="heavy" d="M{number(-radius)} 0L{number(radius)} 0"/>'
    _turned(canvas, pivot, now.bank_deg, case, "case")
    plate = radius * 0.62
    bob = (
        f'<path class="rim" d="M0 0L0 {number(arm * 0.8)}"/>'
        f'<path class="trace-D" d="M{number(-plate)} {number(arm * 0.8)}L{number(plate)} {number(arm * 0.8)}"/>'
        f'<circle class="fill-D" cx="0" cy="{number(arm * 0.94)}" r="{number(radius * 0.13)}"/>'
    )
    _turned(canvas, pivot, now.tilt_deg, bob, "pendulum")
    canvas.circle(pivot, radius * 0.07, "solid")


def _comparison(canvas: Canvas, centre: Point, radius: float, now: LoopState) -> None:
    """Two hands on one circle, north up: what the detector senses, what the card shows, and the angle between."""
    canvas.circle(centre, radius, "rim")
    for mark in range(0, 360, 90):
        canvas.line(on_circle(centre, radius, mark), on_circle(centre, radius * 0.88, mark), "hair-mark")
    hand = f'<path class="trace-S" d="M0 0L0 {number(-radius * 0.9)}"/>'
    if now.slaved.valid:
        _turned(canvas, centre, now.slaved.heading_deg, hand, "hand-S")
    if now.detector.valid:
        sensed = f'<path class="trace-D" d="M0 0L0 {number(-radius * 0.9)}"/>'
        _turned(canvas, centre, now.detector.heading_deg, sensed, "hand-D")
    if now.slaved.valid and now.detector.valid and abs(now.difference_deg) >= 3.0:
        _between(canvas, centre, radius * 0.56, now.slaved.heading_deg, now.difference_deg)
    canvas.circle(centre, radius * 0.07, "solid")


def _between(canvas: Canvas, centre: Point, radius: float, from_deg: float, turn_deg: float) -> None:
    start, end = on_circle(centre, radius, from_deg), on_circle(centre, radius, from_deg + turn_deg)
    r, sweep = number(radius), 1 if turn_deg > 0 else 0
    arc = f"M{number(start[0])} {number(start[1])}A{r} {r} 0 0 {sweep} {number(end[0])} {number(end[1])}"
    canvas.path(arc, "trace-acting", "difference")


def _amplifier(canvas: Canvas, centre: Point, radius: float, now: LoopState) -> None:
    """The triangle that stands for an amplifier, drawn heavy while it asks for something."""
    css = "window edge-acting" if abs(now.demanded) >= RESTING else "window"
    x, y, r = *centre, radius * 0.86
    canvas.polygon([(x - r * 0.8, y - r), (x - r * 0.8, y + r), (x + r, y)], css, "amplifier")


def _motor(canvas: Canvas, centre: Point, radius: float, now: LoopState) -> None:
    """A shaft seen from its end, and an arrow round it while it turns: clockwise when the reading increases."""
    acting = abs(now.correction) >= RESTING
    canvas.circle(centre, radius * 0.62, "window" + (" edge-acting" if acting else ""))
    size = radius * 0.62
    x, y = number(centre[0]), number(centre[1] + size * 0.34)
    css = "fill-acting" if acting else "quiet"
    canvas.raw(f'<text class="t {css} bold middle" x="{x}" y="{y}" font-size="{number(size)}">M</text>')
    if acting:
        _spin(canvas, centre, radius * 0.88, 1.0 if now.correction > 0 else -1.0)


def _spin(canvas: Canvas, centre: Point, radius: float, way: float) -> None:
    start, end = on_circle(centre, radius, -110 * way), on_circle(centre, radius, 85 * way)
    r, sweep = number(radius), 1 if way > 0 else 0
    arc = f"M{number(start[0])} {number(start[1])}A{r} {r} 0 1 {sweep} {number(end[0])} {number(end[1])}"
    canvas.path(arc, "arc-acting", "turning-up" if way > 0 else "turning-down")
    edges = (on_circle(centre, radius * 0.78, 84 * way), on_circle(centre, radius * 1.22, 84 * way))
    canvas.polygon([*edges, on_circle(centre, radius * 1.02, 118 * way)], "fill-acting")


def _gyro(canvas: Canvas, centre: Point, radius: float, now: LoopState) -> None:
    """The rotor on its axis in the gimbal that carries it."""
    x, y = centre
    canvas.circle(centre, radius * 0.95, "rim")
    half, thick = number(radius * 0.7), number(radius * 0.2)
    dead = now.slaved.valid is False
    rotor = (
        f'<ellipse class="window{" gone" if dead else ""}" cx="0" cy="0" rx="{thick}" ry="{half}"/>'
        f'<path class="heavy" d="M{number(-radius * 0.95)} 0L{number(radius * 0.95)} 0"/>'
    )
    _turned(canvas, (x, y), 0.0 if not dead else 28.0, rotor, "rotor")


@functools.lru_cache(maxsize=64)
def _small_rose(radius: float) -> str:
    ticks = []
    for mark in range(0, 360, 30):
        (x0, y0), (x1, y1) = on_circle((0, 0), radius, mark), on_circle((0, 0), radius * 0.82, mark)
        ticks.append(f"M{number(x0)} {number(y0)}L{number(x1)} {number(y1)}")
    size = number(radius * 0.46)
    names = "".join(
        f'<text class="t ink bold middle" transform="rotate({mark}) translate(0 {number(-radius * 0.4)})" '
        f'font-size="{size}">{name}</text>'
        for mark, name in _NAMES
    )
    return f'<path class="mark" d="{"".join(ticks)}"/>{names}'


def _card(canvas: Canvas, centre: Point, radius: float, now: LoopState) -> None:
    """The card the pilot sees: a rose that turns under a fixed mark."""
    radius *= 0.95
    canvas.circle(centre, radius, "trace-S" if now.slaved.valid else "rim gone")
    if now.slaved.valid:
        _turned(canvas, centre, -now.slaved.heading_deg, _small_rose(radius), "rose-S")
    half, top = radius * 0.12, centre[1] - radius
    canvas.polygon([(centre[0] - half, top - half * 2), (centre[0] + half, top - half * 2), (centre[0], top)], "solid")


_DEVICES: dict[Device, Callable[[Canvas, Point, float, LoopState], None]] = {
    "detector": _detector,
    "comparison": _comparison,
    "amplifier": _amplifier,
    "motor": _motor,
    "gyro": _gyro,
    "card": _card,
}


def draw_indicator(canvas: Canvas, centre: Point, half: float, value: float) -> None:
    """The synchronisation indicator: a dot left or right of the middle of a bar, by the sign of the signal."""
    x, y = centre
    dot = 3.6 * math.sqrt(canvas.theme.text_scale)
    canvas.line((x - half, y), (x + half, y), "axis")
    canvas.line((x, y - 4), (x, y + 4), "mark")
    canvas.circle((x + half * max(-1.0, min(1.0, value)), y), dot, "acting-dot", "indicator")
