"""The three wires from the detector to the comparison, and what a wiring fault does to them."""

from __future__ import annotations

from gyrochalk.figures.arrows import arrow, broken_line, polyline
from gyrochalk.figures.loop_state import LoopState
from gyrochalk.figures.svg import Canvas, Point

SPACING_PX = 6.0


def draw_wires(canvas: Canvas, start: Point, end: Point, now: LoopState) -> None:
    """Draw the three wires from `start` to `end`, the one a fault names broken, bridged or crossed."""
    step = SPACING_PX * canvas.theme.text_scale
    levels = [start[1] + step * (k - 1) for k in range(3)]
    others = [k for k in range(3) if k != now.wire - 1]
    for k, y in enumerate(levels):
        named = k == now.wire - 1
        one, other = (start[0], y), (end[0], y)
        if now.wires == "silent" or (now.wires in ("open", "dead") and named):
            broken_line(canvas, one, other, f"wire-{k + 1}", 4.0)
        elif now.wires == "swapped" and not named:
            _crossed(canvas, one, (end[0], levels[others[1 - others.index(k)]]), k)
        else:
            arrow(canvas, [one, other], "wire-D", "fill-D", f"wire-{k + 1}")
    middle = (start[0] + end[0]) / 2
    if now.wires == "shorted":
        canvas.line((middle, levels[others[0]]), (middle, levels[others[1]]), "broken", "bridge")
        for k in others:
            canvas.circle((middle, levels[k]), step * 0.4, "fill-alert", "bridge-end")
    elif now.wires == "reversed":
        y, half = levels[now.wire - 1], step * 0.9
        canvas.polygon(
            [(middle - half, y), (middle + half, y - half), (middle + half, y + half)], "fill-alert", "reversed"
        )


def _crossed(canvas: Canvas, start: Point, end: Point, k: int) -> None:
    width = end[0] - start[0]
    first, second = start[0] + width * 0.38, start[0] + width * 0.62
    polyline(canvas, [start, (first, start[1])], "wire-D")
    polyline(canvas, [(first, start[1]), (second, end[1])], "broken", f"wire-{k + 1}")
    arrow(canvas, [(second, end[1]), end], "wire-D", "fill-D")
