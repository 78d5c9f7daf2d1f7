"""A strip of stills: the same picture of a moving demonstration at even steps, to be read like a line of text."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

from gyrochalk.figures.chain import draw_chain
from gyrochalk.figures.earth import tilted_of
from gyrochalk.figures.faces import ROSE_PX, draw_face
from gyrochalk.figures.finding import error_finding, seconds, side
from gyrochalk.figures.loop_reading import loop_state
from gyrochalk.figures.options import FigureOptions, StillKind
from gyrochalk.figures.picture import DataTable, Figure
from gyrochalk.figures.plane_view import draw_plane
from gyrochalk.figures.readings import instants, instruments_of, reading, value_at
from gyrochalk.figures.ribbon import draw_ribbon
from gyrochalk.figures.sections import draw_section, from_behind
from gyrochalk.figures.svg import Canvas
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, Theme
from gyrochalk.figures.tilted_plane import earth_view
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.words import INSTRUMENTS, Words, capital, joined
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_quantity

USUAL_STILLS = 6
LEAST_PX = {"faces": 78.0, "path": 340.0, "earth": 300.0}
"""Least width of a still at text scale 1; of faces, for each face."""
NAMES = {"faces": "instrument faces", "path": "the signal path", "earth": "the Earth's field and a tilted plane"}


@dataclasses.dataclass(frozen=True, slots=True)
class Still:
    """Where one still goes [px] and when it is [s]."""

    left: float
    top: float
    width: float
    time_s: float


def draw_strip(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Draw a strip of stills of faces, signal path or Earth-field view; of the ribbon, the ribbon's own strip."""
    spaced = options if options.at else dataclasses.replace(options, instants=options.instants or USUAL_STILLS)
    if options.of == "ribbon":
        return draw_ribbon(run, spaced, theme, words)
    shown = _shown(run, options)
    times = instants(run, spaced, shown)
    canvas = Canvas(options.width_px(theme), theme)
    title = options.title or error_finding(run, shown, times[0], times[-1], words)
    gap = 22.0 * theme.text_scale
    least = LEAST_PX[options.of] * (len(shown) if options.of == "faces" else 1) * theme.text_scale
    columns = max(1, min(len(times), int((canvas.width_px + gap) / (least + gap))))
    width = (canvas.width_px - gap * (columns - 1)) / columns
    top = lowest = draw_title(canvas, title) + canvas.scaled(SMALL_PX) * 0.4
    for i, time_s in enumerate(times):
        if i and i % columns == 0:
            top = lowest + canvas.scaled(LABEL_PX) * 1.4
            canvas.line(
                (0, top - canvas.scaled(LABEL_PX) * 0.7), (canvas.width_px, top - canvas.scaled(LABEL_PX) * 0.7), "hair"
            )
        still = Still((width + gap) * (i % columns), top, width, time_s)
        below = _head(canvas, run, still)
        placed = dataclasses.replace(still, top=below)
        lowest = max(lowest, _PAINTERS[options.of](canvas, run, placed, shown, words))
    alt = _alt(run, options.of, times, shown, title, words)
    caption = f"{capital(NAMES[options.of])} at {len(times)} instants from {seconds(times[0])} to {seconds(times[-1])}."
    total = lowest + canvas.scaled(SMALL_PX) * 0.5
    return Figure(
        canvas.finish(total, alt), title, alt, caption, _table(run, times, shown, words), canvas.width_px, total,
        tuple(canvas.labels), theme,
    )  # fmt: skip


def _shown(run: Run, options: FigureOptions) -> tuple[str, ...]:
    if options.of == "path":
        return instruments_of(run, ("slaved", "detector"))
    if options.of == "earth":
        return (tilted_of(run, options),)
    return instruments_of(run, tuple(n for n in options.show if n != "actual"), ("card", "gyro", "slaved"))


def _head(canvas: Canvas, run: Run, still: Still) -> float:
    """Time and actual heading over a still; returns where it goes on [px]."""
    size = canvas.scaled(LABEL_PX)
    y = still.top + size * 1.1
    when = canvas.text((still.left, y), seconds(still.time_s), LABEL_PX, "ink", bold=True, part="time")
    radius = size * 0.56
    canvas.badge((when.right + size * 0.7 + radius, y - size * 0.34), "A", radius)
    heading = format_heading(value_at(run, "actual.heading", still.time_s), "magnetic")
    canvas.text((when.right + size * 1.1 + 2 * radius, y), heading, LABEL_PX, "ink num", part="actual")
    return y + size * 0.6


def _faces(canvas: Canvas, run: Run, still: Still, shown: tuple[str, ...], words: Words) -> float:
    small = canvas.scaled(SMALL_PX)
    column = still.width / len(shown)
    scale = min((column - 6.0) / 2 / (ROSE_PX + 8), 0.62 * canvas.theme.text_scale)
    middle = still.top + (ROSE_PX + 12) * scale
    base = middle + (ROSE_PX + 20) * scale + small * 0.4
    for i, name in enumerate(shown):
        read = reading(run, name, still.time_s)
        letter = INSTRUMENTS[name]
        x = still.left + column * (i + 0.5)
        draw_face(canvas, (x, middle), scale, read, run, still.time_s)
        canvas.badge((x, base + small * 0.5), letter, small * 0.62)
        shown_as = format_heading(read.heading_deg, run[f"{name}.heading"].north) if read.valid else "no reading"
        y = base + small * 2.3
        canvas.text((x, y), shown_as, SMALL_PX, "ink num", "middle", bold=True, part=f"value-{letter}")
        if read.valid:
            error = side(read.error_deg)
            canvas.text((x, y + small * 1.25), error, SMALL_PX, f"fill-{letter}", "middle", part=f"error-{letter}")
    return base + small * 3.9


def _path(canvas: Canvas, run: Run, still: Still, shown: tuple[str, ...], words: Words) -> float:
    return draw_chain(canvas, still.left, still.top, still.width, loop_state(run, still.time_s), words)


def _earth(canvas: Canvas, run: Run, still: Still, shown: tuple[str, ...], words: Words) -> float:
    view = earth_view(run, shown[0], still.time_s)
    letter = INSTRUMENTS[shown[0]]
    half, small = still.width / 2 - 4, canvas.scaled(SMALL_PX)
    draw_section(canvas, still.left, still.top, half, from_behind(view), letter, view.total_ut)
    y = draw_plane(canvas, still.left + still.width / 2 + 4, still.top, half, view, letter) + small * 1.2
    text = f"{capital(words.name(shown[0]))} {side(view.error_deg) if view.valid else 'without a valid reading'}"
    canvas.text((still.left, y), text, SMALL_PX, f"fill-{letter}", part=f"error-{letter}")
    return y + small * 0.4


_PAINTERS: dict[StillKind, Callable[[Canvas, Run, Still, tuple[str, ...], Words], float]] = {
    "faces": _faces,
    "path": _path,
    "earth": _earth,
}


def _row(run: Run, time_s: float, shown: tuple[str, ...]) -> tuple[str, ...]:
    cells = [seconds(time_s, 1), format_heading(value_at(run, "actual.heading", time_s), "magnetic", 1)]
    for name in shown:
        read = reading(run, name, time_s)
        heading = format_heading(read.heading_deg, run[f"{name}.heading"].north, 1)
        cells += [heading, format_quantity(read.error_deg, "deg", 1)] if read.valid else ["–", "–"]
    return tuple(cells)


def _table(run: Run, times: list[float], shown: tuple[str, ...], words: Words) -> DataTable:
    names = [f"{words.name(name)}{what}" for name in shown for what in ("", ", error")]
    return DataTable(("time", words.actual, *names), tuple(_row(run, t, shown) for t in times))


def _alt(run: Run, of: StillKind, times: list[float], shown: tuple[str, ...], title: str, words: Words) -> str:
    parts = [f"{len(times)} stills of {NAMES[of]}. {title}."]
    for time_s in times:
        row = _row(run, time_s, shown)
        told = [f"{words.name(name)} {row[2 + 2 * i]}, error {row[3 + 2 * i]}" for i, name in enumerate(shown)]
        parts.append(f"At {row[0]}, {words.actual} {row[1]}: {joined(told)}.")
    return " ".join(parts)
