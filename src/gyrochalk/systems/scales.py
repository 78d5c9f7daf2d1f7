"""Factors from the units of the surface to SI, in the one place where systems convert."""

from __future__ import annotations

import math

from gyrochalk.physics.earth import SPHERE_RADIUS

KT_M_S = 1852.0 / 3600.0
FT_M = 0.3048
UT_T = 1e-6
NT_T = 1e-9
DEG_MIN_RAD_S = math.radians(1.0) / 60.0
DEG_H_RAD_S = math.radians(1.0) / 3600.0
DEG_SQRT_H_RAD_SQRT_S = math.radians(1.0) / 60.0
SPHERE_M = SPHERE_RADIUS
