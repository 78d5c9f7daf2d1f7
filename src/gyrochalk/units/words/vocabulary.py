"""The trade's synonyms a course may choose among, and how a sentence that names one is put into the chosen words."""

from __future__ import annotations

import re
from collections.abc import Mapping

VOCABULARY: Mapping[str, tuple[str, ...]] = {
    "detector": ("detector", "flux valve", "detector unit"),
    "unslaved gyro": ("unslaved gyro (DG)", "unslaved gyro (DI)", "unslaved heading indicator"),
    "slaved compass": ("slaved compass", "gyro-magnetic compass", "remote-indicating compass"),
    "rate one": ("rate one", "standard rate"),
    "wander": ("wander", "drift"),
    "annunciator": ("annunciator", "synchronisation indicator"),
}
"""For each term the synonyms the trade uses; the first is used unless the course chooses another."""

_REWORDED: Mapping[str, tuple[tuple[str, str], ...]] = {
    "flux valve": ((r"detector(?! unit)", "flux valve"),),
    "detector unit": ((r"detector(?! unit)", "detector unit"),),
    "unslaved gyro (DI)": ((r"unslaved gyro(?: \(DG\))?(?! \()", "unslaved gyro (DI)"),),
    "unslaved heading indicator": ((r"unslaved gyro(?: \(DG\))?", "unslaved heading indicator"),),
    "gyro-magnetic compass": (
        ("slaved compass", "gyro-magnetic compass"),
        ("slaved card", "gyro-magnetic compass"),
        ("slaved gyro", "gyro-magnetic compass's gyro"),
    ),
    "remote-indicating compass": (
        ("slaved compass", "remote-indicating compass"),
        ("slaved card", "remote-indicating compass"),
        ("slaved gyro", "remote-indicating compass's gyro"),
    ),
    "standard rate": (
        (r"a rate[ -]one turn", "a standard-rate turn"),
        ("rate-one turn", "standard-rate turn"),
        (r"rate[ -]one", "standard rate"),
    ),
    "drift": (("wander", "drift"), ("wanders", "drifts"), ("wandering", "drifting"), ("wandered", "drifted")),
    "synchronisation indicator": (
        ("an annunciator", "a synchronisation indicator"),
        ("annunciator", "synchronisation indicator"),
    ),
}
"""For a chosen synonym, what stands in a sentence written in the usual words, and what is put in its place."""


def reword(text: str, chosen: Mapping[str, str]) -> str:
    """An English sentence of ours in the course's words.

    `text` is written in the usual words; `chosen` has the synonym for keys of `VOCABULARY`. Names of channels and
    measures ("detector.heading") stay, and rewording twice changes nothing more.
    """
    for word in chosen.values():
        for pattern, other in _REWORDED.get(word, ()):
            whole = rf"(?<![\w.-])(?:{pattern})(?![\w-]|\.\w|/)"
            text = re.sub(whole, lambda found, other=other: _like(found[0], other), text, flags=re.IGNORECASE)  # type: ignore[misc]
    return text


def _like(found: str, other: str) -> str:
    """The replacement, with a capital where there was one."""
    return other[:1].upper() + other[1:] if found[:1].isupper() else other
