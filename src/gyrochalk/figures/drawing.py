"""From a run to a picture."""

from __future__ import annotations

from collections.abc import Callable

from gyrochalk.figures.against_heading import draw_against_heading
from gyrochalk.figures.comparison import no_second_run
from gyrochalk.figures.earth import draw_earth
from gyrochalk.figures.faces import draw_faces
from gyrochalk.figures.options import FigureOptions, Kind
from gyrochalk.figures.picture import Figure
from gyrochalk.figures.polar import draw_polar
from gyrochalk.figures.ribbon import draw_ribbon
from gyrochalk.figures.signal_path import draw_path
from gyrochalk.figures.strip import draw_strip
from gyrochalk.figures.theme import THEMES, Theme
from gyrochalk.figures.traces import draw_traces
from gyrochalk.figures.words import WORDS, Words
from gyrochalk.systems.run import Run

_PAINTERS: dict[Kind, Callable[[Run, FigureOptions, Theme, Words], Figure]] = {
    "traces": draw_traces,
    "faces": draw_faces,
    "ribbon": draw_ribbon,
    "path": draw_path,
    "earth": draw_earth,
    "against-heading": draw_against_heading,
    "polar": draw_polar,
    "compare": no_second_run,
    "strip": draw_strip,
}


def draw(run: Run, options: FigureOptions | None = None, theme: Theme | None = None, words: Words = WORDS) -> Figure:
    """Draw one picture of a run.

    `options` say what to show (None: traces of every error), `theme` how it is dressed (None: the one the options
    name), `words` what the instruments are called. Raises MaterialError (figure-channel, figure-time) for what the
    run does not have; the problems carry no place.
    """
    chosen = options or FigureOptions()
    with words.speech.numbers():
        return _PAINTERS[chosen.kind](run, chosen, theme or THEMES[chosen.theme], words)
