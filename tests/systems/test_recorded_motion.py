"""A noisy recording becomes a smooth motion that is close to what was flown."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from gyrochalk.errors import MaterialError
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.systems.recorded_motion import SPHERE_RADIUS_M, RecordedMotion, smooth

Floats = NDArray[np.float64]

TAS_KT = 120.0
TAS_M_S = TAS_KT * 1852.0 / 3600.0
TURN = (100.0, 160.0)
RATE_ONE_BANK_DEG = math.degrees(math.atan(math.radians(3.0) * TAS_M_S / 9.80665))


def flown(count: int = 300, longitude_deg: float = 1.0) -> RecordedFlight:
    """Straight, half a rate-one circle to the right, straight: 120 kt at 52 N in still air, exact, at 1 Hz."""
    fine = np.linspace(0.0, count - 1.0, (count - 1) * 100 + 1)
    rate = np.where((fine > TURN[0]) & (fine < TURN[1]), math.radians(3.0), 0.0)
    rate = np.convolve(rate, np.full(400, 1.0 / 400.0), mode="same")  # put on and taken off over four seconds
    heading = np.cumsum(rate) * 0.01
    north, east = np.cumsum(TAS_M_S * np.cos(heading)) * 0.01, np.cumsum(TAS_M_S * np.sin(heading)) * 0.01
    latitude = math.radians(52.0) + north / SPHERE_RADIUS_M
    longitude = math.radians(longitude_deg) + np.cumsum(np.gradient(east) / np.cos(latitude)) / SPHERE_RADIUS_M
    at = slice(None, None, 100)
    course = np.degrees(heading[at]) % 360.0
    return RecordedFlight(
        time_s=1_000_000.0 + fine[at],
        latitude_deg=np.degrees(latitude[at]),
        longitude_deg=(np.degrees(longitude[at]) + 180.0) % 360.0 - 180.0,
        height_ft=np.full(count, 3000.0),
        ground_speed_kt=np.full(count, TAS_KT),
        track_true_deg=course,
        heading_deg=course,
        heading_north="true",
        tas_kt=np.full(count, TAS_KT),
    )


def noisy(flight: RecordedFlight, metres: float = 10.0) -> RecordedFlight:
    """The flight as a receiver would give it: positions some metres off, speed and headings in steps."""
    generator = np.random.default_rng(5)
    off = np.degrees(metres / SPHERE_RADIUS_M)
    count = len(flight.time_s)
    assert flight.heading_deg is not None
    assert flight.track_true_deg is not None
    return dataclasses.replace(
        flight,
        latitude_deg=flight.latitude_deg + off * generator.standard_normal(count),
        longitude_deg=flight.longitude_deg + off / math.cos(math.radians(52.0)) * generator.standard_normal(count),
        height_ft=25.0 * np.round((flight.height_ft + 12.0 * generator.standard_normal(count)) / 25.0),
        heading_deg=np.round(flight.heading_deg / 0.176) * 0.176,
        track_true_deg=np.round(flight.track_true_deg + 0.2 * generator.standard_normal(count), 1) % 360.0,
    )


def bank_deg(motion: RecordedMotion, *times_s: float) -> list[float]:
    values: list[float] = np.degrees(motion.at("bank", np.array(times_s))).tolist()
    return values


def acceleration(motion: RecordedMotion) -> Floats:
    """(n, 3) at every half second."""
    times = np.arange(0.0, motion.time_s[-1], 0.5)
    return np.column_stack([motion.at(name, times, 1) for name in ("north", "east", "down")])


def test_noise_gives_no_wild_accelerations() -> None:
    motion = smooth(noisy(flown()))
    turning = acceleration(motion)
    size = np.hypot(turning[:, 0], turning[:, 1])
    expected = math.radians(3.0) * TAS_M_S
    times = np.arange(0.0, motion.time_s[-1], 0.5)
    assert size[(times > 10) & (times < 90)].max() < 0.5
    assert size[(times > 110) & (times < 150)] == pytest.approx(expected, abs=0.5)
    assert np.abs(turning[:, 2]).max() < 1.0


def test_velocity_is_near_what_was_flown() -> None:
    motion, times = smooth(noisy(flown())), np.arange(5.0, 95.0)
    assert motion.at("north", times) == pytest.approx(TAS_M_S, abs=0.5)
    assert motion.at("east", times) == pytest.approx(0.0, abs=0.5)


def test_the_velocity_is_the_derivative_of_the_position() -> None:
    motion, times = smooth(noisy(flown())), np.linspace(5.0, 294.0, 600)
    latitude = motion.at("latitude", times)
    assert motion.at("latitude", times, 1) * SPHERE_RADIUS_M == pytest.approx(motion.at("north", times), abs=0.05)
    east = motion.at("longitude", times, 1) * SPHERE_RADIUS_M * np.cos(latitude)
    assert east == pytest.approx(motion.at("east", times), abs=0.05)
    assert -motion.at("height", times, 1) == pytest.approx(motion.at("down", times), abs=0.05)


@pytest.mark.parametrize("name", [field.name for field in dataclasses.fields(RecordedMotion) if field.name != "time_s"])
def test_every_curve_is_twice_differentiable(name: str) -> None:
    motion = smooth(noisy(flown()))
    pieces = getattr(motion, name)
    step = np.diff(motion.time_s)[:-1]
    cubic, square, slope, start = pieces[:, :-1]
    scale = max(1.0, float(np.abs(pieces).max()))
    assert ((cubic * step + square) * step + slope) * step + start == pytest.approx(pieces[3, 1:], abs=1e-9 * scale)
    assert (3 * cubic * step + 2 * square) * step + slope == pytest.approx(pieces[2, 1:], abs=1e-8 * scale)
    assert 6 * cubic * step + 2 * square == pytest.approx(2 * pieces[1, 1:], abs=1e-7 * scale)


def test_bank_follows_from_the_turn() -> None:
    motion = smooth(noisy(flown()))
    assert bank_deg(motion, 50.0, 120.0, 130.0, 140.0, 200.0) == pytest.approx(
        [0.0, RATE_ONE_BANK_DEG, RATE_ONE_BANK_DEG, RATE_ONE_BANK_DEG, 0.0], abs=1.0
    )
    (turn,) = motion.turn_spans()
    assert turn.text.startswith("right turn through 17")
    assert (turn.start_s, turn.end_s) == pytest.approx(TURN, abs=4.0)


def test_recorded_bank_is_kept() -> None:
    flight = flown()
    motion = smooth(dataclasses.replace(flight, bank_deg=np.full(300, 7.0)))
    assert bank_deg(motion, 50.0, 130.0) == pytest.approx([7.0, 7.0], abs=1e-6)


def test_no_bank_while_taxiing() -> None:
    slow = np.full(300, 10.0)
    motion = smooth(dataclasses.replace(flown(), tas_kt=slow))
    assert bank_deg(motion, 130.0) == pytest.approx([0.0], abs=1e-9)


def test_pitch_follows_from_the_climb() -> None:
    climbing = 3000.0 + 1000.0 / 60.0 * np.arange(300.0)
    motion = smooth(dataclasses.replace(flown(), height_ft=climbing))
    expected = math.degrees(math.asin(1000.0 * 0.3048 / 60.0 / TAS_M_S))
    assert np.degrees(motion.at("pitch", np.array([50.0, 250.0]))) == pytest.approx(expected, abs=0.05)


def test_outliers_do_not_pull() -> None:
    clean, flight = smooth(noisy(flown())), noisy(flown())
    far = flight.latitude_deg.copy()
    far[::50] += 0.02  # two kilometres
    dirty = smooth(dataclasses.replace(flight, latitude_deg=far))
    times = np.arange(0.0, 299.0)
    metres = (dirty.at("latitude", times) - clean.at("latitude", times)) * SPHERE_RADIUS_M
    assert np.abs(metres).max() < 10.0


def test_repeated_messages_do_not_stop_the_aircraft() -> None:
    flight = flown()
    shown = np.arange(300)
    shown[20:80] = shown[20:80] // 4 * 4  # three seconds out of four show the last message again
    stale = dataclasses.replace(
        flight, latitude_deg=flight.latitude_deg[shown], longitude_deg=flight.longitude_deg[shown]
    )
    motion = smooth(dataclasses.replace(stale, ground_speed_kt=None, track_true_deg=None))
    assert motion.at("north", np.arange(25.0, 75.0)) == pytest.approx(TAS_M_S, abs=0.5)


def test_magnetic_headings_get_the_variation_of_each_sample() -> None:
    flight = dataclasses.replace(flown(), heading_north="magnetic")
    variation = np.linspace(-2.0, 2.0, 300)
    motion = smooth(flight, variation)
    times = np.arange(10.0, 80.0)
    assert np.degrees(motion.at("heading", times)) == pytest.approx(
        np.interp(times, np.arange(300.0), variation), abs=0.02
    )
    with pytest.raises(ValueError, match="magnetic headings need variation_deg"):
        smooth(flight)


def test_without_heading_the_track_is_the_heading() -> None:
    flight = dataclasses.replace(noisy(flown()), heading_deg=None, tas_kt=None)
    without_track = dataclasses.replace(flight, ground_speed_kt=None, track_true_deg=None)
    for one in (flight, without_track):
        motion = smooth(one)
        assert np.degrees(motion.at("heading", np.array([50.0, 220.0]))) == pytest.approx([0.0, 180.0], abs=1.5)
        assert motion.tas_m_s_at(np.array([50.0])) == pytest.approx(TAS_M_S, abs=1.0)


def test_across_the_date_line() -> None:
    east, west = smooth(flown(longitude_deg=1.0)), smooth(flown(longitude_deg=179.99))
    times = np.arange(0.0, 299.0)
    assert west.at("east", times) == pytest.approx(east.at("east", times), abs=1e-4)


def without(flight: RecordedFlight, rows: slice) -> RecordedFlight:
    kept = np.ones(len(flight.time_s), dtype=bool)
    kept[rows] = False
    values: dict[str, Any] = {
        field.name: value[kept]
        for field in dataclasses.fields(flight)
        if isinstance(value := getattr(flight, field.name), np.ndarray)
    }
    return dataclasses.replace(flight, **values)


def test_a_short_gap_is_bridged() -> None:
    motion = smooth(without(noisy(flown()), slice(40, 55)))
    assert motion.at("north", np.arange(40.0, 55.0)) == pytest.approx(TAS_M_S, abs=1.0)


def refusal(flight: RecordedFlight) -> str:
    with pytest.raises(MaterialError) as caught:
        smooth(flight)
    return str(caught.value)


def test_a_long_gap_is_refused_with_its_place() -> None:
    assert refusal(without(flown(), slice(40, 75))) == (
        "nothing new was recorded for 36 s from 39 s after the start; gaps up to 20 s; "
        "cut the recording there, or raise gap_limit if a straight line will do  [flight-gap]"
    )


def test_a_position_that_stands_still_in_flight_is_a_gap() -> None:
    flight = flown()
    latitude, longitude = flight.latitude_deg.copy(), flight.longitude_deg.copy()
    latitude[200:], longitude[200:] = latitude[200], longitude[200]
    assert refusal(dataclasses.replace(flight, latitude_deg=latitude, longitude_deg=longitude)) == (
        "nothing new was recorded for 99 s from 200 s after the start; gaps up to 20 s; "
        "cut the recording there, or raise gap_limit if a straight line will do  [flight-gap]"
    )


def test_too_few_samples() -> None:
    assert refusal(without(flown(), slice(5, None))) == (
        "the recording has 5 samples; 8 or more, one after another; record for longer  [recording-unreadable]"
    )


def test_one_sample() -> None:
    assert refusal(without(flown(), slice(1, None))) == (
        "the recording has 1 sample; 8 or more, one after another; record for longer  [recording-unreadable]"
    )
