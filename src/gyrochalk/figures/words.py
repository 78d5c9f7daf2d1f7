"""What the pictures call things, so that a course may use its own words for them."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from types import MappingProxyType

from gyrochalk.figures.theme import Letter

INSTRUMENTS: Mapping[str, Letter] = MappingProxyType(
    {"actual": "A", "card": "C", "gyro": "G", "slaved": "S", "detector": "D"}
)
"""The names used in files, and the letter each carries on every picture."""


@dataclasses.dataclass(frozen=True, slots=True)
class Words:
    """Names of the instruments as a sentence uses them, without article."""

    actual: str = "actual heading"
    card: str = "compass card"
    gyro: str = "unslaved gyro"
    slaved: str = "slaved compass"
    detector: str = "detector"

    def name(self, instrument: str) -> str:
        """What `instrument` (a key of `INSTRUMENTS`) is called."""
        text: str = getattr(self, instrument)
        return text


WORDS = Words()


def capital(text: str) -> str:
    """`text` beginning with a capital."""
    return text[:1].upper() + text[1:]


def joined(parts: list[str]) -> str:
    """The parts as a list in a sentence: "a, b and c"."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}" if parts else ""
