"""A directional gyro as three solid bodies: rotor, inner gimbal, outer gimbal, on the turning Earth.

The equations are derived by sympy from the kinetic energy (the rotor's spin is a cyclic coordinate, so its momentum h
stays what it is), not from the law of precession. Angles: azimuth of the outer gimbal about down, elevation of the
inner gimbal about its own axis; the spin axis points along azimuth and elevation.

The bodies are assumed ones (A), chosen so that the nutation is near 325 Hz: rotor 24 000 rev/min, axial 5.0e-5 and
transverse 3.0e-5 kg·m²; inner gimbal 1.0e-5, 2.0e-5, 2.0e-5 kg·m² about spin, inner and third axis; outer gimbal
2.57e-5 kg·m² about the outer axis.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
import sympy as sp
from scipy.integrate import solve_ivp

from .earth import earth_spin
from .vectors import Vector

ROTOR_AXIAL, ROTOR_ACROSS = 5.0e-5, 3.0e-5
INNER_GIMBAL = (1.0e-5, 2.0e-5, 2.0e-5)
OUTER_GIMBAL = 2.57e-5
MOMENTUM = ROTOR_AXIAL * 24000.0 * 2.0 * math.pi / 60.0


class Drift(NamedTuple):
    """Mean rates of azimuth and elevation [rad/s], and the frequency of the nutation on top of them [Hz]."""

    azimuth_rad_s: float
    elevation_rad_s: float
    nutation_hz: float


@functools.cache
def accelerations() -> Callable[..., Any]:
    """Second rates of azimuth and elevation as a numeric function, from Lagrange's equations."""
    azimuth, elevation, azimuth_1, elevation_1 = sp.symbols("a e a1 e1")
    north, down, about_outer, about_inner = sp.symbols("wn wd To Ti")
    outer = sp.rot_axis3(azimuth) * sp.Matrix([north, 0, down]) + sp.Matrix([0, 0, azimuth_1])
    inner = sp.rot_axis2(elevation) * outer + sp.Matrix([0, elevation_1, 0])
    moments = (INNER_GIMBAL[0], INNER_GIMBAL[1] + ROTOR_ACROSS, INNER_GIMBAL[2] + ROTOR_ACROSS)
    energy = OUTER_GIMBAL * outer[2] ** 2 / 2 + sum(j * w**2 / 2 for j, w in zip(moments, inner, strict=True))
    routhian = energy + MOMENTUM * inner[0]
    angles, speeds = sp.Matrix([azimuth, elevation]), sp.Matrix([azimuth_1, elevation_1])
    momenta = sp.Matrix([routhian]).jacobian(speeds).T
    mass = momenta.jacobian(speeds)
    rest = sp.Matrix([routhian]).jacobian(angles).T - momenta.jacobian(angles) * speeds
    solved = mass.inv() * (rest + sp.Matrix([about_outer, about_inner]))
    arguments = (azimuth, elevation, azimuth_1, elevation_1, north, down, about_outer, about_inner)
    return sp.lambdify(arguments, tuple(solved), "math", cse=True)  # type: ignore[no-any-return]


def drift(
    latitude_rad: float,
    azimuth_rad: float = 0.0,
    elevation_rad: float = 0.0,
    about_outer_n_m: float = 0.0,
    about_inner_n_m: float = 0.0,
    duration_s: float = 1.0,
) -> Drift:
    """Let go of the gyro at rest in its case and measure how it moves, nutation averaged out by a straight line."""
    spin, push = earth_spin(latitude_rad), accelerations()
    north, down = float(spin[0]), float(spin[2])

    def rates(_time_s: float, state: Vector) -> list[float]:
        angles = state.tolist()
        return [*angles[2:], *push(*angles, north, down, about_outer_n_m, about_inner_n_m)]

    times = np.linspace(0.0, duration_s, 8192)
    start = [azimuth_rad, elevation_rad, 0.0, 0.0]
    found: Any = solve_ivp(rates, (0.0, duration_s), start, method="DOP853", t_eval=times, rtol=1e-10, atol=1e-15)
    slopes = [float(np.polyfit(times, found.y[row], 1)[0]) for row in (0, 1)]
    swing = found.y[0] - np.polyval(np.polyfit(times, found.y[0], 1), times)
    strongest = int(np.argmax(np.abs(np.fft.rfft(swing * np.hanning(times.size)))))
    return Drift(slopes[0], slopes[1], strongest / duration_s)
