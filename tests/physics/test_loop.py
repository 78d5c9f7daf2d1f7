"""The laws of the slaving loop: comparison, dead zone, band, saturation, the textbook's null."""

from __future__ import annotations

import math

import numpy as np
import pytest

from gyrochalk.physics.loop import TEXTBOOK_CORE, comparison, demanded_rate, indicator_drive, proportional
from gyrochalk.physics.world import SET_FAST, SET_HOLD, SET_MOTOR, SET_SLAVED, SETTING_COLUMNS, Floats, Slaving
from gyrochalk.systems.constants import slaving_of
from gyrochalk.systems.instruments import Loop
from gyrochalk.systems.scales import DEG_MIN_RAD_S

FULL, TEXTBOOK = slaving_of(Loop(), "full"), slaving_of(Loop(), "textbook")
FIELD = 20e-6


def settings(*, slaved: bool = True, hold: bool = False, fast: bool = False, motor: bool = True) -> Floats:
    """A row of settings for the loop."""
    row = np.zeros(SETTING_COLUMNS)
    row[[SET_SLAVED, SET_HOLD, SET_FAST, SET_MOTOR]] = slaved, hold, fast, motor
    return row


def rate_deg_min(difference_deg: float, row: Floats, loop: Slaving = FULL, field: float = FIELD) -> float:
    """What the loop asks for with the detector so many degrees ahead of the card on 040."""
    detector, indicated = math.radians(40.0 + difference_deg), math.radians(40.0)
    signal, difference = comparison(field * math.cos(detector), -field * math.sin(detector), indicated, loop)
    assert difference == pytest.approx(math.radians(difference_deg), abs=1e-12)
    return demanded_rate(signal, difference, row, loop) / DEG_MIN_RAD_S


@pytest.mark.parametrize(
    ("row", "rate"),
    [
        (settings(), 3.0),
        (settings(fast=True), 60.0),
        (settings(hold=True), 900.0),
        (settings(hold=True, slaved=False), 900.0),
        (settings(slaved=False), 0.0),
        (settings(motor=False), 0.0),
        (settings(motor=False, hold=True), 0.0),
    ],
)
def test_full_rate_beyond_the_band_by_mode(row: Floats, rate: float) -> None:
    assert rate_deg_min(30.0, row) == pytest.approx(rate)
    assert rate_deg_min(-30.0, row) == pytest.approx(-rate)


def test_correction_goes_the_short_way() -> None:
    for difference in (1.0, 89.0, 91.0, 178.0):
        assert rate_deg_min(difference, settings()) > 0.0
        assert rate_deg_min(-difference, settings()) < 0.0


def test_dead_zone_is_silent_and_joins_without_a_step() -> None:
    """u' = sign(u)·max(0, |u| − sin dz): nothing inside, next to nothing just outside, full at the band's edge."""
    assert rate_deg_min(0.0999, settings()) == 0.0
    assert 0.0 < rate_deg_min(0.1001, settings()) < 1e-3
    assert rate_deg_min(2.0, settings()) == pytest.approx(3.0)
    assert rate_deg_min(1.999, settings()) < 3.0


def test_weak_field_widens_band_and_dead_zone() -> None:
    """The signal is in proportion to the field: at a third of it nothing happens at 0.25°, much at 0.35°."""
    assert rate_deg_min(0.25, settings(), field=FIELD / 3.0) == 0.0
    assert rate_deg_min(0.35, settings(), field=FIELD / 3.0) > 0.0
    assert rate_deg_min(2.0, settings(), field=FIELD / 3.0) < 1.2


def test_true_null_is_stable_and_the_one_opposite_is_not() -> None:
    """On both sides the correction drives towards the detector, so near 180° it drives away from the null there."""
    assert rate_deg_min(179.0, settings()) > 0.0
    assert rate_deg_min(-179.0, settings()) < 0.0
    assert abs(rate_deg_min(179.95, settings())) < 0.05


def test_textbook_loop_runs_at_its_rate_until_the_null() -> None:
    for difference in (179.0, 10.0, 0.1, math.degrees(TEXTBOOK_CORE)):
        assert rate_deg_min(difference, settings(), TEXTBOOK) == pytest.approx(3.0)
    assert rate_deg_min(math.degrees(TEXTBOOK_CORE) / 2.0, settings(), TEXTBOOK) == pytest.approx(1.5)
    assert rate_deg_min(0.5, settings(), TEXTBOOK, field=1e-6) == pytest.approx(3.0)
    assert math.degrees(TEXTBOOK_CORE) == pytest.approx(0.001)


def test_textbook_loop_without_a_signal_does_not_move() -> None:
    signal, difference = comparison(0.0, 0.0, math.radians(40.0), TEXTBOOK)
    assert demanded_rate(signal, difference, settings(), TEXTBOOK) == 0.0


@pytest.mark.parametrize("signal", [-0.5, -0.002, 0.0, 0.002, 0.5])
def test_proportional_law_is_odd_and_bounded(signal: float) -> None:
    band, dead = math.radians(2.0), math.radians(0.1)
    assert proportional(signal, 1.0, band, dead) == pytest.approx(-proportional(-signal, 1.0, band, dead))
    assert abs(proportional(signal, 1.0, band, dead)) <= 1.0


def test_indicator_shows_the_sense_and_rests_when_free() -> None:
    assert indicator_drive(0.5, settings(), FULL) > 0.99
    assert indicator_drive(-0.5, settings(), FULL) < -0.99
    assert indicator_drive(0.0, settings(), FULL) == 0.0
    assert indicator_drive(0.5, settings(slaved=False), FULL) == 0.0
