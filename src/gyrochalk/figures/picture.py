"""A finished picture: its drawing, the words for it, and its data."""

from __future__ import annotations

import dataclasses

from gyrochalk.figures.lettering import wrap_text
from gyrochalk.figures.style import font_faces, write_out
from gyrochalk.figures.svg import LabelBox, escape
from gyrochalk.figures.theme import LIGHT, PAGE, Theme

MARGIN_PX = 20.0
"""Room round a picture that leaves with its caption [px]."""


@dataclasses.dataclass(frozen=True, slots=True)
class DataTable:
    """The numbers behind a picture, as they are shown: a `header` and `rows` of texts, all of one length."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclasses.dataclass(frozen=True, slots=True)
class Figure:
    """One picture drawn from a run.

    `svg` is drawn by classes for a page that carries `style.stylesheet()`; `title` states the finding; `alt` says
    in words what is to be seen; `caption` says what it is; `table` holds the numbers; `labels` where every label
    stands; `theme` the theme whose sizes it was laid out for.
    """

    svg: str
    title: str
    alt: str
    caption: str
    table: DataTable
    width_px: float
    height_px: float
    labels: tuple[LabelBox, ...] = ()
    theme: Theme = PAGE

    def standalone(self, theme: Theme | None = None, *, fonts: bool = False) -> str:
        """The picture as an SVG file of its own, coloured by `theme` (default: its own; for a page: light).

        `fonts` puts the shipped figure family inside the file, and the text family if only that has a letter needed.
        """
        chosen = theme or (LIGHT if self.theme is PAGE else self.theme)
        svg = write_out(self.svg, chosen)
        if not fonts:
            return svg
        families = ("Atkinson Hyperlegible Next", "Literata") if "µ" in svg else ("Atkinson Hyperlegible Next",)
        head, rest = svg.split(">", 1)
        return f"{head}><style>{font_faces(families)}</style>{rest}"

    def with_caption(self, theme: Theme | None = None, *, fonts: bool = True) -> str:
        """The picture as an SVG file with its caption written beneath it."""
        chosen = theme or (LIGHT if self.theme is PAGE else self.theme)
        size = 13.0 * self.theme.text_scale
        lines = wrap_text(self.caption, self.width_px, size)
        width = self.width_px + 2 * MARGIN_PX
        height = self.height_px + size * 1.4 * len(lines) + 12 + 2 * MARGIN_PX
        place = f'x="{MARGIN_PX:g}" y="{MARGIN_PX:g}" width="{self.width_px:g}" height="{self.height_px:g}"'
        inner = self.standalone(chosen, fonts=fonts).replace("<svg ", f"<svg {place} ", 1)
        family = "'Atkinson Hyperlegible Next','Literata',sans-serif"
        style = f'font-family="{family}" font-size="{size:g}" fill="{chosen.colours["quiet"]}"'
        first = MARGIN_PX + self.height_px + size * 1.1
        texts = "".join(
            f'<text x="{MARGIN_PX:g}" y="{first + size * 1.4 * i:.1f}" {style}>{escape(line)}</text>'
            for i, line in enumerate(lines)
        )
        head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:.1f}" role="img"'
        ground = f'<rect width="{width:g}" height="{height:.1f}" fill="{chosen.colours["ground"]}"/>'
        return f'{head} aria-label="{escape(self.alt)}">{ground}{inner}{texts}</svg>'
