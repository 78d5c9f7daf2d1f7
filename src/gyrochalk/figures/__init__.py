"""Pictures drawn from a run: traces, faces, ribbon, signal path, Earth's field; one theme for screen and print."""

from gyrochalk.figures.comparison import compare
from gyrochalk.figures.drawing import draw
from gyrochalk.figures.options import OPTIONS, FigureOptions
from gyrochalk.figures.picture import DataTable, Figure
from gyrochalk.figures.theme import DARK, GREY, LIGHT, PAGE, PROJECTOR, THEMES, Theme
from gyrochalk.figures.words import WORDS, Words

__all__ = [
    "DARK",
    "GREY",
    "LIGHT",
    "OPTIONS",
    "PAGE",
    "PROJECTOR",
    "THEMES",
    "WORDS",
    "DataTable",
    "Figure",
    "FigureOptions",
    "Theme",
    "Words",
    "compare",
    "draw",
]
