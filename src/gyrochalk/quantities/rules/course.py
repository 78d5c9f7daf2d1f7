"""Rules about what a heading error does to the course flown."""

from __future__ import annotations

import math

from gyrochalk.quantities.rules.rule import Parameter, Rule

ERROR = Parameter("error", "deg", "the heading error", 0.0, 90.0)
DISTANCE = Parameter("distance", "NM", "the distance flown", 0.0, 10000.0)

COURSE: tuple[Rule, ...] = (
    Rule(
        name="one-in-sixty",
        sentence="One degree of heading error puts the aircraft one mile off track in sixty.",
        mark="C",
        source="common practice",
        unit="NM",
        parameters=(ERROR, DISTANCE),
        says=lambda given: given["distance"] * given["error"] / 60.0,
        model=lambda given: given["distance"] * math.sin(math.radians(given["error"])),
        model_note="the distance times the sine of the error",
    ),
)
