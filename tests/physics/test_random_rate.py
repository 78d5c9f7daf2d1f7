"""The gyro's random drift: normal numbers from nothing but a key and a counter."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import kstest

from gyrochalk.physics.gyro import normal_number, random_rate
from gyrochalk.physics.world import Gimbals
from gyrochalk.systems.constants import NOISE_STEP_S, gimbals_of
from gyrochalk.systems.effects import FULL
from gyrochalk.systems.instruments import Gyro

KEY = np.uint64(0x1234_5678_9ABC_DEF0)
WALKING = Gyro(random_walk_deg_sqrt_h=1.0)


def numbers(key: np.uint64, count: int) -> list[float]:
    """The first numbers of a key."""
    return [normal_number(key, k) for k in range(count)]


def test_numbers_are_normal() -> None:
    """Mean, spread and the whole distribution of 20 000 numbers (Kolmogorov–Smirnov)."""
    drawn = np.array(numbers(KEY, 20_000))
    assert abs(drawn.mean()) < 4.0 / math.sqrt(len(drawn))
    assert drawn.std() == pytest.approx(1.0, abs=0.02)
    assert kstest(drawn, "norm").pvalue > 0.01


def test_neighbours_and_other_keys_have_nothing_in_common() -> None:
    one, other = np.array(numbers(KEY, 5000)), np.array(numbers(np.uint64(int(KEY) + 1), 5000))
    bound = 4.0 / math.sqrt(5000)
    assert abs(np.corrcoef(one, other)[0, 1]) < bound
    for lag in (1, 2, 7):
        assert abs(np.corrcoef(one[lag:], one[:-lag])[0, 1]) < bound


def test_the_same_key_gives_the_same_numbers_in_any_order() -> None:
    forward = numbers(KEY, 50)
    assert [normal_number(KEY, k) for k in reversed(range(50))] == forward[::-1]


def test_seeds_and_gyros_have_numbers_of_their_own() -> None:
    keys = {int(gimbals_of(WALKING, FULL, seed, stream).noise_key) for seed in range(500) for stream in (1, 2)}
    assert len(keys) == 1000


def walk(gimbals: Gimbals, duration_s: float) -> float:
    """The random rate integrated exactly: straight lines between the numbers."""
    edges = np.arange(0.0, duration_s + 1e-9, gimbals.noise_step_s)
    rates = np.array([random_rate(float(t), gimbals) for t in edges])
    return float(np.sum((rates[1:] + rates[:-1]) / 2.0 * np.diff(edges)))


def test_integral_walks_as_far_as_its_parameter_says() -> None:
    """After an hour the spread over 1000 seeds is 1° (1 °/√h times √1 h), within three sigma of the sampling."""
    ends = [math.degrees(walk(gimbals_of(WALKING, FULL, seed, 1), 3600.0)) for seed in range(1000)]
    print("spread after 1 h", np.std(ends))
    assert float(np.std(ends)) == pytest.approx(1.0, abs=3.0 / math.sqrt(2000.0))
    assert abs(float(np.mean(ends))) < 3.0 / math.sqrt(1000.0)


def test_no_seed_walks_like_another_one_later() -> None:
    """Seeds 0..39, each against every other shifted by up to 30 numbers: none is a copy moved in time."""
    walks = np.array([numbers(gimbals_of(WALKING, FULL, seed, 1).noise_key, 230) for seed in range(40)])
    strongest = 0.0
    for shift in range(31):
        across = np.corrcoef(walks[:, shift : 200 + shift], walks[:, :200])[:40, 40:]
        apart = across - np.diag(np.diag(across))
        strongest = max(strongest, float(np.max(np.abs(apart))))
    assert strongest < 0.45


def test_rate_is_joined_by_straight_lines_every_minute() -> None:
    gimbals = gimbals_of(WALKING, FULL, 3, 1)
    assert gimbals.noise_step_s == NOISE_STEP_S == 60.0
    ends = random_rate(120.0, gimbals), random_rate(180.0 - 1e-9, gimbals)
    assert random_rate(150.0, gimbals) == pytest.approx((ends[0] + ends[1]) / 2.0, abs=1e-12)
    assert random_rate(180.0 - 1e-9, gimbals) == pytest.approx(random_rate(180.0, gimbals), rel=1e-6)


def test_noise_off_is_no_noise() -> None:
    assert random_rate(100.0, gimbals_of(WALKING, FULL - {"noise"}, 1, 1)) == 0.0
