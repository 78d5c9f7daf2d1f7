"""What the pictures call things, so that a course may use its own words for them."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from types import MappingProxyType

from gyrochalk.figures.theme import Letter
from gyrochalk.systems.run import Column, Event, Span
from gyrochalk.units.words import ENGLISH, Speech, Term

INSTRUMENTS: Mapping[str, Letter] = MappingProxyType(
    {"actual": "A", "card": "C", "gyro": "G", "slaved": "S", "detector": "D"}
)
"""The names used in files, and the letter each carries on every picture."""


@dataclasses.dataclass(frozen=True, slots=True)
class Words:
    """Names of the instruments as a sentence uses them, without article, and the `speech` everything is said in."""

    actual: str = "actual heading"
    card: str = "compass card"
    gyro: str = "unslaved gyro"
    slaved: str = "slaved compass"
    detector: str = "detector"
    speech: Speech = ENGLISH

    @classmethod
    def of(cls, speech: Speech) -> Words:
        """The words of a language and of a course's choice among synonyms."""
        return cls(speech=speech, **{name: speech.term(name) for name in INSTRUMENTS_SAID})

    def name(self, instrument: str) -> str:
        """What `instrument` (a key of `INSTRUMENTS`) is called."""
        text: str = getattr(self, instrument)
        return text

    def term(self, instrument: str) -> Term:
        """As `name`, with the forms a sentence of the catalogue may ask for."""
        name = self.name(instrument)
        return name if isinstance(name, Term) else Term(name)

    def say(self, key: str, /, **values: object) -> str:
        """The sentence or label `key` of the catalogue (`units/words/en.toml`), these names and `values` put in."""
        return self.speech.say(key, {name: self.term(name) for name in INSTRUMENTS_SAID}, **values)

    def channel(self, col: Column) -> Term:
        """What a channel of a run is called."""
        return Term(self.speech.quantity(col.name, col.description))

    def happening(self, happened: Event | Span) -> str:
        """What a run says of an event or a span."""
        return self.speech.happening(happened.kind, happened.text)


INSTRUMENTS_SAID = ("actual", "card", "gyro", "slaved", "detector")
"""Those `Words` has a name for, in the order of its fields."""

WORDS = Words()


def capital(text: str) -> str:
    """`text` beginning with a capital."""
    return text[:1].upper() + text[1:]


def joined(parts: list[str], words: Words = WORDS) -> str:
    """The parts as a list in a sentence: "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return words.say("list.and", first=", ".join(parts[:-1]), last=parts[-1])
