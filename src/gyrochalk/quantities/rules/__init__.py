"""The named textbook rules, each with its source and with what the physics says beside it.

A rule is never called false and never taken for the physics: an examining authority's key is often the rule.
"""

from __future__ import annotations

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.rules.compass import COMPASS
from gyrochalk.quantities.rules.course import COURSE
from gyrochalk.quantities.rules.rule import Parameter, Rule
from gyrochalk.quantities.rules.slaving import SLAVING
from gyrochalk.quantities.rules.turns import TURNS
from gyrochalk.quantities.rules.wander import WANDER
from gyrochalk.quantities.value import Value
from gyrochalk.units import nearest

RULES: dict[str, Rule] = {rule.name: rule for rule in (*COMPASS, *TURNS, *WANDER, *SLAVING, *COURSE)}
"""Every textbook rule by the name a claim uses: `claim:rule/turning-lag?lat=40`."""


def find(name: str) -> Rule:
    """The rule of a name; raises MaterialError (rule-unknown) with the nearest known one."""
    if name in RULES:
        return RULES[name]
    guess = nearest(name, RULES)
    cure = f'did you mean "{guess}"?' if guess else "write for example rule/turning-lag?lat=40"
    raise MaterialError(
        Problem("rule-unknown", f'"{name}" is not a textbook rule', f"rules are {', '.join(RULES)}", cure)
    )


def evaluate(name: str, **parameters: str | float) -> Value:
    """What a rule says; parameters as written ("40", "40 N", "100 kt") or as numbers in their own units.

    Raises MaterialError: rule-unknown, rule-parameter, out-of-range, unit-wrong, number-unreadable.
    """
    return find(name).evaluate(**parameters)


def physics(name: str, **parameters: str | float) -> Value | None:
    """What the physics says for the same parameters, or None where there is nothing to set beside the rule."""
    return find(name).physics(**parameters)


__all__ = ["RULES", "Parameter", "Rule", "evaluate", "find", "physics"]
