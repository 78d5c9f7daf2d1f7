"""The only place where a run becomes a stated number.

The catalogue of measures, the measures an instructor declares, one rounding rule, one comparison with a tolerance, and
the named textbook rules (`gyrochalk.quantities.rules`).
"""

from gyrochalk.quantities import rules
from gyrochalk.quantities.catalogue import measures_for
from gyrochalk.quantities.channels import CHANNELS, EVENTS, SPANS, TIME, Channel
from gyrochalk.quantities.comparing import Comparison, compare
from gyrochalk.quantities.declaring import declare, examine
from gyrochalk.quantities.evaluating import evaluate, evaluate_all
from gyrochalk.quantities.measure import REDUCERS, Measure, Passing, Reducer
from gyrochalk.quantities.moments import Moment, Window, parse_moment, parse_span
from gyrochalk.quantities.stated import Stated, parse_stated
from gyrochalk.quantities.value import Value

__all__ = [
    "CHANNELS",
    "EVENTS",
    "REDUCERS",
    "SPANS",
    "TIME",
    "Channel",
    "Comparison",
    "Measure",
    "Moment",
    "Passing",
    "Reducer",
    "Stated",
    "Value",
    "Window",
    "compare",
    "declare",
    "evaluate",
    "evaluate_all",
    "examine",
    "measures_for",
    "parse_moment",
    "parse_span",
    "parse_stated",
    "rules",
]
