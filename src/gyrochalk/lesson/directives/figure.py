"""`![What the card shows](figure:orbit?show=card,detector)`: a picture drawn from a run."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping

from gyrochalk.document import Stop
from gyrochalk.figures import Figure, FigureOptions, Words, compare, draw
from gyrochalk.lesson.address import parse_address
from gyrochalk.lesson.flights import Flights, ground
from gyrochalk.lesson.mentions import Mention
from gyrochalk.lesson.slider import draw_stops, slider_label

EXAMPLE = "![What the card shows](figure:orbit?show=card,detector)"


@dataclasses.dataclass(frozen=True, eq=False)
class Drawn:
    """A picture of a lesson: the `figure`, the `caption` the author gave, the `title` of the flight, and in
    `flown` the addresses of the runs it is drawn from; `stops` are the places of a slider called `slider`."""

    figure: Figure
    caption: str
    title: str
    flown: tuple[str, ...]
    stops: tuple[Stop, ...] = ()
    slider: str = ""


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
        if options.slider is not None:
            stops = draw_stops(address.demonstration, options, flights, words)
            alone, label = (address.demonstration,), slider_label(options.slider)
            return Drawn(stops[0].figure, mention.text, title, alone, stops, label)
        if options.against is None:
            return Drawn(draw(run, options, words=words), mention.text, title, (address.demonstration,))
        flown = (address.demonstration, options.against)
        pair = flights.beside(*flown)
        runs = {_within(name): flight for name, flight in pair.items()}
        return Drawn(compare(runs, options, words=words), mention.text, ", beside ".join(pair), flown)


def _within(title: str) -> str:
    """A title as it stands within a sentence."""
    return title[:1].lower() + title[1:]
