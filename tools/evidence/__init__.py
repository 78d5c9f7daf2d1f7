"""Evidence: what is measured too slowly, or from too far outside, to be a test.

`make evidence FOR=lesson` runs the topic `lesson`: every row registered in the modules of `tools/evidence/lesson/`.
A row is a function that measures one number; the goal it is held against stands in its decorator, so a row cannot
report that it holds without having been compared:

    @row("apparent gravity lost", goal=below(0.5), unit="s", source="independent simulation")
    def vertical_lost() -> float:
        return ...

A function that finds out several things at once is decorated with `@rows` and yields `Row` after `Row`.
"""

from tools.evidence.goals import Goal, above, at_most, below, equal, near, true
from tools.evidence.registry import Row, row, rows

__all__ = ["Goal", "Row", "above", "at_most", "below", "equal", "near", "row", "rows", "true"]
