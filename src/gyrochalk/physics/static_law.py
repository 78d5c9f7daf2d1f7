"""The steady compass in closed form: plain functions, so that a rule can ask them without loading the compiler.

What a card would read if the turn or the acceleration went on for ever on one heading (williams-compass).
"""

from __future__ import annotations

import math


def turn_reading(heading: float, bank: float, dip: float) -> float:
    """The static law in a steady coordinated turn [rad]: atan2(sin ψ cos φ − tan I sin φ, cos ψ).

    `heading` actual magnetic heading ψ [rad]; `bank` right positive φ [rad]; `dip` north end down positive I [rad].
    """
    return math.atan2(math.sin(heading) * math.cos(bank) - math.tan(dip) * math.sin(bank), math.cos(heading))


def acceleration_reading(heading: float, acceleration_g: float, dip: float) -> float:
    """The static law under a steady acceleration along track [rad]: atan2(sin ψ, cos ψ cos γ + tan I sin γ).

    `heading` ψ and `dip` I as for `turn_reading` [rad]; `acceleration_g` forward positive [g], γ = atan(a/g).
    """
    tilt = math.atan(acceleration_g)
    return math.atan2(math.sin(heading), math.cos(heading) * math.cos(tilt) + math.tan(dip) * math.sin(tilt))
