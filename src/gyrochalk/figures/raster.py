"""A finished picture as PNG, for a slide or a letter: drawn with the shipped letters, whatever the machine has."""

from __future__ import annotations

from gyrochalk.figures.lettering import FONTS
from gyrochalk.figures.picture import Figure
from gyrochalk.figures.theme import Theme

PNG_WIDTH_PX = 1920
PNG_FONTS = ("atkinson-hyperlegible-next-latin-400-normal.ttf", "atkinson-hyperlegible-next-latin-700-normal.ttf")
"""The shipped figure family in the form the rasteriser reads, with a µ of the text family (tools/png_fonts.py)."""


def to_png(figure: Figure, theme: Theme | None = None, width_px: int = PNG_WIDTH_PX) -> bytes:
    """The picture with its caption as a PNG file.

    `theme` dresses it (None: its own; for a page: light); `width_px` is how wide it becomes [px].
    """
    import resvg_py

    fonts = [str(FONTS / name) for name in PNG_FONTS]
    svg = figure.with_caption(theme, fonts=False)
    family = "Atkinson Hyperlegible Next"
    drawn = resvg_py.svg_to_bytes(
        svg_string=svg,
        width=width_px,
        skip_system_fonts=True,
        font_files=fonts,
        font_family=family,
        sans_serif_family=family,
        serif_family=family,
    )
    return bytes(drawn)
