"""How a plane lies, seen from behind and from the side."""

from __future__ import annotations

import math

import pytest

from gyrochalk.physics.motion import body_axes
from gyrochalk.physics.tilts import section_angles

HEADINGS = (0.0, 0.7, 2.9, -1.3)


@pytest.mark.parametrize("heading", HEADINGS)
@pytest.mark.parametrize("bank", [-0.9, 0.0, 0.26, 1.2])
def test_floor_in_a_bank_has_that_bank(heading: float, bank: float) -> None:
    _, _, down = body_axes((heading, 0.0, bank))
    assert section_angles(down, heading) == pytest.approx((bank, 0.0), abs=1e-12)


@pytest.mark.parametrize("heading", HEADINGS)
@pytest.mark.parametrize("pitch", [-0.4, 0.0, 0.15])
def test_floor_with_a_pitch_has_that_pitch(heading: float, pitch: float) -> None:
    _, _, down = body_axes((heading, pitch, 0.0))
    assert section_angles(down, heading) == pytest.approx((0.0, pitch), abs=1e-12)


def test_length_does_not_matter() -> None:
    assert section_angles((0.3, -0.4, 2.0), 0.5) == pytest.approx(section_angles((3.0, -4.0, 20.0), 0.5))


def test_gravity_that_points_up_is_upside_down() -> None:
    bank, pitch = section_angles((0.0, 0.0, -1.0), 0.0)
    assert (abs(bank), abs(pitch)) == pytest.approx((math.pi, math.pi))
