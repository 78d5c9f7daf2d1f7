"""Write the shipped figure family as TTF for the rasteriser, with the µ it lacks (needs fonttools and brotli).

The µ is the text family's, as on a page; both licences allow it, and neither reserves a name.
"""

from __future__ import annotations

from pathlib import Path

from fontTools.pens.recordingPen import DecomposingRecordingPen  # type: ignore[import-untyped]
from fontTools.pens.transformPen import TransformPen  # type: ignore[import-untyped]
from fontTools.pens.ttGlyphPen import TTGlyphPen  # type: ignore[import-untyped]
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

FONTS = Path(__file__).parents[1] / "src/gyrochalk/figures/fonts"
MICRO = 0xB5


def main() -> None:
    """Write both weights."""
    for weight in (400, 700):
        font = TTFont(FONTS / f"atkinson-hyperlegible-next-latin-{weight}-normal.woff2")
        add_micro(font, TTFont(FONTS / f"literata-latin-{weight}-normal.woff2"))
        font.flavor = None
        font.save(FONTS / f"atkinson-hyperlegible-next-latin-{weight}-normal.ttf")


def add_micro(font: TTFont, other: TTFont) -> None:
    """Copy the µ of another font, at the same size of an em."""
    name = other.getBestCmap()[MICRO]
    scale = font["head"].unitsPerEm / other["head"].unitsPerEm
    outline = DecomposingRecordingPen(other.getGlyphSet())
    other.getGlyphSet()[name].draw(outline)
    pen = TTGlyphPen(None)
    outline.replay(TransformPen(pen, (scale, 0, 0, scale, 0, 0)))
    width, left = other["hmtx"][name]
    font["glyf"]["micro"] = pen.glyph()
    font["hmtx"]["micro"] = (round(width * scale), round(left * scale))
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap[MICRO] = "micro"


if __name__ == "__main__":
    main()
