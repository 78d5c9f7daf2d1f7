"""Rules about the slaving loop."""

from __future__ import annotations

import math

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.rules.rule import Given, Parameter, Rule

OFF = Parameter("off", "deg", "how far the card is off, the short way round", 0.0, 180.0)
RATE = Parameter("rate", "deg/min", "the slaving rate", 0.1, 2000.0, default=3.0)
BAND = Parameter("band", "deg", "the error from which the rate is full", 0.2, 30.0, default=2.0)
DEAD_ZONE = Parameter("dead", "deg", "the error at which the correction stops", 0.0, 2.0, default=0.1)
BOUND = Parameter("bound", "deg", "the error that counts as aligned", 0.01, 30.0, default=1.0)
FIELD = Parameter("field", "uT", "the horizontal field", 2.0, 70.0, default=20.0)
REFERENCE_FIELD_UT = 20.0
EXCITATION = Parameter("excitation", "Hz", "the frequency of the excitation", 1.0, 1e6, default=400.0)


def slaving_time(
    off_deg: float, rate_deg_min: float, band_deg: float, dead_deg: float, bound_deg: float, gain: float
) -> float:
    """How long the full loop takes to the bound [min].

    From `off_deg` at the full `rate_deg_min` to the edge of the band, then ever slower: inside it the rate is
    proportional to what the error exceeds the dead zone by. `band_deg` and `dead_deg` count at the reference field,
    `bound_deg` is where the clock stops, `gain` the field over its reference [1]. Small angles; the loop's lag of half
    a second is left out. A bound inside the dead zone is never reached: infinite.
    """
    edge_deg, dead_edge_deg = band_deg / gain, dead_deg / gain
    if off_deg <= bound_deg:
        return 0.0
    if bound_deg <= dead_edge_deg:
        return math.inf
    constant_min = (band_deg - dead_deg) / (rate_deg_min * gain)
    slow_from_deg = min(off_deg, edge_deg)
    full_min = max(0.0, off_deg - max(edge_deg, bound_deg)) / rate_deg_min
    if bound_deg >= slow_from_deg:
        return full_min
    return full_min + constant_min * math.log((slow_from_deg - dead_edge_deg) / (bound_deg - dead_edge_deg))


def _full_loop(given: Given) -> float:
    gain = given["field"] / REFERENCE_FIELD_UT
    time_min = slaving_time(given["off"], given["rate"], given["band"], given["dead"], given["bound"], gain)
    if math.isinf(time_min):
        what = "the loop of the rule slaving-time stops correcting before it comes to the bound"
        allowed = "the bound must lie outside the dead zone, which widens where the field is weak"
        raise MaterialError(Problem("rule-parameter", what, allowed, "choose a larger bound or a smaller dead"))
    return time_min


SLAVING: tuple[Rule, ...] = (
    Rule(
        name="slaving-time",
        sentence="The time to align is how far the card is off, the short way round, over the slaving rate.",
        mark="C",
        source="common practice",
        unit="min",
        parameters=(OFF, RATE, BAND, DEAD_ZONE, BOUND, FIELD),
        says=lambda given: given["off"] / given["rate"],
        model=_full_loop,
        model_note="the full loop to the bound, which slows down inside its band",
    ),
    Rule(
        name="detector-frequency",
        sentence="The output of the detector has twice the frequency of its excitation.",
        mark="C",
        source="common practice",
        unit="Hz",
        parameters=(EXCITATION,),
        says=lambda given: 2.0 * given["excitation"],
        model=lambda given: 2.0 * given["excitation"],
        model_note="by symmetry: the odd harmonics of the two half-cores cancel",
    ),
)
