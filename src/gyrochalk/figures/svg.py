"""A small SVG writer: shapes with classes, every text escaped and its place remembered."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable
from typing import Literal

from gyrochalk.figures.lettering import ASCENT, DESCENT, Face, text_width
from gyrochalk.figures.theme import Theme

Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]
_ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"})
_CONTROL = {code: None for code in range(32) if chr(code) not in "\t\n\r"}


def escape(text: str) -> str:
    """`text` made safe inside an element or a double-quoted attribute; control characters are dropped."""
    return text.translate(_CONTROL).translate(_ESCAPES)


def number(value: float) -> str:
    """A coordinate as short text, hundredths of a pixel, never "-0"."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@dataclasses.dataclass(frozen=True, slots=True)
class LabelBox:
    """Where a label stands in its picture [px, y down]."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: LabelBox, by: float = 0.5) -> bool:
        """Whether two labels cover each other by more than `by` [px] both ways."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > by and down > by


class Canvas:
    """Collects the shapes of one picture, `width_px` by `height_px` (y grows downwards)."""

    def __init__(self, width_px: float, theme: Theme) -> None:
        self.width_px = width_px
        self.theme = theme
        self.labels: list[LabelBox] = []
        self._parts: list[str] = []

    def scaled(self, size_px: float) -> float:
        """A letter size [px] as this theme wants it."""
        return size_px * self.theme.text_scale

    def raw(self, markup: str) -> None:
        """Add markup that this package made itself."""
        self._parts.append(markup)

    def path(self, commands: str, css: str, part: str = "") -> None:
        """A path of SVG `commands` in class `css`; `part` names it for whoever reads the picture back."""
        self.raw(f'<path class="{css}"{_part(part)} d="{commands}"/>')

    def line(self, start: Point, end: Point, css: str, part: str = "") -> None:
        """A straight line."""
        self.path(f"M{number(start[0])} {number(start[1])}L{number(end[0])} {number(end[1])}", css, part)

    def polygon(self, points: Iterable[Point], css: str, part: str = "") -> None:
        """A closed shape."""
        self.path("M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z", css, part)

    def circle(self, centre: Point, radius_px: float, css: str, part: str = "") -> None:
        """A circle."""
        x, y = (number(c) for c in centre)
        self.raw(f'<circle class="{css}"{_part(part)} cx="{x}" cy="{y}" r="{number(radius_px)}"/>')

    def box(self, left: float, top: float, width: float, height: float, css: str, part: str = "") -> None:
        """A rectangle."""
        place = f'x="{number(left)}" y="{number(top)}" width="{number(width)}" height="{number(height)}"'
        self.raw(f'<rect class="{css}"{_part(part)} {place}/>')

    def text(
        self,
        at: Point,
        text: str,
        size_px: float,
        css: str = "ink",
        anchor: Anchor = "start",
        *,
        bold: bool = False,
        part: str = "",
    ) -> LabelBox:
        """A label on baseline `at`; `size_px` is its size on a page, scaled by the theme. Returns its place."""
        size = self.scaled(size_px)
        classes = f"t {css}" + (" bold" if bold else "") + ("" if anchor == "start" else f" {anchor}")
        where = f'x="{number(at[0])}" y="{number(at[1])}" font-size="{number(size)}"'
        self.raw(f'<text class="{classes}"{_part(part)} {where}>{escape(text)}</text>')
        return self.note_label(at, text, size, anchor, bold=bold)

    def note_label(self, at: Point, text: str, size: float, anchor: Anchor = "start", *, bold: bool) -> LabelBox:
        """Remember where a label of `size` [px, already scaled] stands."""
        face: Face = "figure-700" if bold else "figure-400"
        width = text_width(text, size, face)
        left = at[0] - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
        box = LabelBox(text, left, at[1] - ASCENT * size, left + width, at[1] + DESCENT * size)
        self.labels.append(box)
        return box

    def badge(self, centre: Point, letter: str, radius_px: float, *, gone: bool = False) -> None:
        """A quantity's letter in a ring of its colour, on the ground."""
        self.circle(centre, radius_px, f"badge edge-{letter}" + (" gone" if gone else ""), f"badge-{letter}")
        size = radius_px * 1.35
        x, y = number(centre[0]), number(centre[1] + size * 0.34)
        self.raw(
            f'<text class="t fill-{letter} bold middle" x="{x}" y="{y}" font-size="{number(size)}">{letter}</text>'
        )

    def finish(self, height_px: float, alt: str) -> str:
        """The whole picture as one `svg` element, with `alt` as its accessible name."""
        size = f"{number(self.width_px)} {number(height_px)}"
        head = f'<svg xmlns="http://www.w3.org/2000/svg" class="picture" viewBox="0 0 {size}" role="img"'
        ground = f'<rect class="ground" width="{number(self.width_px)}" height="{number(height_px)}"/>'
        return f'{head} aria-label="{escape(alt)}">{ground}{"".join(self._parts)}</svg>'


def _part(name: str) -> str:
    return f' data-part="{escape(name)}"' if name else ""
