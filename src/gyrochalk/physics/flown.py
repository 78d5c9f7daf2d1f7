"""What a flown instrument hands back, and how finely it is flown.

The three instruments are coupled one way only, so each is flown by itself with its own steps.
"""

from __future__ import annotations

from gyrochalk.physics.world import Floats

FIRST_STEP = 0.02
"""Step [s] tried first after every change of leg or settings."""
LOCAL_SHARE = 0.06
"""Share of the tolerance on an indicated heading that one step may spend."""
LOG_ROWS = 4096
EVENT_TOPPLED, EVENT_FAST_STARTS, EVENT_FAST_ENDS = 1.0, 2.0, 3.0
"""Codes in the second column of a log; the first is the time [s]."""

Flown = tuple[Floats, Floats, int, float, Floats]
"""Samples, log of events, status, time reached [s], journey (step counts)."""
