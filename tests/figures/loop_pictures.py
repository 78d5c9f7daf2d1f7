"""The pictures of the loop, the Earth's field, the compass round, two runs and strips that are kept and measured."""

from __future__ import annotations

import dataclasses

from gyrochalk.figures import Figure, FigureOptions, Theme, Words, compare, draw
from gyrochalk.figures.options import Size
from tests.figures.loop_runs import RUNS

LOOP_PICTURES: dict[str, tuple[str, FigureOptions]] = {
    "path-turn": ("circle", FigureOptions(kind="path", at=(27.0,))),
    "path-rest": ("steady", FigureOptions(kind="path", at=(30.0,))),
    "path-motor-stopped": ("motor", FigureOptions(kind="path", at=(27.0,))),
    "path-line-open": ("line-open", FigureOptions(kind="path", at=(27.0,))),
    "path-leg-dead": ("leg-dead", FigureOptions(kind="path", at=(27.0,))),
    "path-leg-reversed": ("leg-reversed", FigureOptions(kind="path", at=(27.0,))),
    "path-shorted": ("shorted", FigureOptions(kind="path", at=(27.0,))),
    "path-swapped": ("swapped", FigureOptions(kind="path", at=(27.0,))),
    "path-silent": ("silent", FigureOptions(kind="path", at=(27.0,))),
    "path-toppled": ("toppled", FigureOptions(kind="path", at=(27.0,))),
    "path-free": ("free", FigureOptions(kind="path", at=(27.0,))),
    "path-held": ("held", FigureOptions(kind="path", at=(27.0,))),
    "earth-turn": ("circle", FigureOptions(kind="earth", at=(27.0,))),
    "earth-detector": ("circle", FigureOptions(kind="earth", at=(60.0,), show=("detector",))),
    "earth-level": ("steady", FigureOptions(kind="earth", at=(10.0,))),
    "against-heading-circle": ("circle", FigureOptions(kind="against-heading")),
    "against-heading-part": ("circle", FigureOptions(kind="against-heading", to_s=60.0, show=("card",))),
    "polar-circle": ("circle", FigureOptions(kind="polar")),
    "polar-one": ("circle", FigureOptions(kind="polar", show=("detector",))),
    "compare-error": ("circle", FigureOptions(kind="compare", against="steady", show=("detector",))),
    "compare-same": ("circle", FigureOptions(kind="compare", against="free")),
    "compare-rates": ("circle", FigureOptions(kind="compare", against="motor", channels=("slaved.correction",))),
    "compare-two": ("circle", FigureOptions(kind="compare", against="steady", show=("card", "slaved"))),
    "strip-faces": ("circle", FigureOptions(kind="strip")),
    "strip-path": ("circle", FigureOptions(kind="strip", of="path", instants=4)),
    "strip-earth": ("circle", FigureOptions(kind="strip", of="earth", instants=4)),
    "strip-ribbon": ("circle", FigureOptions(kind="strip", of="ribbon", instants=5)),
}
"""Name of each picture: the run and the options."""


def loop_picture(name: str, theme: Theme, size: Size = "medium", words: Words | None = None) -> Figure:
    """One of the pictures in a theme and size."""
    run, options = LOOP_PICTURES[name]
    sized, said = dataclasses.replace(options, size=size), words or Words()
    if sized.against:
        return compare({run: RUNS[run](), sized.against: RUNS[sized.against]()}, sized, theme, said)
    return draw(RUNS[run](), sized, theme, said)
