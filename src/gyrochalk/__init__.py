"""gyrochalk: lessons on aircraft heading instruments whose every number is computed or checked."""

__version__ = "0.1.0"

CAUTION = (
    "For teaching only. Not for navigation, for adjusting or releasing an aircraft's compass, or in place of the "
    "maker's manual, the approved maintenance data, local regulations or a licensed engineer's or examiner's judgement."
)
"""What every build, screen and saved run carries, word for word."""
