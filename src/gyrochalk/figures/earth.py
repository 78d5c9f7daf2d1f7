"""The Earth-field view: the field and its dip, the plane the card or the detector really lies in, and what follows."""

from __future__ import annotations

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.figures.finding import degrees, seconds, side
from gyrochalk.figures.lettering import wrap_text
from gyrochalk.figures.options import FigureOptions
from gyrochalk.figures.picture import DataTable, Figure
from gyrochalk.figures.plane_view import draw_plane
from gyrochalk.figures.readings import instants, instruments_of
from gyrochalk.figures.sections import Section, draw_section, from_behind, from_right
from gyrochalk.figures.svg import Canvas
from gyrochalk.figures.theme import LABEL_PX, SMALL_PX, Theme
from gyrochalk.figures.tilted_plane import EarthView, earth_view
from gyrochalk.figures.titling import draw_title
from gyrochalk.figures.words import INSTRUMENTS, Words, capital
from gyrochalk.systems.run import Run
from gyrochalk.units import format_heading, format_quantity

TILTED = ("card", "detector")
THREE_PX = 560.0
"""From this width (at text scale 1) the three views stand side by side."""
LEVEL_DEG = 3.0
Line = tuple[str, str]
"""A class and the words written in it."""


def draw_earth(run: Run, options: FigureOptions, theme: Theme, words: Words) -> Figure:
    """Draw the Earth-field view of one instrument at one instant."""
    instrument = tilted_of(run, options)
    view = earth_view(run, instrument, instants(run, options, (instrument,))[0])
    canvas = Canvas(options.width_px(theme), theme)
    title = options.title or earth_finding(view, words)
    top = _heading_line(canvas, draw_title(canvas, title), view, words)
    columns = 3 if canvas.width_px / theme.text_scale >= THREE_PX else 2
    total = _views(canvas, top, columns, view, words)
    alt, table = _alt(run, view, title, words), _table(run, view, words)
    caption = (
        f"The Earth's field and the plane of the {words.name(instrument)} at {seconds(view.time_s)}: two upright "
        "sections through the aircraft, and the plane itself. The aircraft's own magnetism is not drawn."
    )
    return Figure(
        canvas.finish(total, alt), title, alt, caption, table, canvas.width_px, total, tuple(canvas.labels), theme
    )


def tilted_of(run: Run, options: FigureOptions) -> str:
    """The instrument whose plane is drawn. Raises MaterialError (figure-value, figure-channel)."""
    wanted = tuple(name for name in options.show if name != "actual")
    if len(wanted) > 1 or any(name not in TILTED for name in wanted):
        what = f"show={','.join(wanted)} is not possible for a picture of the Earth's field"
        raise MaterialError(Problem("figure-value", what, "it draws one plane: card or detector", "write show=card"))
    return instruments_of(run, wanted, TILTED)[0]


def earth_finding(view: EarthView, words: Words) -> str:
    """What the tilt does: "At 70 s the plane of the compass card leans 16°: the field in it points 39° …"."""
    name = words.name(view.instrument)
    when, tilt = seconds(view.time_s), view.plane.tilt_deg
    away = abs(view.pulled_error_deg)
    points = "points north" if away < 0.05 else f"points {degrees(away)} from north"
    lies = f"leans {degrees(tilt)}" if tilt >= LEVEL_DEG else f"is level to within {degrees(tilt)}"
    error = side(view.error_deg)
    reads = "is right" if error == "right" else f"reads {error}"
    reads = reads if view.valid else "shows nothing that means anything"
    return f"At {when} the plane of the {name} {lies}: the field in it {points}, and the {name} {reads}"


def _heading_line(canvas: Canvas, top: float, view: EarthView, words: Words) -> float:
    size = canvas.scaled(LABEL_PX)
    y = top + size * 1.1
    canvas.badge((size * 0.64, y - size * 0.34), "A", size * 0.62)
    text = f"{capital(words.actual)} {format_heading(view.heading_deg, 'magnetic', 1)}"
    canvas.text((size * 1.6, y), text, LABEL_PX, "ink", part="actual")
    y += size * 1.35
    field = f"Field {_ut(view.total_ut)}, dip {format_quantity(view.dip_deg, 'deg', 1)}"
    for line in wrap_text(f"{field}; apparent gravity {view.load_g:.2f} g", canvas.width_px - size * 1.6, size):
        canvas.text((size * 1.6, y), line, LABEL_PX, "ink", part="field")
        y += size * 1.3
    return y - size * 0.3


def _ut(value: float) -> str:
    return format_quantity(value, "uT", 1)


def _views(canvas: Canvas, top: float, columns: int, view: EarthView, words: Words) -> float:
    """The three views with the words under each; returns the lowest edge [px]."""
    letter = INSTRUMENTS[view.instrument]
    gap = 14.0 * canvas.theme.text_scale
    width = (canvas.width_px - gap * (columns - 1)) / columns
    small, size = canvas.scaled(SMALL_PX), canvas.scaled(LABEL_PX)
    behind, beside = from_behind(view), from_right(view)
    sheets = (
        ("Seen from behind", behind, _behind_lines(view, behind, words)),
        ("Seen from the right", beside, _side_lines(view, beside, words)),
        (f"Looking down on the {view.instrument}", None, _plane_lines(view, words)),
    )
    row_top = lowest = top
    for i, (name, section, lines) in enumerate(sheets):
        column = i % columns
        if i and column == 0:
            row_top = lowest + size
        left, upper = column * (width + gap), row_top + size * 1.5
        canvas.text((left, row_top + size * 1.1), name, LABEL_PX, "ink", bold=True, part="view")
        if section is None:
            y = draw_plane(canvas, left, upper, width, view, letter)
        else:
            y = draw_section(canvas, left, upper, width, section, letter, view.total_ut)
        lowest = max(lowest, y)
        if i == columns == 2:
            left, y = width + gap, row_top + width * 0.4
        lowest = max(lowest, _words(canvas, left, y + small * 0.3, width, lines, section))
    return lowest


def _words(canvas: Canvas, left: float, y: float, width: float, lines: list[Line], section: Section | None) -> float:
    """What is to be seen in a view, in words beneath or beside it; returns the lowest edge [px]."""
    small = canvas.scaled(SMALL_PX)
    for css, text in lines:
        for line in wrap_text(text, width - 4, small):
            y += small * 1.3
            canvas.text((left, y), line, SMALL_PX, css, part=f"line-{section.name if section else 'plane'}")
    return y + small * 0.6


def _lean(deg: float, positive: str, negative: str, level: str) -> str:
    return level if abs(deg) < 0.05 else f"{degrees(abs(deg))} {positive if deg > 0 else negative}"


def _pull(pull_ut: float, positive: str, negative: str) -> str:
    return _ut(0.0) if abs(pull_ut) < 0.05 else f"{_ut(abs(pull_ut))} {positive if pull_ut > 0 else negative}"


def _behind_lines(view: EarthView, section: Section, words: Words) -> list[Line]:
    letter, pull = INSTRUMENTS[view.instrument], section.along_plane_ut
    plane = _lean(view.plane.bank_deg, "right side down", "left side down", "level")
    return [
        ("quiet", f"Aircraft: {_lean(view.bank_deg, 'bank right', 'bank left', 'wings level')}"),
        (f"fill-{letter}", f"Plane of the {words.name(view.instrument)}: {plane}"),
        ("fill-acting", f"Field along it: {_pull(pull, 'to the right', 'to the left')}"),
    ]


def _side_lines(view: EarthView, section: Section, words: Words) -> list[Line]:
    letter, pull = INSTRUMENTS[view.instrument], section.along_plane_ut
    plane = _lean(view.plane.pitch_deg, "front up", "front down", "level")
    return [
        ("quiet", f"Aircraft: {_lean(view.pitch_deg, 'nose up', 'nose down', 'pitch level')}"),
        (f"fill-{letter}", f"Plane of the {words.name(view.instrument)}: {plane}"),
        ("fill-acting", f"Field along it: {_pull(pull, 'ahead', 'astern')}"),
    ]


def _plane_lines(view: EarthView, words: Words) -> list[Line]:
    letter = INSTRUMENTS[view.instrument]
    name = words.name(view.instrument)
    own = f"The {name} reads {_reading(view.reading_deg)}, {side(view.error_deg)}"
    own = own if view.valid else f"The {name} has no valid reading"
    return [
        (
            "fill-acting",
            f"Field in the plane: {_ut(view.in_plane_ut)}, towards a reading of {_reading(view.pulled_deg)}",
        ),
        (f"fill-{letter}", own),
    ]


def _reading(deg: float) -> str:
    return format_heading(deg, None, 1)


def _table(run: Run, view: EarthView, words: Words) -> DataTable:
    north = run[f"{view.instrument}.heading"].north
    name = words.name(view.instrument)
    deg = "deg"
    rows = (
        (words.actual, format_heading(view.heading_deg, "magnetic", 1)),
        ("bank", format_quantity(view.bank_deg, deg, 1)),
        ("pitch", format_quantity(view.pitch_deg, deg, 1)),
        ("apparent gravity", format_quantity(view.load_g, "g", 2)),
        ("field", _ut(view.total_ut)),
        ("dip", format_quantity(view.dip_deg, deg, 1)),
        (f"plane of the {name}, from the horizontal", format_quantity(view.plane.tilt_deg, deg, 1)),
        ("the same seen from behind, right side down", format_quantity(view.plane.bank_deg, deg, 1)),
        ("the same seen from the right, front up", format_quantity(view.plane.pitch_deg, deg, 1)),
        ("field in the plane, ahead", _ut(view.along_ut)),
        ("field in the plane, to the right", _ut(view.across_ut)),
        ("reading the field in the plane pulls to", format_heading(view.pulled_deg, north, 1)),
        (f"reading of the {name}", format_heading(view.reading_deg, north, 1) if view.valid else "–"),
        (f"error of the {name}", format_quantity(view.error_deg, deg, 1) if view.valid else "–"),
    )
    return DataTable(("quantity", "value"), tuple((capital(a), b) for a, b in rows))


def _alt(run: Run, view: EarthView, title: str, words: Words) -> str:
    lines = _behind_lines(view, from_behind(view), words), _side_lines(view, from_right(view), words)
    sheets = zip(("From behind", "From the right", "In the plane"), (*lines, _plane_lines(view, words)), strict=True)
    told = [f"{place}: {'; '.join(text for _, text in found)}." for place, found in sheets]
    heading = format_heading(view.heading_deg, "magnetic", 1)
    field = f"field {_ut(view.total_ut)}, dip {format_quantity(view.dip_deg, 'deg', 1)}"
    head = f"The Earth's field and a tilted plane at {seconds(view.time_s)}. {title}."
    return " ".join([head, f"{capital(words.actual)} {heading}, {field}.", *told])
