"""What faults of a detector's legs and lines do to the direction it reports: closed forms and signatures."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from gyrochalk.physics.electrics import LEG_ANGLES, kappa_piecewise, line_map, open_line_map, shorted_lines_map
from gyrochalk.physics.world import Floats

SOUND = np.ones(3)
DIRECTIONS = np.radians(np.arange(0.0, 360.0, 1.0))
FIELDS = np.array([np.cos(DIRECTIONS), np.sin(DIRECTIONS)])


def gains(leg: int, gain: float) -> Floats:
    """Sound legs but for one."""
    out = SOUND.copy()
    out[leg] = gain
    return out


def reported(electrical_map: Floats) -> Floats:
    """Direction [rad] the lines report for each direction of the field."""
    along, across = electrical_map @ FIELDS
    return np.asarray(np.arctan2(across, along))


def from_axis(angles: Floats, axis: Floats | float) -> Floats:
    """Angles [rad] from an axis, wrapped."""
    return np.asarray(np.angle(np.exp(1j * (angles - axis))))


def test_sound_lines_report_the_field_itself() -> None:
    np.testing.assert_allclose(line_map(SOUND), np.eye(2), atol=1e-15)


def test_decoding_is_the_sum_over_the_legs() -> None:
    """heading = −arg Σ V_k e^{j120°k} with V_k the field along leg k: the map is that sum, for any gains."""
    draw = np.random.default_rng(5)
    for _ in range(20):
        some, direction = draw.uniform(-1.5, 1.5, 3), draw.uniform(0.0, 2.0 * math.pi)
        volts = some * np.cos(direction - LEG_ANGLES)
        total = 2.0 / 3.0 * np.sum(volts * np.exp(1j * LEG_ANGLES))
        along, across = line_map(some) @ np.array([math.cos(direction), math.sin(direction)])
        assert complex(along, across) == pytest.approx(complex(total))


@pytest.mark.parametrize("leg", [0, 1, 2])
def test_dead_leg(leg: int) -> None:
    """tan ψ' = 3 tan ψ about that leg's axis; greatest error 30° (closed form)."""
    found = from_axis(reported(line_map(gains(leg, 0.0))), LEG_ANGLES[leg])
    given = from_axis(DIRECTIONS, LEG_ANGLES[leg])
    expected = np.arctan2(3.0 * np.sin(given), np.cos(given))
    np.testing.assert_allclose(from_axis(found, expected), 0.0, atol=1e-12)
    assert math.degrees(float(np.max(np.abs(from_axis(found, given))))) == pytest.approx(30.0, abs=0.01)


@pytest.mark.parametrize("leg", [0, 1, 2])
def test_reversed_leg_runs_the_card_backwards(leg: int) -> None:
    """tan ψ' = −3 tan ψ about that leg's axis (closed form)."""
    found = from_axis(reported(line_map(gains(leg, -1.0))), LEG_ANGLES[leg])
    given = from_axis(DIRECTIONS, LEG_ANGLES[leg])
    np.testing.assert_allclose(np.sin(found) * np.cos(given), -3.0 * np.sin(given) * np.cos(found), atol=1e-12)
    assert all(np.diff(np.unwrap(found)) < 0.0)


@pytest.mark.parametrize(("whole", "receives"), [(0, (0, 2, 1)), (1, (2, 1, 0)), (2, (1, 0, 2))])
def test_two_lines_swapped_mirror_the_direction(whole: int, receives: tuple[int, int, int]) -> None:
    """ψ' = −ψ about the leg that stays whole: S1 and S3 exchanged reverse the rotation (source: neets-15)."""
    found = from_axis(reported(line_map(SOUND, receives)), LEG_ANGLES[whole])
    given = from_axis(DIRECTIONS, LEG_ANGLES[whole])
    assert float(np.max(np.abs(np.exp(1j * found) - np.exp(-1j * given)))) < 1e-12


@pytest.mark.parametrize("line", [0, 1, 2])
@pytest.mark.parametrize("make", [open_line_map, shorted_lines_map])
def test_open_and_shorted_lines_leave_one_axis(line: int, make: object) -> None:
    """Two directions are left, 180° apart; open: square to the open line's axis, shorted: along the whole one's."""
    assert callable(make)
    electrical_map = make(SOUND, line)
    assert np.linalg.matrix_rank(electrical_map, tol=1e-12) == 1
    along, across = electrical_map @ FIELDS
    strong = np.hypot(along, across) > 1e-9
    axis = LEG_ANGLES[line] + (math.pi / 2.0 if make is open_line_map else 0.0)
    off = from_axis(np.arctan2(across, along)[strong], axis)
    assert {round(math.degrees(abs(a)), 6) for a in off.tolist()} == {0.0, 180.0}


def test_shorted_lines_keep_the_whole_legs_voltage() -> None:
    """Sound legs sum to zero, so the mean of two is minus half the third: that one is reported at full strength."""
    for whole in range(3):
        axis = np.array([math.cos(LEG_ANGLES[whole]), math.sin(LEG_ANGLES[whole])])
        np.testing.assert_allclose(shorted_lines_map(SOUND, whole), np.outer(axis, axis), atol=1e-12)


def test_open_line_passes_the_difference_of_the_other_two() -> None:
    for line, (one, two) in enumerate([(1, 2), (0, 2), (0, 1)]):
        electrical_map = open_line_map(SOUND, line)
        across = LEG_ANGLES[line] + math.pi / 2.0
        along_axis = np.array([math.cos(across), math.sin(across)])
        np.testing.assert_allclose(electrical_map, np.outer(along_axis, along_axis), atol=1e-12)
        assert {one, two, line} == {0, 1, 2}


def test_one_percent_in_one_leg_is_a_two_cycle_error() -> None:
    """0.191° for 1 % (closed form), whichever leg it is."""
    for leg in range(3):
        errors = np.degrees(np.angle(np.exp(1j * (reported(line_map(gains(leg, 1.01))) - DIRECTIONS))))
        spectrum = 2.0 * np.abs(np.fft.rfft(errors)) / len(errors)
        assert spectrum[2] == pytest.approx(0.191, abs=0.002)
        assert spectrum[[0, 1, 3]].max() < 1e-3


def test_kappa_of_the_piecewise_core_rises_from_saturation_to_root_two_and_falls() -> None:
    assert kappa_piecewise(0.99) == kappa_piecewise(1.0) == 0.0
    assert kappa_piecewise(math.sqrt(2.0)) == pytest.approx(4.0 / math.pi)
    values = [kappa_piecewise(r) for r in np.linspace(1.01, math.sqrt(2.0), 20).tolist()]
    assert all(a < b for a, b in itertools.pairwise(values))
    values = [kappa_piecewise(r) for r in np.linspace(math.sqrt(2.0), 6.0, 20).tolist()]
    assert all(a > b for a, b in itertools.pairwise(values))
