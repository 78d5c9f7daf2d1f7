"""The electricity of one detector leg: two antiphase half cores, what they saturate to, and the voltage they give.

F = Bs Ac [f((He sin ωt + h)/Hs) + f((−He sin ωt + h)/Hs)], V = −N dF/dt. Odd harmonics cancel between the halves. This
is why a leg answers at twice the excitation and how strongly (κ); a run only needs that the answer is proportional to
the field along the leg.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable

import numpy as np

from gyrochalk.physics.world import Floats

Core = Callable[[Floats], Floats]
"""Flux over saturation flux, from one period of the magnetising field over Hs."""

SAMPLES = 1 << 14
SMALL_FIELD = 1e-3
"""Field along a leg, over Hs, at which κ is taken: small against saturation."""


def piecewise_core(field: Floats) -> Floats:
    """A core that follows `field` (over Hs) until it saturates, then not at all."""
    return np.clip(field, -1.0, 1.0)


def tanh_core(field: Floats) -> Floats:
    """A core that saturates gently: tanh of `field` (over Hs)."""
    return np.tanh(field)


def arctan_core(field: Floats) -> Floats:
    """A core that saturates very gently: (2/π) arctan(πx/2) of `field` (over Hs), slope 1 at zero."""
    return np.asarray(2.0 / math.pi * np.arctan(0.5 * math.pi * field))


def hysteretic_core(core: Core, coercive: float) -> Core:
    """The same core with hysteresis: it follows the field with a play of `coercive` (Hc/Hs, 0 or more) either way."""

    def with_play(field: Floats) -> Floats:
        lagging = np.empty_like(field)
        at = 0.0
        for _ in range(2):
            for k, value in enumerate(field.tolist()):
                at = min(max(at, value - coercive), value + coercive)
                lagging[k] = at
        return core(lagging)

    return with_play


@dataclasses.dataclass(frozen=True, slots=True)
class Leg:
    """One leg of a detector: saturation flux density [T] and field [A/m], excitation over saturation field, turns,
    area of a half core [m²], excitation frequency [Hz]. All but the frequency are assumed values."""

    saturation_t: float = 0.75
    saturation_a_m: float = 60.0
    excitation_ratio: float = 2.5
    turns: float = 1000.0
    area_m2: float = 2e-6
    excitation_hz: float = 400.0


def paired_flux(core: Core, ratio: float, field: float) -> Floats:
    """Flux (SAMPLES,) of both halves over one excitation period, in units of Bs·Ac.

    `ratio` He/Hs of the excitation; `field` h/Hs along the leg.
    """
    swing = ratio * np.sin(2.0 * math.pi * (np.arange(SAMPLES) + 0.5) / SAMPLES)
    return core(swing + field) + core(-swing + field)


def kappa_of(core: Core, ratio: float) -> float:
    """κ of any core excited to `ratio` (He/Hs): the second harmonic of the flux for each unit of a small h/Hs."""
    spectrum = np.fft.rfft(paired_flux(core, ratio, SMALL_FIELD))
    return float(2.0 * abs(spectrum[2]) / SAMPLES / SMALL_FIELD)


def leg_voltage(leg: Leg, core: Core, field_a_m: float) -> Floats:
    """Voltage [V] (SAMPLES,) of a leg over one excitation period in a field of `field_a_m` along it."""
    flux = leg.saturation_t * leg.area_m2 * paired_flux(core, leg.excitation_ratio, field_a_m / leg.saturation_a_m)
    step = 1.0 / (leg.excitation_hz * SAMPLES)
    return np.asarray(-leg.turns * (np.roll(flux, -1) - np.roll(flux, 1)) / (2.0 * step))


def harmonics_v(voltage: Floats) -> Floats:
    """Amplitudes [V] of the harmonics 0, 1, 2 … of one period of a voltage."""
    return np.asarray(2.0 * np.abs(np.fft.rfft(voltage)) / len(voltage))


def repetition_hz(voltage: Floats, excitation_hz: float) -> float:
    """Frequency [Hz] at which one period's voltage really repeats: the greatest one its harmonics have in common.

    `excitation_hz` is how often the whole period comes. This need not be the strongest harmonic: at He/Hs = 2.5 the
    fourth is stronger than the second.
    """
    amplitudes = harmonics_v(voltage)
    present = np.flatnonzero(amplitudes > 1e-6 * amplitudes.max())
    return excitation_hz * math.gcd(*present.tolist())
