"""The time axis under traces: round times, shaded stretches, and what happened, in words."""

from __future__ import annotations

import dataclasses

import numpy as np

from gyrochalk.figures.finding import seconds
from gyrochalk.figures.lettering import text_width, wrap_text
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.placing import rows_for
from gyrochalk.figures.readings import Floats
from gyrochalk.figures.svg import Canvas, number
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX
from gyrochalk.figures.ticks import Clock, decimals_of, marks
from gyrochalk.figures.words import WORDS, Words
from gyrochalk.systems.run import Event, Run, Span
from gyrochalk.units import format_number

SPAN_EDGES = {
    "turn starts": "turn",
    "turn ends": "turn",
    "fast starts": "fast alignment",
    "fast ends": "fast alignment",
    "hold pressed": "hold",
    "hold released": "hold",
    "fault starts": "fault",
    "fault ends": "fault",
    "cut-off starts": "cut-off",
    "cut-off ends": "cut-off",
}
"""Events that a shaded stretch of the given kind already shows."""
MOST_ROWS = 3
MOST_SPAN_ROWS = 2
WIDEST_LABELS = 0.24
"""Line-end labels take at most this part of the width, then they are broken into lines."""


@dataclasses.dataclass(slots=True)
class TimeAxis:
    """Time from `from_s` to `to_s` between `left` and `right` [px], with what happened."""

    from_s: float
    to_s: float
    left: float
    right: float
    events: list[Event]
    spans: list[Span]
    words_shown: bool = True
    label_width: float = 0.0
    words: Words = WORDS

    @classmethod
    def fitting(
        cls,
        canvas: Canvas,
        run: Run,
        options: FigureOptions,
        from_s: float,
        to_s: float,
        labels: list[str],
        words: Words = WORDS,
    ) -> TimeAxis:
        """The axis from `from_s` to `to_s` [s], with room for marks on the left and line-end `labels` on the right."""
        spans = [s for s in run.spans if s.start_s < to_s and s.end_s > from_s]
        shown = {span.kind for span in spans}
        events = [
            e
            for e in run.events
            if from_s <= e.time_s <= to_s and e.kind != "leg" and SPAN_EDGES.get(e.kind) not in shown
        ]
        size = canvas.scaled(LABEL_PX)
        most = canvas.width_px * WIDEST_LABELS
        lines = [line for label in labels for line in wrap_text(label, most, size)]
        label_width = max(text_width(line, size) for line in lines) + 0.5
        small = canvas.scaled(SMALL_PX)
        unit_width = small * 2.2 + text_width(words.say("timeaxis.unit", unit="min"), small)
        left, right = small * 3.4, canvas.width_px - max(17 + 1.24 * size + label_width, unit_width)
        return cls(from_s, to_s, left, right, events, spans, options.labels, label_width, words)

    def x(self, time_s: Floats | float) -> Floats:
        """Where `time_s` [s] stands [px]."""
        span = self.to_s - self.from_s
        return np.asarray(self.left + (np.asarray(time_s) - self.from_s) / span * (self.right - self.left))

    @property
    def span_rows(self) -> int:
        """How many rows the names of shaded stretches need over the panels: more than one where stretches overlap."""
        return max((row + 1 for row in self._rows() if row is not None), default=1)

    def _rows(self) -> list[int | None]:
        return rows_for([(span.start_s, span.end_s) for span in self.spans], MOST_SPAN_ROWS, 0.0)

    def shade(self, canvas: Canvas, top: float, bottom: float, name_end: float) -> None:
        """Shade the stretches behind every panel and name them above where there is room.

        The lowest row of names begins right of `name_end` [px]. Where stretches overlap, a bar under each name shows
        how far it reaches.
        """
        size = canvas.scaled(SMALL_PX)
        upper = top - size * 1.45 * self.span_rows
        for span in self.spans:
            left, right = self._reach(span)
            canvas.box(left, upper, max(right - left, 0.8), bottom - upper, "shade", f"span {span.kind}")
        taken = [name_end] + [0.0] * MOST_SPAN_ROWS
        for span, row in zip(self.spans, self._rows(), strict=True):
            if row is not None:
                taken[row] = self._name_span(canvas, span, top - size * (0.5 + 1.45 * row), taken[row])

    def names_meet(self, name_end: float) -> bool:
        """Whether a panel's name that ends at `name_end` [px] stands over a shaded stretch."""
        return any(self._reach(span)[0] < name_end for span in self.spans)

    def _reach(self, span: Span) -> tuple[float, float]:
        left, right = (float(self.x(min(max(t, self.from_s), self.to_s))) for t in (span.start_s, span.end_s))
        return left, right

    def _name_span(self, canvas: Canvas, span: Span, y: float, taken: float) -> float:
        """Write a stretch's name if it fits before the end of the axis; returns where its row is taken to [px]."""
        left, right = self._reach(span)
        if self.span_rows > 1:
            canvas.line((left + 1, y + 3.5), (max(right - 1, left + 1), y + 3.5), "leader", "span-bar")
        start = max(left + 4, taken + 10)
        name = self.words.happening(span)
        end = start + text_width(name, canvas.scaled(SMALL_PX))
        if not self.words_shown or end > self.right or start >= right:
            return taken
        canvas.text((start, y), name, SMALL_PX, "quiet", part="span-name")
        return end

    def draw(self, canvas: Canvas, top: float, bottom: float) -> float:
        """Draw marks, unit and events under the panels; returns the lowest edge [px]."""
        span = self.to_s - self.from_s
        clock = Clock.fitting(self.to_s)
        size = canvas.scaled(SMALL_PX)
        step = clock.step_s(span, max(2, int((self.right - self.left) / (size * 6))))
        decimals = decimals_of(step / clock.seconds) if step < clock.seconds else 0
        canvas.line((self.left, bottom), (self.right, bottom), "axis")
        y = bottom + size * 1.35
        for mark in marks(self.from_s, self.to_s, step):
            x = float(self.x(mark))
            canvas.line((x, bottom), (x, bottom + 4), "axis")
            canvas.text(
                (x, y), format_number(mark / clock.seconds, decimals), SMALL_PX, "quiet num", "middle", part="x-mark"
            )
        unit = self.words.say("timeaxis.unit", unit=clock.unit)
        canvas.text((self.right + size * 2.2, y), unit, SMALL_PX, "quiet", part="x-name")
        return self._draw_events(canvas, top, bottom, y)

    def _draw_events(self, canvas: Canvas, top: float, bottom: float, y: float) -> float:
        size = canvas.scaled(SMALL_PX)
        if not (self.events and self.words_shown):
            return y + size * 0.5
        spots = [self._spot(canvas, event, size) for event in self.events]
        rows = rows_for(spots, MOST_ROWS, 8.0)
        used = max((row + 1 for row in rows if row is not None), default=0)
        for event, (left, _), row in zip(self.events, spots, rows, strict=True):
            x = float(self.x(event.time_s))
            if row is None:
                canvas.line((x, bottom - 5), (x, bottom), "axis", "event-mark")
                continue
            base = y + size * (1.75 + 1.3 * row)
            canvas.path(f"M{number(x)} {number(top)}L{number(x)} {number(bottom)}", "event", "event-mark")
            canvas.text((left, base), self.words.happening(event), SMALL_PX, "ink", part="event")
            canvas.polygon([(x, y + size * 0.35), (x - 3, y + size * 0.65), (x + 3, y + size * 0.65)], "solid")
        return y + size * (1.1 + 1.3 * used)

    def _spot(self, canvas: Canvas, event: Event, size: float) -> tuple[float, float]:
        """Left and right edge of an event's words, centred under it but within the picture."""
        width = text_width(self.words.happening(event), size)
        left = float(self.x(event.time_s)) - width / 2
        left = min(max(left, 0.0), canvas.width_px - width)
        return left, left + width

    def sentences(self) -> list[str]:
        """What happened, for those who do not see the picture."""
        said = []
        for s in self.spans[:6]:
            begin, end = seconds(max(s.start_s, self.from_s)), seconds(min(s.end_s, self.to_s))
            said.append(self.words.say("timeaxis.span", begin=begin, end=end, text=self.words.happening(s)))
        said += [
            self.words.say("timeaxis.event", time=seconds(e.time_s), text=self.words.happening(e))
            for e in self.events[:8]
        ]
        left_out = len(self.spans[6:]) + len(self.events[8:])
        return said + ([self.words.say("timeaxis.more", count=left_out)] if left_out else [])
