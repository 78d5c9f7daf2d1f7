"""Upright sections through the aircraft: from behind and from the right, the field and the plane cut by the paper."""

from __future__ import annotations

import dataclasses
import math

from gyrochalk.figures.arrows import arrow
from gyrochalk.figures.beside import Frame, label_beside
from gyrochalk.figures.finding import degrees
from gyrochalk.figures.svg import Canvas, LabelBox, Point, number
from gyrochalk.figures.theme import SMALL_PX, Letter
from gyrochalk.figures.tilted_plane import EarthView

ASPECT = 0.82
"""Height of a section over its width."""


@dataclasses.dataclass(frozen=True, slots=True)
class Section:
    """A section as it is drawn: everything by its clockwise turn on the paper [deg] or by its parts in µT.

    `craft_deg` the aircraft's own turn, `plane_deg` the instrument's plane, `gravity` apparent gravity to the right and
    down in g; `across_ut`, `down_ut` the field to the right on the paper and down.
    """

    name: str
    craft: str
    craft_deg: float
    plane_deg: float
    gravity: Point
    across_ut: float
    down_ut: float

    @property
    def along_plane_ut(self) -> float:
        """The field's part along the line in which the plane is cut, positive to the right on the paper."""
        angle = math.radians(self.plane_deg)
        return self.across_ut * math.cos(angle) + self.down_ut * math.sin(angle)


def from_behind(view: EarthView) -> Section:
    """Looking the way the aircraft flies: its right wing on the right."""
    below = view.gravity.below
    gravity = (view.load_g * below[1], view.load_g * below[2])
    return Section("behind", _BEHIND, view.bank_deg, view.plane.bank_deg, gravity, view.field_ut[1], view.field_ut[2])


def from_right(view: EarthView) -> Section:
    """Looking at the aircraft's right side: its nose on the right, so that nose up turns anticlockwise."""
    below = view.gravity.below
    gravity = (view.load_g * below[0], view.load_g * below[2])
    return Section("side", _SIDE, -view.pitch_deg, -view.plane.pitch_deg, gravity, view.field_ut[0], view.field_ut[2])


_BEHIND = (
    "M-100 -3L-12 -6L-9 -12L-3 -15L-3 -34L3 -34L3 -15L9 -12L12 -6L100 -3L100 1L12 7Q0 20 -12 7L-100 1Z"
    "M-34 -29L34 -29L34 -26L-34 -26Z"
)
"""An aircraft of no make from behind, half span 100."""
_SIDE = "M-96 -6L-92 -34L-78 -34L-62 -12L10 -14Q22 -28 44 -24L62 -11Q92 -9 98 0Q92 11 60 13L-40 9L-96 -1Z"
"""The same from its right side, nose on the right."""


def draw_section(
    canvas: Canvas, left: float, top: float, width: float, section: Section, letter: Letter, total_ut: float
) -> float:
    """Draw a section `width` px wide, the whole field `total_ut` half as long; returns its lowest edge [px].

    A field that points up (southern dip) is given room above the aircraft.
    """
    px_per_ut = width * 0.5 / total_ut
    head = max(width * ASPECT * 0.34, 14.0 * canvas.theme.text_scale - section.down_ut * px_per_ut)
    height = head + width * ASPECT * 0.66
    centre = (left + width / 2, top + head)
    frame = (left, top, left + width, top + height)
    reach = width * 0.47
    canvas.line((centre[0] - reach, centre[1]), (centre[0] + reach, centre[1]), "hair-mark", "level")
    canvas.line(centre, (centre[0], top + height - 2), "event", "vertical")
    _craft(canvas, centre, width * 0.36, section)
    _plane(canvas, centre, reach, section, letter)
    gravity = _gravity(canvas, centre, width * 0.3, section)
    tip, foot = _field(canvas, centre, px_per_ut, section)
    canvas.circle(centre, 2.6 * canvas.theme.line_scale, "solid")
    _names(canvas, frame, centre, section, letter, (tip, foot, gravity))
    return top + height


def _turned(canvas: Canvas, centre: Point, clockwise_deg: float, inside: str, part: str) -> None:
    place = f"translate({number(centre[0])} {number(centre[1])}) rotate({number(clockwise_deg)})"
    canvas.raw(f'<g data-part="{part}" transform="{place}">{inside}</g>')


def _craft(canvas: Canvas, centre: Point, half: float, section: Section) -> None:
    scale = half / 100.0
    shape = f'<path class="craft" transform="scale({scale:.4f})" d="{section.craft}"/>'
    _turned(canvas, centre, section.craft_deg, shape, f"craft-{section.name}")


def _plane(canvas: Canvas, centre: Point, reach: float, section: Section, letter: Letter) -> None:
    line = f'<path class="trace-{letter}" d="M{number(-reach)} 0L{number(reach)} 0"/>'
    _turned(canvas, centre, section.plane_deg, line, f"plane-{section.name}")


def _gravity(canvas: Canvas, centre: Point, length: float, section: Section) -> Point:
    x, y = section.gravity
    tip = (centre[0] + length * min(max(x, -1.4), 1.4), centre[1] + length * min(max(y, -1.4), 1.4))
    arrow(canvas, [centre, tip], "rim", "quiet-solid", f"gravity-{section.name}")
    return tip


def _field(canvas: Canvas, centre: Point, px_per_ut: float, section: Section) -> tuple[Point, Point]:
    """The field, and its part along the plane with the drop that shows where it comes from."""
    tip = (centre[0] + section.across_ut * px_per_ut, centre[1] + section.down_ut * px_per_ut)
    angle, part = math.radians(section.plane_deg), section.along_plane_ut * px_per_ut
    foot = (centre[0] + part * math.cos(angle), centre[1] + part * math.sin(angle))
    canvas.line(tip, foot, "event", f"drop-{section.name}")
    arrow(canvas, [centre, tip], "heavy", "solid", f"field-{section.name}")
    arrow(canvas, [centre, foot], "arc-acting", "fill-acting", f"along-{section.name}")
    return tip, foot


def _names(
    canvas: Canvas, frame: Frame, centre: Point, section: Section, letter: Letter, tips: tuple[Point, Point, Point]
) -> None:
    """Short names at the tips; where there is no room the lines under the picture say it."""
    tip, foot, gravity = tips
    drawn = [*_along(centre, tip), *_along(centre, gravity), *_along(centre, foot)]
    ahead = foot[0] - centre[0]
    if abs(ahead) > 4:
        angle, reach = math.radians(section.plane_deg), (frame[2] - frame[0]) * 0.47
        cut = (reach * math.cos(angle), reach * math.sin(angle))
        plane = _along((centre[0] - cut[0], centre[1] - cut[1]), (centre[0] + cut[0], centre[1] + cut[1]), 40)
        clear = [*drawn, *plane, *_along(tip, foot, 12)]
        text, css, name = f"{abs(section.along_plane_ut):.1f} µT", "fill-acting halo", f"pull-{section.name}"
        for kept in (clear, drawn):
            if label_beside(canvas, foot, (ahead, -abs(ahead) * 0.4), text, SMALL_PX, css, frame, kept, name):
                break
    label_beside(canvas, tip, (tip[0] - centre[0] + 12, 10), "field", SMALL_PX, "ink halo", frame, drawn, "name-field")
    aside = gravity[0] - centre[0]
    side = (-1.0 if aside <= 0 else 1.0, 0.4)
    label_beside(canvas, gravity, side, "apparent gravity", SMALL_PX, "quiet halo", frame, drawn, "name-gravity")
    _name_plane(canvas, frame, centre, section, letter)
    ends = ((frame[0] + 2, centre[1]), (0.4, 1.0), "level"), ((centre[0], frame[3] - 6), (1.0, 0.0), "vertical")
    for end, out, name in ends:
        label_beside(canvas, end, out, name, SMALL_PX, "quiet halo", frame, drawn, f"name-{name}")


def _name_plane(canvas: Canvas, frame: Frame, centre: Point, section: Section, letter: Letter) -> None:
    """The tilt of the plane at its raised end."""
    if abs(section.plane_deg) < 0.5:
        return
    up = -1.0 if section.plane_deg > 0 else 1.0
    angle, reach = math.radians(section.plane_deg), (frame[2] - frame[0]) * 0.42
    end = (centre[0] + up * reach * math.cos(angle), centre[1] + up * reach * math.sin(angle))
    text, css = degrees(abs(section.plane_deg)), f"fill-{letter} halo"
    label_beside(canvas, end, (up * 0.3, -1.0), text, SMALL_PX, css, frame, (), f"tilt-{section.name}")


def _along(start: Point, end: Point, steps: int = 7) -> list[LabelBox]:
    """Small boxes along a line, so that labels keep clear of it."""
    found = []
    for k in range(1, steps + 1):
        x, y = start[0] + (end[0] - start[0]) * k / steps, start[1] + (end[1] - start[1]) * k / steps
        found.append(LabelBox("", x - 3, y - 3, x + 3, y + 3))
    return found
