"""The flux detector's electricity by brute force: waveforms, Fourier transform, decoding of three legs."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize_scalar

Floats = NDArray[np.float64]
Core = Callable[[Floats], Floats]

SAMPLES = 1 << 14
EXCITATION_HZ = 400.0
SATURATION_T = 0.75
SATURATION_A_M = 60.0
TURNS = 1000
AREA_M2 = 2e-6


def sharp(x: Floats) -> Floats:
    """Piecewise-linear core."""
    return np.clip(x, -1.0, 1.0)


def arctan(x: Floats) -> Floats:
    """Arctan core of unit slope at the middle."""
    return np.asarray(2.0 / np.pi * np.arctan(np.pi * x / 2.0))


def flux(core: Core, drive: float, bias: float) -> Floats:
    """Flux of the two antiphase halves over one excitation period, in saturation fluxes."""
    swing = drive * np.sin(2.0 * np.pi * (np.arange(SAMPLES) + 0.5) / SAMPLES)
    return core(swing + bias) + core(-swing + bias)


def kappa(core: Core, drive: float, bias: float = 1e-3) -> float:
    """Amplitude of the flux's second harmonic for each unit of bias."""
    return float(2.0 * np.abs(np.fft.rfft(flux(core, drive, bias))[2]) / SAMPLES / bias)


def greatest_kappa(core: Core) -> tuple[float, float]:
    """Greatest κ over the drive, and the drive where it is."""
    found = minimize_scalar(lambda drive: -kappa(core, float(drive)), bounds=(1.05, 4.0), method="bounded")
    return -float(found.fun), float(found.x)


def leg_voltage(core: Core, drive: float, bias: float) -> Floats:
    """Voltage of a leg over one excitation period [V]."""
    step_s = 1.0 / EXCITATION_HZ / SAMPLES
    linked = TURNS * SATURATION_T * AREA_M2 * flux(core, drive, bias)
    return np.asarray((np.roll(linked, 1) - np.roll(linked, -1)) / (2.0 * step_s))


def output_frequency_hz(core: Core) -> float:
    """Frequency at which a leg's voltage repeats: the lowest component that is really there.

    Not the strongest: at r = 2.5 the fourth harmonic of the voltage is larger than the second.
    """
    spectrum = np.abs(np.fft.rfft(leg_voltage(core, 2.5, 0.05)))
    return float(EXCITATION_HZ * np.flatnonzero(spectrum > 1e-6 * spectrum.max())[0])


def decoded_deg(heading_deg: Floats, gains: tuple[float, float, float]) -> Floats:
    """Heading decoded from three legs 120° apart with the given gains [deg], for each heading."""
    field_rad, legs_rad = -np.radians(heading_deg), np.radians(120.0) * np.arange(3)
    volts = np.array(gains)[:, None] * np.cos(field_rad[None, :] - legs_rad[:, None])
    return np.asarray(-np.degrees(np.angle((volts * np.exp(1j * legs_rad)[:, None]).sum(axis=0))))


def leg_errors_deg(gains: tuple[float, float, float], count: int = 36000) -> Floats:
    """Error of the decoded heading all round the circle [deg]."""
    heading = np.arange(count) * 360.0 / count
    return np.asarray((decoded_deg(heading, gains) - heading + 180.0) % 360.0 - 180.0)


def two_cycle_amplitude_deg(gains: tuple[float, float, float]) -> float:
    """Amplitude of the part of the error that goes twice round the circle."""
    errors = leg_errors_deg(gains)
    return float(2.0 * np.abs(np.fft.rfft(errors)[2]) / errors.size)
