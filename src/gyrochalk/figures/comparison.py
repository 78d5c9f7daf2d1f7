"""Two runs on one scale: the same channel of each, and how far they part."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping

import numpy as np

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.figures.beside import label_beside
from gyrochalk.figures.finding import degrees, seconds
from gyrochalk.figures.lettering import text_width
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.panel import Panel, Trace, panel_height
from gyrochalk.figures.picture import DataTable, Figure
from gyrochalk.figures.readings import Floats, column, instruments_of, usable, window
from gyrochalk.figures.svg import Canvas, LabelBox
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, THEMES, Letter, Theme
from gyrochalk.figures.timeaxis import TimeAxis
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.words import INSTRUMENTS, WORDS, Words, capital, joined
from gyrochalk.systems.run import Run
from gyrochalk.units import format_quantity, wrap_180

RING_PX = 3.0
RING_EVERY_PX = 64.0
LEAST_BAR_PX = 4.0
CLEAR_POINTS = 150


@dataclasses.dataclass(frozen=True, slots=True)
class Pair:
    """One channel of two runs at the same times (n,): `first`, `second`, NaN where a run shows nothing that means
    anything; `title` what it is, `unit` its plain unit, `letter` its sign."""

    channel: str
    title: str
    unit: str
    letter: Letter
    first: Floats
    second: Floats

    @property
    def apart(self) -> Floats:
        """First minus second; angles the short way round."""
        difference = self.first - self.second
        return np.asarray(wrap_180(difference)) if self.unit == "deg" else difference

    def widest(self) -> int | None:
        """Index of the largest difference, None if there is none."""
        apart = np.abs(self.apart)
        return int(np.nanargmax(apart)) if np.isfinite(apart).any() else None

    def shown(self, value: float) -> str:
        """A value as titles and tables say it."""
        return degrees(value) if self.unit == "deg" else format_quantity(value, self.unit, 1)


@dataclasses.dataclass(slots=True)
class ComparedPanel(Panel):
    """Both runs of one channel: the first in the quantity's own line, the second thin and ringed."""

    def css(self, trace: Trace) -> str:
        """The first run's line is the quantity's own, the second's the thin one."""
        return f"{'trace' if trace is self.traces[0] else 'other'}-{trace.letter}"


def no_second_run(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Refuse to draw one run as a comparison. Raises MaterialError (figure-value)."""
    what, cure = "a comparison is drawn of two runs", "name the other with against, for example against=orbit.textbook"
    raise MaterialError(Problem("figure-value", what, "one run was given", cure))


def compare(
    runs: Mapping[str, Run], options: FigureOptions | None = None, theme: Theme | None = None, words: Words = WORDS
) -> Figure:
    """Draw the same channels of two runs over one another.

    `runs` by the names they carry in the picture, the first drawn as usual, the second thin with rings. Channels are
    the errors of `options.show` (by default the slaved compass, else the card) and `options.channels`. Raises
    MaterialError (figure-channel, figure-time, figure-value).
    """
    chosen = options or FigureOptions(kind="compare")
    dress = theme or THEMES[chosen.theme]
    if len(runs) != 2:
        what = f"a comparison is drawn of two runs, not of {len(runs)}"
        raise MaterialError(Problem("figure-value", what, "give a run and the one to set against it", "give two runs"))
    (name, run), (other_name, other) = runs.items()
    with words.speech.numbers():
        return _Comparison(run, other, (name, other_name), chosen, words).draw(dress)


class _Comparison:
    """Two runs being drawn."""

    def __init__(self, run: Run, other: Run, names: tuple[str, str], options: FigureOptions, words: Words) -> None:
        self.run, self.other, self.names, self.options, self.words = run, other, names, options, words
        from_s, to_s = window(run, options)
        self.from_s, self.to_s = from_s, min(to_s, float(other.time_s[-1]))
        if self.from_s >= self.to_s:
            what = f"{names[1]} ends at {seconds(float(other.time_s[-1]))}, before the picture begins"
            raise MaterialError(Problem("figure-time", what, "both runs must be flying", "begin earlier"))
        self.time_s = run.time_s[(run.time_s >= self.from_s - 1e-9) & (run.time_s <= self.to_s + 1e-9)]
        self.pairs = [self._pair(*entry) for entry in self._channels()]

    def _channels(self) -> list[tuple[str, str, Letter]]:
        """Channel, title and letter of everything to compare."""
        options, found = self.options, []
        if options.show or not options.channels:
            usual = next((n for n in ("slaved", "card", "gyro") if f"{n}.error" in self.run.columns), "slaved")
            names = instruments_of(self.run, tuple(n for n in options.show if n != "actual") or (usual,))
            found += [
                (f"{n}.error", self.words.say("traces.error_of", name=self.words.term(n)), INSTRUMENTS[n])
                for n in names
            ]
        for name in options.channels:
            owner = INSTRUMENTS.get(name.split(".")[0], "A")
            found.append((name, self.words.channel(column(self.run, name)), owner))
        return found

    def _pair(self, channel: str, title: str, letter: Letter) -> Pair:
        first, second = (self._at_times(run, channel) for run in (self.run, self.other))
        return Pair(channel, title, column(self.run, channel).unit, letter, first, second)

    def _at_times(self, run: Run, channel: str) -> Floats:
        """A channel at the times of the picture, straight between samples; nothing where a neighbour means nothing."""
        col = column(run, channel)
        values = usable(col)
        if col.unit != "deg":
            return np.interp(self.time_s, run.time_s, values)
        ahead = np.clip(np.searchsorted(run.time_s, self.time_s), 1, run.time_s.size - 1)
        before = ahead - 1
        part = (self.time_s - run.time_s[before]) / (run.time_s[ahead] - run.time_s[before])
        step = np.asarray(wrap_180(values[ahead] - values[before]))
        met = values[before] + np.where(part > 0.0, part * step, 0.0)
        if col.north is not None:
            return np.asarray(np.mod(met, 360.0))
        beyond = np.abs(met) > 180.0
        return np.where(beyond, np.asarray(wrap_180(met)), met)

    def draw(self, theme: Theme) -> Figure:
        """The picture."""
        canvas = Canvas(self.options.width_px(theme), theme)
        title = self.options.title or self._finding()
        panels = [self._panel(pair) for pair in self.pairs]
        axis = TimeAxis.fitting(canvas, self.run, self.options, self.from_s, self.to_s, list(self.names), self.words)
        small, size = canvas.scaled(SMALL_PX), canvas.scaled(LABEL_PX)
        name_end = axis.left + text_width(panels[0].name(), small)
        lift = 1.45 * small if axis.names_meet(name_end) else 0.0
        top = draw_title(canvas, title) + small * (0.15 + 1.45 * axis.span_rows) + lift
        height = panel_height(canvas, list(panels), axis.label_width)
        tops = [top + i * (height + size * 1.9) for i in range(len(panels))]
        bottom = tops[-1] + height
        axis.shade(canvas, tops[0] - lift, bottom, 0.0 if lift else name_end)
        for panel, pair, panel_top in zip(panels, self.pairs, tops, strict=True):
            panel.draw(canvas, axis, panel_top, height)
            self._rings(canvas, axis, panel, panel_top, height)
            self._widest(canvas, axis, panel, pair, panel_top, height)
        total = axis.draw(canvas, tops[0], bottom)
        alt = self._alt(title)
        return Figure(
            canvas.finish(total, alt), title, alt, self._caption(), self._table(), canvas.width_px, total,
            tuple(canvas.labels), theme,
        )  # fmt: skip

    def _panel(self, pair: Pair) -> ComparedPanel:
        traces = [
            Trace(f"{pair.channel} {which}", name, pair.title, pair.letter, values)
            for which, name, values in zip(("first", "second"), self.names, (pair.first, pair.second), strict=True)
        ]
        jump = 180.0 if pair.unit == "deg" else None
        heading = self.run[pair.channel].north is not None
        panel = ComparedPanel(
            pair.title, pair.unit, self.time_s, traces, jump, zero=not heading, heading=heading, words=self.words
        )
        if heading:
            panel.whole_circle = bool(np.nanmax(pair.first) - np.nanmin(pair.first) > 180.0)
        return panel

    def _rings(self, canvas: Canvas, axis: TimeAxis, panel: ComparedPanel, top: float, height: float) -> None:
        """Small rings along the second run's line, so that it is known without its colour."""
        trace, (low, high) = panel.traces[1], panel.limits()
        count = max(2, int((axis.right - axis.left) / RING_EVERY_PX))
        for i in np.linspace(0, trace.values.size - 1, 2 * count + 1).astype(int)[1::2]:
            if np.isfinite(trace.values[i]):
                y = top + height - (trace.values[i] - low) / (high - low) * height
                spot = (float(axis.x(self.time_s[i])), float(y))
                canvas.circle(spot, RING_PX * canvas.theme.line_scale, f"badge edge-{trace.letter}", "ring")

    def _widest(
        self, canvas: Canvas, axis: TimeAxis, panel: ComparedPanel, pair: Pair, top: float, height: float
    ) -> None:
        """A bar between the two lines where they stand farthest apart, and by how much."""
        i = pair.widest()
        if i is None or abs(pair.first[i] - pair.second[i] - pair.apart[i]) > 1e-6:
            return
        low, high = panel.limits()
        x = float(axis.x(self.time_s[i]))
        ends = [top + height - float((v[i] - low) / (high - low)) * height for v in (pair.first, pair.second)]
        if abs(ends[0] - ends[1]) < LEAST_BAR_PX:
            return
        canvas.line((x, ends[0]), (x, ends[1]), "mark", f"apart {pair.channel}")
        for y in ends:
            canvas.line((x - 4, y), (x + 4, y), "mark")
        text = self.words.say("compare.apart", amount=pair.shown(abs(float(pair.apart[i]))))
        frame = (axis.left + 2, top, axis.right, top + height)
        part = f"apart-label {pair.channel}"
        taken = self._curves(axis, pair, lambda v: top + height - (v - low) / (high - low) * height)
        bar = LabelBox("", x - 2, min(ends), x + 2, max(ends))
        for down, kept in [(p, [*taken, bar]) for p in (0.5, 0.35, 0.65, 0.2, 0.8, 1.0, 0.0)] + [(0.5, [bar])]:
            at = (x, ends[0] + down * (ends[1] - ends[0]))
            if label_beside(canvas, at, (1.0, 0.0), text, SMALL_PX, "ink halo", frame, kept, part):
                break

    def _curves(self, axis: TimeAxis, pair: Pair, y_of: Callable[[Floats], Floats]) -> list[LabelBox]:
        """Small boxes along both lines, so that the label keeps clear of them."""
        every = max(1, self.time_s.size // CLEAR_POINTS)
        x = axis.x(self.time_s[::every])
        boxes = []
        for values in (pair.first, pair.second):
            y = y_of(values[::every])
            for i in range(x.size - 1):
                steps = 1 + int(min(abs(y[i + 1] - y[i]) // 6, 40.0)) if np.isfinite(y[i : i + 2]).all() else 0
                for part in np.arange(steps) / max(steps, 1):
                    a, b = x[i] + part * (x[i + 1] - x[i]), y[i] + part * (y[i + 1] - y[i])
                    boxes.append(LabelBox("", a - 3, b - 3, a + 3, b + 3))
        return boxes

    def _finding(self) -> str:
        """How far each is out, and how far apart they get."""
        clauses = [self._clause(pair, first=i == 0) for i, pair in enumerate(self.pairs[:2])]
        return self.words.say("list.then").join(clauses)

    def _clause(self, pair: Pair, *, first: bool) -> str:
        i = pair.widest()
        error = pair.channel.endswith(".error")
        subject = pair.title
        if error:
            subject = self.words.say("compare.subject", name=self.words.term(pair.channel.split(".")[0]))
        told = {"name": capital(subject) if first else subject, "first": self.names[0], "second": self.names[1]}
        if i is None:
            return self.words.say("compare.nothing", **told)
        apart = abs(float(pair.apart[i]))
        if pair.shown(apart) == pair.shown(0.0):
            return self.words.say("compare.same", **told)
        widest = self.words.say("compare.widest", amount=pair.shown(apart), time=seconds(float(self.time_s[i])))
        if self.run[pair.channel].north is not None:
            return self.words.say("compare.heading", widest=widest, **told)
        one, other = (pair.shown(float(np.nanmax(np.abs(v)))) for v in (pair.first, pair.second))
        key = "compare.out" if error else "compare.reaches"
        return self.words.say(key, one=one, other=other, widest=widest, **told)

    def _table(self) -> DataTable:
        header = ("", *self.names, self.words.say("compare.head_apart"))
        rows = []
        for pair in self.pairs:
            for key, i in self._instants(pair):
                time = seconds(float(self.time_s[i]), 1)
                values = (pair.first[i], pair.second[i], pair.apart[i])
                cells = [format_quantity(float(v), pair.unit, 1) if np.isfinite(v) else "–" for v in values]
                rows.append((self.words.say(key, name=capital(pair.title), time=time), *cells))
        return DataTable(header, tuple(rows))

    def _instants(self, pair: Pair) -> list[tuple[str, int]]:
        """First, widest and last instant, each with the label of its row."""
        widest = pair.widest()
        named = [0, self.time_s.size - 1] if widest is None else [0, widest, self.time_s.size - 1]
        return [("compare.row_widest" if i == widest else "compare.row_at", i) for i in dict.fromkeys(named)]

    def _alt(self, title: str) -> str:
        begin, end, (first, second) = seconds(self.from_s), seconds(self.to_s), self.names
        parts = [self.words.say("compare.alt", first=first, second=second, begin=begin, end=end, title=title)]
        for name, one, other, apart in self._table().rows:
            parts.append(self.words.say("compare.alt_row", name=name, one=one, other=other, apart=apart))
        return " ".join(parts)

    def _caption(self) -> str:
        what = capital(joined([pair.title for pair in self.pairs], self.words))
        begin, end, (first, second) = seconds(self.from_s), seconds(self.to_s), self.names
        text = self.words.say("compare.caption", what=what, first=first, second=second, begin=begin, end=end)
        if float(self.run.time_s[-1]) != float(self.other.time_s[-1]) and self.options.to_s is None:
            text += self.words.say("compare.shorter") if self.to_s < float(self.run.time_s[-1]) else ""
        return text + self.words.say("compare.events", first=first)
