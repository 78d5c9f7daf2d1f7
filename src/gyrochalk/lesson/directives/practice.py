"""```practice …```: problems drawn from families. This version has no families, and says so."""

from __future__ import annotations

from gyrochalk.errors import Problem
from gyrochalk.lesson.mentions import Fence


def refuse_practice(fence: Fence) -> Problem:
    """The problem a `practice` block is in this version."""
    place = fence.place
    return Problem(
        "not-in-this-version",
        "practice blocks need problem families",
        "this version has none yet",
        "take the block out, or keep it in a private block until then",
        place.file,
        place.line,
        place.column,
    )
