"""A picture from its address alone, in any theme: for the gallery and for export."""

from __future__ import annotations

from gyrochalk.figures import PAGE, Figure, FigureOptions, Theme, Words, compare, draw
from gyrochalk.figures.words import WORDS
from gyrochalk.lesson.address import parse_address
from gyrochalk.lesson.directives.figure import EXAMPLE
from gyrochalk.lesson.flights import Flights


def draw_link(link: str, flights: Flights, theme: Theme | None = PAGE, words: Words = WORDS) -> Figure:
    """Draw what a `figure:` link asks for.

    `link` is what stands after `figure:`, such as "orbit?show=card"; `theme` dresses it (None: the one its options
    name). Raises `MaterialError` without a place.
    """
    address = parse_address(link, measured=False, example=EXAMPLE)
    options = FigureOptions.parse(address.options)
    run = flights.run(address.demonstration)
    if options.against is None:
        return draw(run, options, theme, words)
    return compare(flights.beside(address.demonstration, options.against), options, theme, words)
