"""Each effect does what its name says when it is on, and nothing when it is off; everything else stays as it was."""

from __future__ import annotations

import dataclasses
import functools

import numpy as np
import pytest

from gyrochalk.systems.effects import EFFECTS, FULL, TEXTBOOK
from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Magnetism
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import FlightPlan, Hold, Turn
from gyrochalk.systems.run import Run
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate

IRON = Magnetism((0.5, -0.4, 0.3))
GYRO = Gyro(drift_deg_h=8.0, random_walk_deg_sqrt_h=2.0, start_tilt_deg=1.0)
SETUP = Setup(
    Place(52.0, 0.0),
    FlightPlan((Hold(60.0), Turn(by_deg=120.0), Hold(240.0)), heading_deg=30.0, tas_kt=200.0),
    StatedField(19.0, 50.0),
    compass=DirectCompass(magnetism=IRON, start_offset_deg=3.0),
    detector=Detector(magnetism=IRON),
    gyro=GYRO,
    slaved_gyro=GYRO,
    sample_interval_s=1.0,
)

MOVES: dict[str, set[str]] = {
    "earth rate": {"gyro", "slaved"},
    "transport": {"gyro", "slaved"},
    "coriolis": {"card", "detector", "slaved"},
    "drift": {"gyro", "slaved"},
    "gimballing": {"gyro", "slaved"},
    "detector tilt": {"detector", "slaved"},
    "swirl": {"card"},
    "friction": {"card"},
    "deviation": {"card", "detector", "slaved"},
    "noise": {"gyro", "slaved"},
    "levelling": {"gyro", "slaved"},
}
"""Which of the headings each effect moves when it is taken away from all of them."""


@functools.cache
def run_with(effects: frozenset[str]) -> Run:
    """The flight with some effects on."""
    return simulate(dataclasses.replace(SETUP, effects=effects))


def moved(effect: str) -> dict[str, float]:
    """How far each heading moves when an effect is taken away from the whole."""
    with_it, without = run_with(FULL), run_with(FULL - {effect})
    found = {}
    for name in ("card", "gyro", "detector", "slaved"):
        apart = with_it[f"{name}.error"].values - without[f"{name}.error"].values
        found[name] = float(np.max(np.abs((apart + 180.0) % 360.0 - 180.0)))
    return found


@pytest.mark.parametrize("effect", EFFECTS)
def test_effect_moves_what_it_should_and_nothing_else(effect: str) -> None:
    wanted = MOVES[effect]
    apart = moved(effect)
    print(effect, {name: round(value, 4) for name, value in apart.items()})
    assert {name for name, value in apart.items() if value > 0.02} == wanted
    assert all(value < 1e-3 for name, value in apart.items() if name not in wanted)


def test_every_effect_is_tested_and_both_sets_are_made_of_them() -> None:
    assert set(MOVES) == set(EFFECTS) == FULL
    assert TEXTBOOK < FULL


def test_without_any_effect_nothing_is_wrong_but_the_card_in_the_turn() -> None:
    """A level detector, a perfect gyro: straight ahead all show the actual heading. The card tilts and lags all the
    same, since its physics has no switch."""
    run = run_with(frozenset())
    for name in ("gyro", "detector"):
        assert float(np.max(np.abs(run[f"{name}.error"].values))) < 1e-6, name
    assert float(np.max(np.abs(run["slaved.error"].values))) < 0.01
    assert float(np.max(np.abs(run["card.error"].values))) > 20.0
