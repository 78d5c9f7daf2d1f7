"""The one place for colours, dashes, line weights and letters: a quantity keeps its sign on every picture."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

Letter = Literal["A", "C", "G", "S", "D"]


@dataclasses.dataclass(frozen=True, slots=True)
class Line:
    """How a quantity's line is drawn: `width` [px], `dash` (SVG dash list, "" for solid), `cap` of each dash."""

    width: float
    dash: str = ""
    cap: Literal["butt", "round"] = "butt"


LINES: Mapping[str, Line] = MappingProxyType(
    {
        "A": Line(1.2),
        "C": Line(2.0, "11 4"),
        "G": Line(2.6, "0.1 4.6", "round"),
        "S": Line(3.2),
        "D": Line(2.0, "9 3 1.8 3"),
        "acting": Line(2.0),
    }
)
"""Line of each quantity by its letter; "acting" is the error signal, the motor, anything that acts."""


@dataclasses.dataclass(frozen=True, slots=True)
class Theme:
    """One way to dress every picture.

    `colours` maps a role (ground, ink, quiet, axis, hair, shade, alert, the letters A C G S D, acting) to #RRGGBB.
    `text_scale` and `line_scale` multiply letters and line widths, for reading from the back row.
    """

    name: str
    colours: Mapping[str, str]
    text_scale: float = 1.0
    line_scale: float = 1.0


def _theme(name: str, text_scale: float = 1.0, line_scale: float = 1.0, **colours: str) -> Theme:
    return Theme(name, MappingProxyType(colours), text_scale, line_scale)


LIGHT = _theme(
    "light",
    ground="#FFFFFF",
    ink="#1B1F23",
    quiet="#55606B",
    axis="#7A848E",
    hair="#DDE2E7",
    shade="#F1F3F0",
    alert="#A4262C",
    A="#1B1F23",
    C="#B35C00",
    G="#0B62A8",
    S="#00776B",
    D="#7A3E9D",
    acting="#A4262C",
)
DARK = _theme(
    "dark",
    ground="#14181C",
    ink="#ECEFF1",
    quiet="#A9B4BE",
    axis="#75818C",
    hair="#323A42",
    shade="#1F262B",
    alert="#FF8A80",
    A="#ECEFF1",
    C="#FFB454",
    G="#6CB6FF",
    S="#4CD3C2",
    D="#D3A4F0",
    acting="#FF8A80",
)
GREY = _theme(
    "grey",
    ground="#FFFFFF",
    ink="#000000",
    quiet="#444444",
    axis="#777777",
    hair="#D6D6D6",
    shade="#EFEFEF",
    alert="#000000",
    A="#000000",
    C="#5E5E5E",
    G="#3A3A3A",
    S="#111111",
    D="#6A6A6A",
    acting="#262626",
)
PROJECTOR = Theme("projector", LIGHT.colours, text_scale=1.45, line_scale=1.5)
PAGE = Theme("page", LIGHT.colours)
"""For a web page: drawn by class, coloured by the page's own stylesheet (light, dark or print)."""

THEMES: Mapping[str, Theme] = MappingProxyType({t.name: t for t in (PAGE, LIGHT, DARK, GREY, PROJECTOR)})

TEXT_STACK = "'Literata','Atkinson Hyperlegible Next',Georgia,serif"
FIGURE_STACK = "'Atkinson Hyperlegible Next','Literata',system-ui,sans-serif"
MONO_STACK = "'Atkinson Hyperlegible Mono',ui-monospace,monospace"

TITLE_PX = 17.0
LABEL_PX = 14.0
SMALL_PX = 12.0
"""The three sizes of text, for a picture 720 px wide."""

BOARD_LEAST_PART = 1 / 40
"""On the board nothing is smaller than this part of the screen's height."""
