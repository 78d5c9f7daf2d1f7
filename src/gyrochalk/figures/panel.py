"""One panel of a picture of traces: its vertical axis, its lines, the label at each line's end."""

from __future__ import annotations

import dataclasses

import numpy as np

from gyrochalk.figures.lettering import wrap_text
from gyrochalk.figures.placing import spread
from gyrochalk.figures.readings import Floats
from gyrochalk.figures.svg import Canvas, number
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, Letter
from gyrochalk.figures.thinning import drop_straight, keep_extremes, pieces
from gyrochalk.figures.ticks import decimal_step, decimals_of, degree_step, marks
from gyrochalk.figures.timeaxis import TimeAxis
from gyrochalk.figures.words import WORDS, Words, capital
from gyrochalk.units import UNITS, format_heading, format_number

BUCKET_PX = 1.2
STRAIGHT_PX = 0.12
LEAST_SPAN = 0.4


@dataclasses.dataclass(frozen=True, slots=True)
class Trace:
    """One line: channel `name`, `label` at its end, `title` in tables, its `letter`, `values` (n,), NaN: nothing."""

    name: str
    label: str
    title: str
    letter: Letter
    values: Floats

    @property
    def largest(self) -> float:
        """The largest size of any value, 0 if none is valid."""
        good = self.values[np.isfinite(self.values)]
        return float(np.abs(good).max()) if good.size else 0.0


def panel_height(canvas: Canvas, panels: list[Panel], label_width: float) -> float:
    """Height of each panel [px]: room for its curves and for a label at the end of every line."""
    count = len(panels)
    whole = canvas.width_px * {1: 0.34, 2: 0.46, 3: 0.6}.get(count, 0.2 * count)
    return round(max(whole / count, *(panel.labels_height(canvas, label_width) for panel in panels)))


@dataclasses.dataclass(slots=True)
class Panel:
    """Traces that share a unit and a scale.

    `what` names the quantity, `unit` its plain unit, `time_s` (n,) the times of every trace; `jump` the step beyond
    which neighbours are not joined (half a turn for angles); `zero` keeps zero in sight; `heading` marks the axis as
    headings; `whole_circle` fixes it to 000–360; `finer` says that its scale is finer than that of the panel above.
    """

    what: str
    unit: str
    time_s: Floats
    traces: list[Trace]
    jump: float | None
    zero: bool
    heading: bool = False
    whole_circle: bool = False
    finer: bool = False
    words: Words = WORDS

    def name(self) -> str:
        """What stands over the vertical axis: the quantity and its unit."""
        shown = UNITS[self.unit].shown
        name = capital(self.what) + (f" [{shown}]" if shown else "")
        return self.words.say("traces.finer", name=name) if self.finer else name

    def label_lines(self, canvas: Canvas, label_width: float) -> list[list[str]]:
        """The label of each line, broken to fit `label_width` [px]."""
        return [wrap_text(trace.label, label_width, canvas.scaled(LABEL_PX)) for trace in self.traces]

    def label_gap(self, canvas: Canvas, label_width: float) -> float:
        """How far labels at line ends must stand apart [px]."""
        most = max(len(lines) for lines in self.label_lines(canvas, label_width))
        return canvas.scaled(LABEL_PX) * (0.35 + 1.05 * most)

    def labels_height(self, canvas: Canvas, label_width: float) -> float:
        """The least height at which every label finds a place [px]."""
        return self.label_gap(canvas, label_width) * len(self.traces)

    def limits(self) -> tuple[float, float]:
        """The lowest and highest value the axis shows."""
        if self.whole_circle:
            return 0.0, 360.0
        every = np.concatenate([t.values[np.isfinite(t.values)] for t in self.traces])
        low, high = (float(every.min()), float(every.max())) if every.size else (0.0, 0.0)
        if self.zero:
            low, high = min(low, 0.0), max(high, 0.0)
        spare = max(LEAST_SPAN - (high - low), 0.0) / 2 + 0.06 * (high - low)
        return low - spare, high + spare

    def draw(self, canvas: Canvas, axis: TimeAxis, top: float, height: float) -> None:
        """Draw the panel with its upper edge at `top` [px]."""
        low, high = self.limits()
        bottom = top + height

        def y_of(value: float) -> float:
            return bottom - (value - low) / (high - low) * height

        self._vertical_axis(canvas, axis, top, height, low, high)
        for trace in self.traces:
            self._line(canvas, axis, trace, low, high, top, height)
        ends = [self._end(t) for t in self.traces]
        self._end_labels(canvas, axis, [(float(axis.x(t)), y_of(v)) for t, v in ends], top, bottom)

    def _vertical_axis(
        self, canvas: Canvas, axis: TimeAxis, top: float, height: float, low: float, high: float
    ) -> None:
        wanted = max(2, int(height / (canvas.scaled(SMALL_PX) * 2.4)))
        step = degree_step(high - low, wanted) if self.unit == "deg" else decimal_step(high - low, wanted)
        for mark in marks(low, high, step):
            y = top + height - (mark - low) / (high - low) * height
            canvas.line((axis.left, y), (axis.right, y), "axis" if self.zero and abs(mark) < 1e-9 else "hair", "grid")
            canvas.text(
                (axis.left - 6, y + canvas.scaled(SMALL_PX) * 0.35),
                self._mark(mark, step),
                SMALL_PX,
                "quiet num",
                "end",
                part="y-mark",
            )
        canvas.text(
            (axis.left, top - canvas.scaled(SMALL_PX) * 0.5), self.name(), SMALL_PX, "quiet halo", part="y-name"
        )

    def _mark(self, mark: float, step: float) -> str:
        if self.heading:
            return "360" if self.whole_circle and mark == 360.0 else format_heading(mark).rstrip("°")
        text = format_number(mark, decimals_of(step)) if abs(mark) > 1e-9 else "0"
        return f"+{text}" if self.zero and mark > 1e-9 else text

    def _line(
        self, canvas: Canvas, axis: TimeAxis, trace: Trace, low: float, high: float, top: float, height: float
    ) -> None:
        commands: list[str] = []
        for start, stop in pieces(trace.values, None, None if self.jump is None else 2 * self.jump):
            values, times = trace.values[start:stop], self.time_s[start:stop]
            kept = keep_extremes(values, max(2, int((axis.right - axis.left) / BUCKET_PX)))
            x = axis.x(times[kept])
            y = top + height - (values[kept] - low) / (high - low) * height
            points = [f"{number(x[i])} {number(y[i])}" for i in drop_straight(x, y, STRAIGHT_PX)]
            commands.append("M" + "L".join(points if len(points) > 1 else points * 2))
        if commands:
            canvas.path("".join(commands), self.css(trace), f"trace {trace.name}")

    def css(self, trace: Trace) -> str:
        """The class a line is drawn in."""
        return f"trace-{trace.letter}"

    def _end(self, trace: Trace) -> tuple[float, float]:
        """Time [s] and value at which a line ends."""
        good = np.flatnonzero(np.isfinite(trace.values))
        return (
            (float(self.time_s[good[-1]]), float(trace.values[good[-1]]))
            if good.size
            else (float(self.time_s[-1]), 0.0)
        )

    def _end_labels(
        self, canvas: Canvas, axis: TimeAxis, ends: list[tuple[float, float]], top: float, bottom: float
    ) -> None:
        size = canvas.scaled(LABEL_PX)
        radius = size * 0.62
        labels = self.label_lines(canvas, axis.label_width)
        gap = self.label_gap(canvas, axis.label_width)
        places = spread([y for _, y in ends], gap, top + gap / 2, bottom - gap / 2)
        x = axis.right + 10
        for trace, lines, (from_x, from_y), y in zip(self.traces, labels, ends, places, strict=True):
            if abs(y - from_y) > 2 or from_x < axis.right - 2:
                canvas.line((from_x + 1, from_y), (x, y), "leader")
            canvas.badge((x + radius, y), trace.letter, radius)
            for i, line in enumerate(lines):
                base = y + size * (0.34 + 1.05 * (i - (len(lines) - 1) / 2))
                canvas.text((x + 2 * radius + 5, base), line, LABEL_PX, f"fill-{trace.letter}", part="line-end")
