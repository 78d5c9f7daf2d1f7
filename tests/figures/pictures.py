"""The pictures that are kept as golden files and measured for overlaps."""

from __future__ import annotations

import dataclasses

from gyrochalk.figures import Figure, FigureOptions, Theme, Words, draw
from gyrochalk.figures.options import Size
from tests.figures.sample_runs import RUNS

PICTURES: dict[str, tuple[str, FigureOptions]] = {
    "traces-circle": ("orbit", FigureOptions()),
    "traces-alignment": ("cold-start", FigureOptions()),
    "traces-drift": ("drift", FigureOptions(show=("gyro", "slaved"))),
    "traces-crowded": ("tumble", FigureOptions(channels=("actual.bank",))),
    "headings-circle": ("orbit", FigureOptions(form="headings", show=("card", "slaved"))),
    "headings-round-and-round": ("tumble", FigureOptions(form="headings")),
    "channels": ("orbit", FigureOptions(channels=("slaved.correction", "actual.turn_rate"))),
    "faces-turn": ("orbit", FigureOptions(kind="faces", at=(27.0,))),
    "faces-toppled": ("drift", FigureOptions(kind="faces", at=("end",))),
    "faces-all": ("orbit", FigureOptions(kind="faces", at=(27.0,), show=("card", "gyro", "slaved", "detector"))),
    "ribbon-turn": ("orbit", FigureOptions(kind="ribbon", at=(27.0,))),
    "ribbon-fine": ("drift", FigureOptions(kind="ribbon", at=(600.0,))),
    "ribbon-beyond": ("cold-start", FigureOptions(kind="ribbon", at=("start",), show=("slaved", "gyro", "detector"))),
    "ribbon-strip": ("orbit", FigureOptions(kind="ribbon", instants=6)),
}
"""Name of each picture: the run and the options."""

LONG_WORDS = Words(
    card="direct-reading standby magnetic compass",
    gyro="free directional gyroscope",
    slaved="gyro-magnetic remote-indicating compass",
    detector="flux detector unit in the wing tip",
)


def picture(name: str, theme: Theme, size: Size = "medium", words: Words | None = None) -> Figure:
    """One of the pictures in a theme and size."""
    run, options = PICTURES[name]
    return draw(RUNS[run](), dataclasses.replace(options, size=size), theme, words or Words())
