"""Effects that can be switched one by one, and the two named sets."""

from __future__ import annotations

EFFECTS: dict[str, str] = {
    "earth rate": "the Earth turns under the gyro",
    "transport": "the aircraft is carried round the Earth",
    "coriolis": "moving over a turning Earth tilts apparent gravity",
    "drift": "the gyro's own drift from unbalance",
    "gimballing": "the outer gimbal axis tilts with the aircraft",
    "detector tilt": "the detector hangs along apparent gravity instead of staying level",
    "swirl": "the compass fluid takes up the turn",
    "friction": "the card's pivot rubs",
    "deviation": "the aircraft's own magnetism",
    "noise": "random walk of the gyro",
    "levelling": "the levelling torque works and may work to the wrong vertical",
}
"""Name of each effect and what it means, as an instructor would say it."""

FULL: frozenset[str] = frozenset(EFFECTS)
"""Every effect on."""

TEXTBOOK: frozenset[str] = frozenset({"drift", "levelling"})
"""What the first explanation in class keeps: a gyro that drifts and is kept level, a detector that is always level."""
