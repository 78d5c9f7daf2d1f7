"""A picture with one slider: the same picture of up to 41 runs, one for each value of a swept part of the setup."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from gyrochalk.demonstration import Demonstration, Sweep, fly_setup
from gyrochalk.document import Stop
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.figures import Figure, FigureOptions, Words, draw
from gyrochalk.lesson.flights import Flights
from gyrochalk.units import nearest

MOST_STOPS = 41
MOST_BYTES = 2_000_000
"""All pictures of one slider together take less than this on a page [bytes]."""


def draw_stops(address: str, options: FigureOptions, flights: Flights, words: Words) -> tuple[Stop, ...]:
    """The pictures of `options.slider`, in the order of the sweep; the first is the base run's.

    Raises `MaterialError` (figure-value) without a place: nothing of that name is swept, too many runs, or too large.
    """
    demonstration, variant = flights.variant(address)
    sweep = _sweep(demonstration, variant.name, options)
    if len(sweep.texts) > MOST_STOPS:
        what = f"slider={options.slider} has {len(sweep.texts)} steps"
        raise _refusal(what, f"a slider moves over at most {MOST_STOPS} runs", f"sweep it in {MOST_STOPS} steps")
    setups = [demonstration.setup_at(variant.name or None, {sweep.name: step}) for step in range(len(sweep.texts))]
    figures = [draw(fly_setup(setup), options, words=words) for setup in setups]
    _require_small(figures, str(options.slider))
    return tuple(Stop(_shown(text), figure) for text, figure in zip(sweep.texts, figures, strict=True))


def slider_label(name: str) -> str:
    """What a slider is called: the last part of the swept value's name, in words."""
    return name.rsplit(".", 1)[-1].replace("_", " ").capitalize()


def _shown(text: str) -> str:
    """A swept value as a page shows it: "3 deg/min" as 3 °/min."""
    return re.sub(r" ?\bdeg\b", "°", text).replace("°/", " °/").replace(" uT", " µT")


def _sweep(demonstration: Demonstration, variant: str, options: FigureOptions) -> Sweep:
    if options.against is not None:
        raise _refusal("slider and against are both given", "one of the two", "leave against out")
    known = _within(demonstration.swept, variant)
    found = known.get(str(options.slider))
    if found is None:
        allowed = f"what is swept there is {', '.join(known)}" if known else "nothing is swept there"
        close = nearest(str(options.slider), known)
        cure = f"did you mean {close}?" if close else "write sweep: {from: …, to: …, steps: …} in the demonstration"
        raise _refusal(f"slider={options.slider} is not swept in {demonstration.id}", allowed, cure)
    return found


def _within(swept: Sequence[Sweep], variant: str) -> Mapping[str, Sweep]:
    """The sweeps of one variant (or of the base run) by the name a link uses."""
    own = ("variants", variant)
    found = {sweep.name: sweep for sweep in swept if sweep.path[0] != "variants"}
    ours = (sweep for sweep in swept if variant and sweep.path[:2] == own)
    return found | {".".join(str(part) for part in sweep.path[2:]): sweep for sweep in ours}


def _require_small(figures: Sequence[Figure], name: str) -> None:
    size = sum(len(figure.svg.encode("utf-8")) + sum(map(len, sum(figure.table.rows, ()))) for figure in figures)
    if size >= MOST_BYTES:
        what = f"the {len(figures)} pictures of slider={name} take {size / 1e6:.1f} MB"
        raise _refusal(what, f"less than {MOST_BYTES / 1e6:g} MB", "sweep in fewer steps, or show a smaller part")


def _refusal(what: str, allowed: str, cure: str) -> MaterialError:
    return MaterialError(Problem("figure-value", what, allowed, cure))
