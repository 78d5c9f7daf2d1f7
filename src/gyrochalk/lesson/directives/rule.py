"""`[40°](claim:rule/turning-lag?lat=40)`: a claim on a named textbook rule, with what the physics says beside it."""

from __future__ import annotations

import dataclasses

from gyrochalk.lesson.address import Address
from gyrochalk.quantities import Value, rules
from gyrochalk.quantities.rules.sources import TITLES
from gyrochalk.units.words import ENGLISH, Speech

RULE = "rule"
"""Stands where a claim has its demonstration."""


@dataclasses.dataclass(frozen=True, slots=True)
class Ruling:
    """What a rule says: its `value`, the rule's sentence and its `source`, and in words what the `physics` says."""

    value: Value
    source: str
    physics: str | None


def examine_rule(address: Address, decimals: int, speech: Speech = ENGLISH) -> Ruling:
    """Ask the rule an address names; the options of the address are its parameters.

    `decimals` are those of the stated number, `speech` the course's words.
    Raises `MaterialError` without a place (rule-unknown, rule-parameter …).
    """
    rule = rules.find(address.measure)
    value = rule.evaluate(**address.options)
    model = rule.physics(**address.options)
    beside = f"{model.text(max(1, decimals))}, {speech.reword(rule.model_note)}" if model is not None else None
    return Ruling(value, f"{speech.reword(rule.sentence).rstrip('.')}; {_marked(rule, speech)}", beside)


def _marked(rule: rules.Rule, speech: Speech) -> str:
    if rule.mark == "S":
        return TITLES[rule.source]
    return speech.say("note.source_common" if rule.mark == "C" else "note.source_memory")
