"""How wide a text is, from the real glyph widths of the shipped fonts, so that labels never meet by surprise."""

from __future__ import annotations

import functools
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

FONTS = Path(__file__).parent / "fonts"
Face = Literal["text-400", "text-700", "figure-400", "figure-700", "mono-400"]
UNKNOWN_WIDTH = 0.75
UNITS_AFTER_NUMBER = frozenset(("°/min", "°/h", "°/s", "µT", "s", "min", "h", "g", "kt", "ft"))
ASCENT, DESCENT = 0.74, 0.22
"""Height of capitals and digits above, and depth of descenders below the baseline, in em (measured, rounded up)."""


@functools.cache
def _widths() -> Mapping[str, Mapping[str, int]]:
    table: dict[str, dict[str, int]] = json.loads((FONTS / "widths.json").read_text(encoding="utf-8"))["widths"]
    return table


def text_width(text: str, size_px: float, face: Face = "figure-400") -> float:
    """Width [px] of `text` set at `size_px` in one of the shipped faces, no kerning, digits in their wider form."""
    glyphs = _widths()[face]
    return sum(glyphs.get(char, UNKNOWN_WIDTH * 1000) for char in text) * size_px / 1000


def wrap_text(text: str, width_px: float, size_px: float, face: Face = "figure-400") -> list[str]:
    """Break `text` at spaces into lines no wider than `width_px` (a longer single word stands alone).

    A number and its unit stay together.
    """
    lines: list[str] = []
    for word in _unbroken(text.split()):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size_px, face) <= width_px:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _unbroken(words: list[str]) -> list[str]:
    """Words that a line may begin with: a unit is joined to the number before it."""
    joined: list[str] = []
    for word in words:
        if joined and word.rstrip(".,;:") in UNITS_AFTER_NUMBER and joined[-1][-1:].isdigit():
            joined[-1] += f" {word}"
        else:
            joined.append(word)
    return joined
