"""The saturating cores of a detector leg: even harmonics only, in proportion to the field, as κ says."""

from __future__ import annotations

import numpy as np
import pytest

from gyrochalk.physics.cores import (
    Core,
    Leg,
    arctan_core,
    harmonics_v,
    hysteretic_core,
    kappa_of,
    leg_voltage,
    paired_flux,
    piecewise_core,
    repetition_hz,
    tanh_core,
)
from gyrochalk.physics.electrics import kappa_piecewise, second_harmonic_v

CORES = {"piecewise": piecewise_core, "tanh": tanh_core, "arctan": arctan_core}
ALL = CORES | {f"{name} with hysteresis": hysteretic_core(core, 0.2) for name, core in CORES.items()}
LEG = Leg()


@pytest.mark.parametrize("core", ALL.values(), ids=ALL.keys())
def test_output_is_at_twice_the_excitation_and_has_no_odd_harmonics(core: Core) -> None:
    """400 Hz in, 800 Hz out (common practice, and by symmetry): for any core, with or without hysteresis."""
    voltage = leg_voltage(LEG, core, 16.0)
    amplitudes = harmonics_v(voltage)
    assert repetition_hz(voltage, LEG.excitation_hz) == 800.0
    assert amplitudes[1::2].max() < 1e-9 * amplitudes.max()


def test_the_second_harmonic_need_not_be_the_strongest() -> None:
    amplitudes = harmonics_v(leg_voltage(LEG, piecewise_core, 16.0))
    assert amplitudes[4] > amplitudes[2]


@pytest.mark.parametrize("core", ALL.values(), ids=ALL.keys())
def test_no_field_no_output_and_the_sign_follows_the_field(core: Core) -> None:
    one, other = leg_voltage(LEG, core, 5.0), leg_voltage(LEG, core, -5.0)
    if core in CORES.values():
        assert np.abs(leg_voltage(LEG, core, 0.0)).max() < 1e-9
    strongest = np.abs(one).max()
    half_period = len(one) // 4
    assert np.abs(one + np.roll(other, half_period)).max() > 0.1 * strongest
    assert np.abs(one + other).max() < 1e-6 * strongest


@pytest.mark.parametrize("core", CORES.values(), ids=CORES.keys())
def test_second_harmonic_is_what_kappa_says(core: Core) -> None:
    """V2 = N·2ω·Bs·Ac·κ·h/Hs for a small field: waveform and formula within a thousandth."""
    field_ratio = 1e-3
    amplitude = harmonics_v(leg_voltage(LEG, core, field_ratio * LEG.saturation_a_m))[2]
    kappa = kappa_of(core, LEG.excitation_ratio)
    formula = second_harmonic_v(
        LEG.turns, LEG.excitation_hz, LEG.saturation_t, LEG.area_m2, kappa, field_ratio
    )  # fmt: skip
    assert amplitude == pytest.approx(formula, rel=1e-3)


@pytest.mark.parametrize("ratio", [1.05, 1.2, 2.0**0.5, 1.93, 2.5, 4.0])
def test_kappa_by_waveform_is_the_closed_form(ratio: float) -> None:
    assert kappa_of(piecewise_core, ratio) == pytest.approx(kappa_piecewise(ratio), abs=2e-3)


def test_below_saturation_a_piecewise_core_says_nothing() -> None:
    assert kappa_of(piecewise_core, 0.9) < 1e-12


def test_flux_of_a_pair_repeats_twice_a_period() -> None:
    flux = paired_flux(tanh_core, 2.5, 0.1)
    np.testing.assert_allclose(flux, np.roll(flux, len(flux) // 2), atol=1e-12)


def test_hysteresis_delays_the_core_and_none_changes_nothing() -> None:
    swing = 2.0 * np.sin(np.linspace(0.0, 2.0 * np.pi, 400, endpoint=False))
    np.testing.assert_allclose(hysteretic_core(tanh_core, 0.0)(swing), tanh_core(swing), atol=1e-12)
    loop = hysteretic_core(tanh_core, 0.3)(swing)
    rising, falling = loop[np.argmin(np.abs(swing[:100]))], loop[200]
    assert rising == pytest.approx(np.tanh(-0.3), abs=0.02)
    assert falling == pytest.approx(np.tanh(0.3), abs=0.02)
