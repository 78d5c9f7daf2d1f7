"""What the detector's electricity does to the direction it reports, and how strongly its core answers.

Three legs 120° apart, V_k = g_k cos(θ − 120°k); decode: direction = arg Σ V_k e^{j120°k}. Second harmonic of a pair of
half cores: V2 = N·2ω·Bs·Ac·κ(r)·h/Hs, piecewise-linear core κ = (4/π) sin(2 asin(1/r)).
"""

from __future__ import annotations

import math

import numpy as np

from gyrochalk.physics.world import Floats

LEG_ANGLES = np.radians(np.array([0.0, 120.0, 240.0]))


def line_map(gains: Floats, receives: tuple[int, int, int] = (0, 1, 2)) -> Floats:
    """The 2×2 map from the field in the detector's plane to the field its decoded lines report.

    `gains` (3,) of the legs (negative: reversed, 0: without voltage); `receives[k]` is the leg that arrives on line k.
    """
    axes = np.column_stack([np.cos(LEG_ANGLES), np.sin(LEG_ANGLES)])
    out = np.zeros((2, 2))
    for line, leg in enumerate(receives):
        out += 2.0 / 3.0 * gains[leg] * np.outer(axes[line], axes[leg])
    return out


def open_line_map(gains: Floats, line: int) -> Floats:
    """The map with one line open: no current in it, so only the difference of the other two passes, on one axis."""
    one, two = (k for k in range(3) if k != line)
    axes = np.column_stack([np.cos(LEG_ANGLES), np.sin(LEG_ANGLES)])
    across = axes[one] - axes[two]
    return np.asarray(np.outer(across, gains[one] * axes[one] - gains[two] * axes[two]) / 3.0)


def shorted_lines_map(gains: Floats, whole: int) -> Floats:
    """The map with the two lines other than `whole` shorted: both carry their mean, on the third leg's axis."""
    one, two = (k for k in range(3) if k != whole)
    axes = np.column_stack([np.cos(LEG_ANGLES), np.sin(LEG_ANGLES)])
    mean = (gains[one] * axes[one] + gains[two] * axes[two]) / 2.0
    return np.asarray(2.0 / 3.0 * np.outer(axes[whole], gains[whole] * axes[whole] - mean))


def kappa_piecewise(ratio: float) -> float:
    """κ of a piecewise-linear core excited to `ratio` times saturation: 0 until it saturates, 4/π at √2."""
    if ratio <= 1.0:
        return 0.0
    return 4.0 / math.pi * math.sin(2.0 * math.asin(1.0 / ratio))


def second_harmonic_v(
    turns: float, excitation_hz: float, saturation_t: float, area_m2: float, kappa: float, field_ratio: float
) -> float:
    """Amplitude [V] of the second harmonic: N·2ω·Bs·Ac·κ·h/Hs, `field_ratio` = h/Hs, small, ω from `excitation_hz`."""
    return turns * 2.0 * (2.0 * math.pi * excitation_hz) * saturation_t * area_m2 * kappa * field_ratio
