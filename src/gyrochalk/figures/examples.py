"""The pictures everybody is shown: in the gallery, in the documentation, and kept by the golden tests."""

from __future__ import annotations

import dataclasses


@dataclasses.dataclass(frozen=True, slots=True)
class Example:
    """One picture: its `name`, the `link` as it stands in a lesson after `figure:`, and what it is good for."""

    name: str
    link: str
    good_for: str


EXAMPLES: tuple[Example, ...] = (
    Example("traces", "orbit", "Errors over time; the title states the finding."),
    Example("traces-two", "orbit?show=detector,slaved", "Two instruments only."),
    Example("traces-part", "cold-start.automatic?from=0 s&to=2 min", "A part of the flight."),
    Example("headings", "cardinal-turns?as=headings&show=actual,card", "What is read, instead of how far it is out."),
    Example("channels", "orbit?channels=slaved.correction,actual.bank", "Any channel of the run."),
    Example("faces", "orbit?kind=faces&at=worst", "What the pilot sees at one instant, and which part turns."),
    Example("ribbon", "orbit?kind=ribbon&at=worst", "Small errors, to be seen from the back row."),
    Example("path", "orbit?kind=path&at=worst", "The slaving loop at work, with live values."),
    Example("path-fast", "cold-start.automatic?kind=path&at=5 s", "The loop aligning at its fast rate."),
    Example("earth", "orbit?kind=earth&at=turn starts + 20 s", "Why a banked card or detector is wrong."),
    Example(
        "earth-detector", "orbit.steep?kind=earth&at=turn starts + 20 s&show=detector", "The plane beyond the dip."
    ),
    Example("against-heading", "orbit?kind=against-heading", "The error on each heading of a circle."),
    Example("polar", "orbit?kind=polar&show=detector", "The same round the compass."),
    Example("compare", "orbit?kind=compare&show=slaved&against=orbit.textbook", "Two runs over one another."),
    Example("compare-fault", "disturbance?against=disturbance.fast", "The same fault met by two settings."),
    Example("strip", "orbit?kind=strip&stills=4", "A moving demonstration in print."),
    Example("strip-ribbon", "cardinal-turns?kind=strip&of=ribbon&stills=4", "Stills of the ribbon."),
)
"""Every example, in the order the gallery shows them; each kind of picture is among them."""
