"""`![The first two minutes](clip:orbit?from=0s&to=120s)`: a moving picture; on a page, a strip of stills."""

from __future__ import annotations

from gyrochalk.figures import Words
from gyrochalk.lesson.directives.figure import Drawn, draw_figure
from gyrochalk.lesson.flights import Flights
from gyrochalk.lesson.mentions import Mention

STILLS = {"kind": "strip"}
"""What a clip is where nothing moves, unless its link says otherwise."""


def draw_clip(mention: Mention, flights: Flights, words: Words) -> Drawn:
    """Draw the strip of stills a `clip:` link stands for; raises `MaterialError` with the place of the link."""
    return draw_figure(mention, flights, words, STILLS)
