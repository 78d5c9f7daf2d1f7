"""The signal path: the slaving loop at one instant, drawn left to right and back underneath."""

from __future__ import annotations

from gyrochalk.figures.chain import draw_chain
from gyrochalk.figures.finding import seconds, side
from gyrochalk.figures.lettering import wrap_text
from gyrochalk.figures.loop_reading import loop_state
from gyrochalk.figures.loop_state import Link, LoopState, State
from gyrochalk.figures.loop_words import loop_finding, signed
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.picture import DataTable, Figure
from gyrochalk.figures.readings import instants
from gyrochalk.figures.svg import Canvas
from gyrochalk.figures.theme import LABEL_PX, Theme
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.words import Words, capital
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_quantity

STATES: dict[State, str] = {"acting": "acting", "rest": "at rest", "signal": "carrying", "broken": "broken"}


def draw_path(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Draw the signal path at one instant."""
    now = loop_state(run, instants(run, options, ("slaved", "detector"))[0])
    canvas = Canvas(options.width_px(theme), theme)
    title = options.title or loop_finding(now, words)
    top = heading_line(canvas, draw_title(canvas, title), now, words)
    total = draw_chain(canvas, 0.0, top, canvas.width_px, now, words) + 6
    alt = _alt(now, title, words)
    caption = f"The slaving loop at {seconds(now.time_s)}: what each link carries, heavy where it acts."
    table = _table(now, words)
    return Figure(
        canvas.finish(total, alt), title, alt, caption, table, canvas.width_px, total, tuple(canvas.labels), theme
    )


def heading_line(canvas: Canvas, top: float, now: LoopState, words: Words) -> float:
    """What the aircraft does and what is at fault, in one or two lines; returns where the chain begins [px]."""
    size = canvas.scaled(LABEL_PX)
    y = top + size * 1.1
    canvas.badge((size * 0.64, y - size * 0.34), "A", size * 0.62)
    text = f"{capital(words.actual)} {format_heading(now.actual_deg, 'magnetic', 1)}, {_bank(now.bank_deg)}"
    canvas.text((size * 1.6, y), text, LABEL_PX, "ink", part="actual")
    for fault in now.faults:
        for line in wrap_text(f"Fault: {fault}", canvas.width_px - size * 1.6, size, "figure-700"):
            y += size * 1.35
            canvas.text((size * 1.6, y), line, LABEL_PX, "alert", bold=True, part="fault")
    return y + size * 0.9


def _bank(bank_deg: float) -> str:
    if abs(bank_deg) < 0.5:
        return "wings level"
    return f"bank {format_quantity(abs(bank_deg), 'deg', 0)} {'right' if bank_deg > 0 else 'left'}"


def _of_link(link: Link, words: Words) -> str:
    names = {"detector": words.detector}
    return f"{names.get(link.start, link.start)} to {names.get(link.end, link.end)}"


def _table(now: LoopState, words: Words) -> DataTable:
    rows = [(_of_link(link, words), link.value, link.sense, STATES[link.state]) for link in now.links]
    rows.append(("synchronisation indicator", _number(now.indicator), "", ""))
    rows.append((f"{words.detector}, error", signed(now.detector.error_deg) if now.detector.valid else "–", "", ""))
    rows.append((f"{words.slaved}, error", signed(now.slaved.error_deg) if now.slaved.valid else "–", "", ""))
    rows += [(fault, "", "", "fault") for fault in now.faults]
    return DataTable(("link", "value", "sense", "state"), tuple(rows))


def _number(value: float) -> str:
    text = format_quantity(value, "1", 2)
    return f"+{text}" if value >= 0.005 else text


def _alt(now: LoopState, title: str, words: Words) -> str:
    heading = format_heading(now.actual_deg, "magnetic", 1)
    parts = [f"The slaving loop as a chain at {seconds(now.time_s)}. {title}. {capital(words.actual)} {heading}."]
    parts += [
        f"{capital(_of_link(link, words))}: {link.value}, {link.sense}, {STATES[link.state]}." for link in now.links
    ]
    if now.slaved.valid:
        parts.append(f"The card reads {side(now.slaved.error_deg)}.")
    parts += [f"Fault: {fault}." for fault in now.faults]
    return " ".join(parts)
