"""Did you mean …: the known name nearest to one that is not known."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def nearest(name: str, candidates: Iterable[str]) -> str | None:
    """The candidate most like `name`, whatever its capitals, or None if nothing is like it."""
    by_folded: dict[str, str] = {}
    for candidate in candidates:
        by_folded.setdefault(candidate.casefold(), candidate)
    if close := difflib.get_close_matches(name.casefold(), list(by_folded), n=1, cutoff=0.6):
        return by_folded[close[0]]
    return None
