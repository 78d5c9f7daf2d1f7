"""The aircraft's magnetism: the exact law of deviation against the field itself, and against its other form."""

from __future__ import annotations

import math

import numpy as np
import pytest

from gyrochalk.physics.iron import coefficients, exact_deviation, with_iron
from gyrochalk.physics.world import Floats

HORIZONTAL, VERTICAL = 19e-6, 45e-6
NOTHING = (0.0, 0.0, 0.0)


def random_iron(seed: int) -> Floats:
    """Hard iron up to 5 µT and soft iron up to 5 %, any way."""
    draw = np.random.default_rng(seed)
    return np.vstack([np.eye(3) + draw.uniform(-0.05, 0.05, (3, 3)), draw.uniform(-5e-6, 5e-6, 3)])


@pytest.mark.parametrize("seed", range(5))
def test_law_is_what_the_field_says_all_round(seed: int) -> None:
    """δ = z − compass heading, the compass heading from the field itself along and across a level aircraft."""
    iron = random_iron(seed)
    _, a, b, c, d, e = coefficients(iron, HORIZONTAL, VERTICAL)
    for heading in np.radians(np.arange(0.0, 360.0, 5.0)).tolist():
        field = (HORIZONTAL * math.cos(heading), -HORIZONTAL * math.sin(heading), VERTICAL)
        x, y, _ = with_iron(field, iron, NOTHING)
        compass = math.atan2(-y, x)
        apart = exact_deviation(heading, a, b, c, d, e) - (heading - compass)
        assert abs(math.remainder(apart, 2.0 * math.pi)) < 1e-12


@pytest.mark.parametrize("seed", range(5))
def test_law_on_compass_heading_says_the_same(seed: int) -> None:
    """sin δ = A cos δ + B sin z' + C cos z' + D sin(2z'+δ) + E cos(2z'+δ), z' = z − δ."""
    _, a, b, c, d, e = coefficients(random_iron(seed), HORIZONTAL, VERTICAL)
    for heading in np.radians(np.arange(0.0, 360.0, 30.0)).tolist():
        deviation = exact_deviation(heading, a, b, c, d, e)
        shown = heading - deviation
        right = a * math.cos(deviation) + b * math.sin(shown) + c * math.cos(shown)
        right += d * math.sin(2.0 * shown + deviation) + e * math.cos(2.0 * shown + deviation)
        assert math.sin(deviation) == pytest.approx(right, abs=1e-12)


def test_coefficients_are_those_of_the_page() -> None:
    iron = np.array([[1.04, 0.01, 0.02], [0.03, 0.98, -0.01], [0.0, 0.0, 1.0], [1e-6, -2e-6, 3e-6]])
    lam, a, b, c, d, e = coefficients(iron, HORIZONTAL, VERTICAL)
    assert lam == pytest.approx(1.01)
    assert a == pytest.approx((0.03 - 0.01) / 2.02)
    assert b == pytest.approx((1e-6 + 0.02 * VERTICAL) / (1.01 * HORIZONTAL))
    assert c == pytest.approx((-2e-6 - 0.01 * VERTICAL) / (1.01 * HORIZONTAL))
    assert d == pytest.approx((0.04 + 0.02) / 2.02)
    assert e == pytest.approx((0.01 + 0.03) / 2.02)


def test_no_iron_changes_nothing_and_loads_add() -> None:
    plain = np.vstack([np.eye(3), np.zeros(3)])
    assert with_iron((1.0, 2.0, 3.0), plain, NOTHING) == (1.0, 2.0, 3.0)
    assert with_iron((1.0, 2.0, 3.0), plain, (0.5, -0.5, 0.25)) == (1.5, 1.5, 3.25)
