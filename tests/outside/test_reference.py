"""The reference implementation holds every row of the table of check values that it covers, and its own limits."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from tests.outside.reference.case import EFFECTS, fly_reference
from tests.outside.reference.check_rows import ROWS, computed_rows

PLAIN: dict[str, Any] = {
    "latitude_deg": 52.0,
    "field": {"horizontal_ut": 19.0, "dip_deg": 67.0, "variation_deg": -3.0},
    "sample_interval_s": 0.5,
}


@pytest.mark.parametrize("name", ROWS)
def test_row_of_the_table_holds(name: str) -> None:
    (row,) = computed_rows([name])
    assert row.computed == pytest.approx(row.expected, abs=row.tolerance * (1.0 + 1e-9))


def test_turn_ends_on_its_heading_and_variation_is_told_apart() -> None:
    turn = {"kind": "turn", "by_deg": -90.0, "rate_deg_s": 3.0}
    run = fly_reference({**PLAIN, "heading_mag_deg": 20.0, "legs": [turn]})
    assert run["actual.heading"][-1] == pytest.approx(290.0, abs=1e-9)
    assert run["actual.heading_true"][-1] == pytest.approx(287.0, abs=1e-9)


def test_left_turn_from_north_mirrors_the_right_turn_without_the_earth() -> None:
    along_the_nose = {"spin_bearing_true_deg": PLAIN["field"]["variation_deg"]}
    quiet = {**PLAIN, "effects": EFFECTS - {"earth rate", "transport", "coriolis"}}
    quiet |= {"gyro": along_the_nose, "slaved_gyro": along_the_nose}
    right, left = (fly_reference({**quiet, "legs": [{"kind": "turn", "by_deg": by}]}) for by in (120.0, -120.0))
    for name in ("card.error", "detector.error", "gyro.error", "slaved.error"):
        np.testing.assert_allclose(right[name], -left[name], atol=1e-5)
        assert np.abs(right[name]).max() > 0.05


def test_hard_iron_gives_the_exact_law_of_deviation() -> None:
    """tan δ = (B sin z + C cos z)/(1 + B cos z − C sin z), δ = z − compass heading, for a detector at rest."""
    magnetism = {"hard_ut": (1.5, -0.8, 0.0)}
    case = {**PLAIN, "heading_mag_deg": 65.0, "tas_kt": 0.0, "legs": [{"kind": "stand", "duration_s": 1.0}]}
    run = fly_reference({**case, "detector": {"magnetism": magnetism}})
    b, c, z = 1.5 / 19.0, -0.8 / 19.0, math.radians(65.0)
    deviation = math.atan2(b * math.sin(z) + c * math.cos(z), 1.0 + b * math.cos(z) - c * math.sin(z))
    assert run["detector.error"][0] == pytest.approx(-math.degrees(deviation), abs=1e-9)


def test_climb_carries_no_turn_and_returns_to_level() -> None:
    climb = {"kind": "climb", "vertical_speed_ft_min": 700.0, "duration_s": 60.0}
    run = fly_reference({**PLAIN, "heading_mag_deg": 135.0, "legs": [climb]})
    steady_deg = math.degrees(math.asin(700.0 * 0.3048 / 60.0 / (100.0 * 1852.0 / 3600.0)))
    assert run["actual.pitch"][60] == pytest.approx(steady_deg, abs=1e-9)
    assert run["actual.pitch"][-1] == pytest.approx(0.0, abs=1e-9)
    assert np.ptp(run["actual.heading"]) == pytest.approx(0.0, abs=1e-9)


def test_what_is_not_modelled_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^the reference does not model: cut-off$"):
        fly_reference({**PLAIN, "legs": [], "loop": {"cut_off_deg_s": 1.0}})
