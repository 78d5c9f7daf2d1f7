"""`![What the card shows](figure:orbit?show=card,detector)`: a picture drawn from a run."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from gyrochalk.figures import Figure, FigureOptions, Words, compare, draw
from gyrochalk.lesson.address import parse_address
from gyrochalk.lesson.flights import Flights, ground
from gyrochalk.lesson.mentions import Mention

EXAMPLE = "![What the card shows](figure:orbit?show=card,detector)"


@dataclasses.dataclass(frozen=True, eq=False)
class Drawn:
    """A picture of a lesson: the `figure`, the `caption` the author gave, the `title` of the flight, and in
    `flown` the addresses of the runs it is drawn from."""

    figure: Figure
    caption: str
    title: str
    flown: tuple[str, ...]


def draw_figure(mention: Mention, flights: Flights, words: Words, usual: Mapping[str, str] | None = None) -> Drawn:
    """Draw the picture a `figure:` link asks for.

    `words` are what the course calls the instruments; `usual` options that hold unless the link says otherwise. Raises
    `MaterialError` with the place of the link.
    """
    with ground(mention.place):
        address = parse_address(mention.address, measured=False, example=EXAMPLE)
        run = flights.run(address.demonstration)
        options = FigureOptions.parse({**(usual or {}), **address.options})
        title = flights.title(address.demonstration)
        if options.against is None:
            return Drawn(draw(run, options, words=words), mention.text, title, (address.demonstration,))
        beside = flights.title(options.against)
        flown = (address.demonstration, options.against)
        runs = {_within(title): run, _within(beside): flights.run(options.against)}
        return Drawn(compare(runs, options, words=words), mention.text, f"{title}, beside {beside}", flown)


def _within(title: str) -> str:
    """A title as it stands within a sentence."""
    return title[:1].lower() + title[1:]
