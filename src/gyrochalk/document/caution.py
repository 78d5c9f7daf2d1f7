"""The caution every build and screen carries, word for word."""

from __future__ import annotations

CAUTION = (
    "For teaching only. Not for navigation, for adjusting or releasing an aircraft's compass, or in place of the "
    "maker's manual, the approved maintenance data, local regulations or a licensed engineer's or examiner's judgement."
)
