"""How a plane lies against the horizontal, as it is seen from behind the aircraft and from its side."""

from __future__ import annotations

import math

from gyrochalk.physics.compiled import kernel
from gyrochalk.physics.motion import Vector


@kernel
def section_angles(normal: Vector, heading: float) -> tuple[float, float]:
    """Bank and pitch [rad, −π..π] of the lines in which a plane cuts the upright planes across and along the heading.

    `normal` the plane's own down, NED, any length; `heading` [rad] from true north. Zero both for a level plane; bank
    positive right side down, pitch positive front up: an aircraft's floor has its bank when the pitch is zero, and
    its pitch when the bank is zero.
    """
    ahead = normal[0] * math.cos(heading) + normal[1] * math.sin(heading)
    right = normal[1] * math.cos(heading) - normal[0] * math.sin(heading)
    return math.atan2(-right, normal[2]), math.atan2(ahead, normal[2])
