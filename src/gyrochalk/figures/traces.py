"""Traces: how errors, headings or any channel of a run go over time."""

from __future__ import annotations

import dataclasses

import numpy as np
from numpy.typing import NDArray

from gyrochalk.figures.finding import error_finding, seconds
from gyrochalk.figures.lettering import text_width
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.panel import Panel, Trace, panel_height
from gyrochalk.figures.picture import DataTable, Figure
from gyrochalk.figures.readings import Floats, column, instruments_of, usable, window
from gyrochalk.figures.svg import Canvas
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, Theme
from gyrochalk.figures.timeaxis import TimeAxis
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.words import INSTRUMENTS, Words, capital, joined
from gyrochalk.systems.run import Column, Run
from gyrochalk.units import format_heading, format_quantity, wrap_180

UNWRAPPED_DEG = 500.0
"""Headings that sweep more than this are drawn on 000 to 360, the line lifted at north."""
Mask = NDArray[np.bool_]
OWN_PANEL_RATIO = 7.0
"""Errors whose largest values differ by more than this factor get panels of their own."""


def draw_traces(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Draw how the chosen instruments and channels go over time."""
    from_s, to_s = window(run, options)
    shown = _shown(run, options)
    panels = _panels(run, options, shown, from_s, to_s, words)
    canvas = Canvas(options.width_px(theme), theme)
    title = options.title or _finding(run, options, shown, from_s, to_s, words)
    axis = TimeAxis.fitting(canvas, run, options, from_s, to_s, [t.label for p in panels for t in p.traces], words)
    top = draw_title(canvas, title) + canvas.scaled(SMALL_PX) * (0.15 + 1.45 * axis.span_rows)
    height = panel_height(canvas, panels, axis.label_width)
    tops = [top + i * (height + canvas.scaled(LABEL_PX) * 1.9) for i in range(len(panels))]
    bottom = tops[-1] + height
    name_end = axis.left + text_width(panels[0].name(), canvas.scaled(SMALL_PX))
    axis.shade(canvas, tops[0], bottom, name_end)
    for panel, panel_top in zip(panels, tops, strict=True):
        panel.draw(canvas, axis, panel_top, height)
    total = axis.draw(canvas, tops[0], bottom)
    table = _table(panels, from_s, to_s, words)
    alt = _alt(title, panels, axis, from_s, to_s, words)
    caption = _caption(panels, options, from_s, to_s, words)
    return Figure(
        canvas.finish(total, alt), title, alt, caption, table, canvas.width_px, total, tuple(canvas.labels), theme
    )


def _shown(run: Run, options: FigureOptions) -> tuple[str, ...]:
    if options.channels and not options.show:
        return ()
    shown = instruments_of(run, options.show)
    if options.form == "headings" and "actual" not in shown:
        return ("actual", *shown)
    return shown


def _panels(
    run: Run, options: FigureOptions, shown: tuple[str, ...], from_s: float, to_s: float, words: Words
) -> list[Panel]:
    inside = (run.time_s >= from_s - 1e-9) & (run.time_s <= to_s + 1e-9)
    time_s = run.time_s[inside]
    panels: list[Panel] = []
    if options.form == "headings" and shown:
        panels.append(_heading_panel(run, shown, inside, words))
    elif shown:
        traces = [_error_trace(run, name, inside, words) for name in shown if name != "actual"]
        groups = by_size(traces)
        what = words.say("traces.error")
        panels += [
            Panel(what, "deg", time_s, g, 180.0, zero=True, finer=i > 0, words=words) for i, g in enumerate(groups)
        ]
    by_unit: dict[tuple[str, str], list[Trace]] = {}
    for name in options.channels:
        col = column(run, name)
        key = (col.unit, col.north or ("error" if name.endswith(".error") else name))
        by_unit.setdefault(key, []).append(_channel_trace(col, inside, words))
    for (unit, _), traces in by_unit.items():
        jump = 180.0 if unit == "deg" else None
        heading = run[traces[0].name].north is not None
        panel = Panel(traces[0].title, unit, time_s, traces, jump, zero=False, heading=heading, words=words)
        if heading and np.ptp([v for t in traces for v in t.values[np.isfinite(t.values)]] or [0.0]) > 180.0:
            panel.whole_circle = True
        panels.append(panel)
    return panels


def _error_trace(run: Run, name: str, inside: Mask, words: Words) -> Trace:
    col = run[f"{name}.error"]
    label = words.term(name)
    return Trace(col.name, label, words.say("traces.error_of", name=label), INSTRUMENTS[name], usable(col)[inside])


def _channel_trace(col: Column, inside: Mask, words: Words) -> Trace:
    owner = col.name.split(".")[0]
    letter = INSTRUMENTS.get(owner, "A")
    name = words.channel(col)
    return Trace(col.name, name, name, letter, usable(col)[inside])


def _heading_panel(run: Run, shown: tuple[str, ...], inside: Mask, words: Words) -> Panel:
    """Headings on one axis: unwrapped if they stay within a turn, else 000 to 360 with the line lifted at north."""
    actual = np.degrees(np.unwrap(np.radians(run["actual.heading"].values[inside])))
    traces = []
    for name in shown:
        col = run[f"{name}.heading"]
        values = actual + wrap_180(usable(col)[inside] - actual)
        traces.append(Trace(col.name, words.name(name), _heading_title(name, words), INSTRUMENTS[name], values))
    low = min(float(np.nanmin(t.values)) for t in traces)
    high = max(float(np.nanmax(t.values)) for t in traces)
    wraps = high - low > UNWRAPPED_DEG
    if wraps:
        traces = [dataclasses.replace(t, values=np.mod(t.values, 360.0)) for t in traces]
    what = words.say("traces.heading")
    time_s = run.time_s[inside]
    return Panel(what, "deg", time_s, traces, 180.0, zero=False, heading=True, whole_circle=wraps, words=words)


def _heading_title(name: str, words: Words) -> str:
    return words.actual if name == "actual" else words.say("traces.heading_of", name=words.term(name))


def by_size(traces: list[Trace]) -> list[list[Trace]]:
    """Traces of like size together, the largest first, so that a small error is not lost under a large one."""
    ordered = sorted(traces, key=lambda t: -t.largest)
    groups: list[list[Trace]] = []
    for trace in ordered:
        if groups and groups[-1][0].largest <= OWN_PANEL_RATIO * max(trace.largest, 0.15):
            groups[-1].append(trace)
        else:
            groups.append([trace])
    return groups


def _finding(run: Run, options: FigureOptions, shown: tuple[str, ...], from_s: float, to_s: float, words: Words) -> str:
    if shown and set(shown) != {"actual"}:
        return error_finding(run, shown, from_s, to_s, words)
    names = [f"{n}.heading" for n in shown] + list(options.channels)
    inside = (run.time_s >= from_s) & (run.time_s <= to_s)
    parts = [_range_of(column(run, name), usable(column(run, name))[inside], words) for name in names]
    return capital(words.say("list.then").join(parts))


def _range_of(col: Column, values: Floats, words: Words) -> str:
    good = values[np.isfinite(values)]
    if good.size == 0:
        return words.say("traces.nothing_valid", name=words.channel(col))
    low, high = (_shown_value(v, col.unit, col.north is not None) for v in (float(good.min()), float(good.max())))
    if low == high:
        return words.say("traces.throughout", name=words.channel(col), value=low)
    return words.say("traces.ranges", name=words.channel(col), low=low, high=high)


def _shown_value(value: float, unit: str, heading: bool) -> str:
    return format_heading(value) if heading else format_quantity(value, unit, 1)


def _table(panels: list[Panel], from_s: float, to_s: float, words: Words) -> DataTable:
    begin, end = (words.say("traces.at_time", time=seconds(t)) for t in (from_s, to_s))
    least, most, at = (words.say(f"traces.{key}") for key in ("least", "most", "at"))
    header = ("", begin, least, at, most, at, end)
    return DataTable(header, tuple(_row(t, p) for p in panels for t in p.traces))


def _row(trace: Trace, panel: Panel) -> tuple[str, ...]:
    good = np.flatnonzero(np.isfinite(trace.values))
    if good.size == 0:
        return (trace.title, *("–",) * 6)
    values, times = trace.values[good], panel.time_s[good]
    low, high = int(values.argmin()), int(values.argmax())

    def show(i: int) -> str:
        return _shown_value(float(values[i]), panel.unit, panel.heading)

    if panel.heading:
        return (trace.title, show(0), *("–",) * 4, show(-1))

    return (
        trace.title,
        show(0),
        show(low),
        seconds(float(times[low]), 1),
        show(high),
        seconds(float(times[high]), 1),
        show(-1),
    )


def _alt(title: str, panels: list[Panel], axis: TimeAxis, from_s: float, to_s: float, words: Words) -> str:
    parts = [words.say("traces.alt", begin=seconds(from_s), end=seconds(to_s), title=title)]
    parts += [_trace_said(trace, panel, words) for panel in panels for trace in panel.traces]
    events = axis.sentences()
    return " ".join(parts + events)


def _trace_said(trace: Trace, panel: Panel, words: Words) -> str:
    """One trace in words: where it begins and ends, its least and its greatest."""
    name, row = capital(trace.title), _row(trace, panel)
    if row[1] == "–":
        return words.say("traces.alt_never", name=name)
    if row[2] == "–":
        return words.say("traces.alt_heading", name=name, first=row[1], last=row[6])
    _, first, low, low_time, high, high_time, last = row
    return words.say(
        "traces.alt_trace",
        name=name,
        first=first,
        low=low,
        low_time=low_time,
        high=high,
        high_time=high_time,
        last=last,
    )


def _caption(panels: list[Panel], options: FigureOptions, from_s: float, to_s: float, words: Words) -> str:
    names = joined(list(dict.fromkeys(t.label for p in panels for t in p.traces)), words)
    begin, end = seconds(from_s), seconds(to_s)
    if options.channels and not options.show:
        return words.say("traces.caption_channels", names=capital(names), begin=begin, end=end)
    said = words.say(f"traces.caption_{options.form}", names=names, begin=begin, end=end)
    return said + (words.say("traces.scales_differ") if len(panels) > 1 else "")
