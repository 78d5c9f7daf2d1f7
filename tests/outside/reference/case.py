"""A whole flight of all instruments from a plain dict: `fly_reference(case)`.

A case holds, in the names and units of the instructor's setup (all optional but `field` and `legs`):

* `latitude_deg` (52), `heading_mag_deg` (0), `tas_kt` (100), `wind_from_deg` (true), `wind_kt`
* `field`: `horizontal_ut`, `dip_deg`, `variation_deg` — uniform, whatever the position
* `legs`: dicts with `kind`
    `hold`/`stand` `duration_s`; `taxi` `duration_s`, `turn_deg`; `accelerate` `acceleration_g`, `duration_s`;
    `turn` `by_deg` (right positive), `rate_deg_s` (3) or `bank_deg`, `roll_rate_deg_s` (10) or `roll_time_s`;
    `climb` `vertical_speed_ft_min`, `duration_s` (the whole leg; pitch = asin(vertical speed/TAS), raised and
    lowered at 1°/s)
* `compass`, `gyro`, `slaved_gyro`, `detector`, `loop`: fields of the instruments of the same name, as
  `dataclasses.asdict` gives them, with `magnetism` {`hard_ut`, `soft`} under compass and detector
  (`spin_bearing_true_deg` is the spin axis's true bearing at the start, north if not given)
* `holds`: pairs (begin, end) [s] during which the alignment switch is held
* `effects`: names of the effects that are on (all but noise)
* `sample_interval_s` (1.0)

Not modelled here: noise, topple, rotor run-up and run-down, faults, the textbook loop, cut-off, "always" armed
alignment, loads, leg gains, a card let go off its rest. A case that asks for one of these by key is refused.

The alignment rule at switch-on: fast from the first instant if the difference is above `large_error_deg`, until it is
no more than `settled_deg`, then slow for good; while held, the hold-down law, after which fast goes on if not settled.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .card import Card, card_rates, card_reading_deg, resting_card
from .detector import Detector, detector_reading_deg
from .earth import RADIUS_M, uniform_field
from .gyro import Gyro, bearing_from_nose, reading_axes, starting_axis
from .loop import Loop, SlavedCompass
from .motion import (
    Effects,
    Segment,
    apparent_gravity,
    flight_segments,
    frame_rotation,
    opening,
    split_at,
)
from .solving import Rates, Track, solve_flight
from .vectors import DOWN, Vector, dot, unit, wrap_180_deg

Floats = NDArray[np.float64]
Case = Mapping[str, Any]

EFFECTS: Effects = frozenset(
    {
        "earth rate",
        "transport",
        "coriolis",
        "drift",
        "gimballing",
        "detector tilt",
        "swirl",
        "friction",
        "deviation",
        "levelling",
    }
)


class Flight:
    """The parts of a case that every instrument shares."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self.effects: Effects = frozenset(case.get("effects", EFFECTS)) - {"noise"}
        given = case["field"]
        self.variation_deg = float(given.get("variation_deg", 0.0))
        self.field = uniform_field(
            given["horizontal_ut"] * 1e-6, math.radians(given["dip_deg"]), math.radians(self.variation_deg)
        )
        self.holds = [(float(begin), float(end)) for begin, end in case.get("holds", ())]
        edges = [edge for pair in self.holds for edge in pair]
        self.segments = split_at(flight_segments(case), edges)
        self.start = opening(case).pose_at(0.0)
        self.start_latitude_rad = math.radians(case.get("latitude_deg", 52.0))
        self.magnetic_rad = self.start.heading_rad - math.radians(self.variation_deg)

    def times_s(self) -> Floats:
        """Sample times: evenly spaced from 0, and the last instant."""
        end_s, step_s = self.segments[-1].end_s, float(self.case.get("sample_interval_s", 1.0))
        steps = np.arange(0.0, end_s - 1e-9, step_s)
        return np.append(steps, end_s)

    def actual_deg(self, segment: Segment, time_s: float) -> float:
        """Actual magnetic heading, not wrapped."""
        return math.degrees(segment.heading_at(time_s)) - self.variation_deg


def latitude_track(flight: Flight) -> Callable[[float], float]:
    """Latitude as a function of time [rad], found by integrating the speed northward."""

    def rates(segment: Segment, time_s: float, _state: Vector) -> Vector:
        return segment.pose_at(time_s).ground_velocity[:1] / RADIUS_M

    track = solve_flight(rates, flight.segments, np.array([flight.start_latitude_rad]))
    return lambda time_s: float(track(time_s)[0])


def card_columns(flight: Flight, times_s: Floats) -> dict[str, Floats]:
    """The direct-reading compass along the flight."""
    card = Card.build(flight.case.get("compass", {}), flight.effects)
    latitude = latitude_track(flight) if "coriolis" in flight.effects else (lambda _t: flight.start_latitude_rad)
    state = resting_card(card, flight.field, flight.start, flight.start_latitude_rad, flight.effects)
    track = solve_flight(card_rates(card, flight.field, latitude, flight.effects), flight.segments, state)

    def tilt_deg(segment: Segment, time_s: float, state: Vector) -> tuple[float, float]:
        e3 = unit(state[3:6])
        cosines = dot(e3, DOWN), dot(e3, segment.pose_at(time_s).axes.floor)
        return math.degrees(math.acos(min(1.0, cosines[0]))), math.degrees(math.acos(min(1.0, cosines[1])))

    heading, tilts = track.sampled(times_s, card_reading_deg), track.sampled(times_s, tilt_deg)
    return {
        "card.heading": heading % 360.0,
        "card.error": wrap_180_deg(heading - track.sampled(times_s, lambda s, t, _y: flight.actual_deg(s, t))),
        "card.tilt": tilts[:, 0],
        "card.tilt_in_case": tilts[:, 1],
        "card.fluid_rate": np.degrees(track.sampled(times_s, lambda _s, _t, y: y[9])),
    }


def gyro_rates(gyro: Gyro, effects: Effects) -> Rates:
    """The unslaved gyro: spin axis (3) and latitude (1)."""

    def rates(segment: Segment, time_s: float, state: Vector) -> Vector:
        pose, latitude = segment.pose_at(time_s), float(state[3])
        felt, frame = apparent_gravity(pose, latitude, effects), frame_rotation(pose, latitude, effects)
        axis = gyro.axis_rate(unit(state[0:3]), frame, pose, felt, 0.0)
        return np.append(axis, pose.ground_velocity[0] / RADIUS_M)

    return rates


def gyro_columns(flight: Flight, times_s: Floats) -> dict[str, Floats]:
    """The unslaved gyro along the flight."""
    given = flight.case.get("gyro", {})
    gyro = Gyro.build(given, flight.effects)
    bearing_rad = math.radians(given.get("spin_bearing_true_deg", 0.0)) - flight.start.heading_rad
    axis = starting_axis(flight.start, bearing_rad, math.radians(given.get("start_tilt_deg", 0.0)))
    set_rad = flight.magnetic_rad + math.radians(given.get("start_error_deg", 0.0)) + bearing_rad
    state = np.append(axis, flight.start_latitude_rad)
    track = solve_flight(gyro_rates(gyro, flight.effects), flight.segments, state)

    def reading_deg(segment: Segment, time_s: float, state: Vector) -> float:
        pose = segment.pose_at(time_s)
        return math.degrees(set_rad - bearing_from_nose(state[0:3], reading_axes(pose, flight.effects)))

    heading = track.sampled(times_s, reading_deg)
    return {
        "gyro.heading": heading % 360.0,
        "gyro.error": wrap_180_deg(heading - track.sampled(times_s, lambda s, t, _y: flight.actual_deg(s, t))),
        "gyro.elevation": np.degrees(track.sampled(times_s, lambda _s, _t, y: math.asin(-y[2]))),
        "actual.latitude": np.degrees(track.sampled(times_s, lambda _s, _t, y: y[3])),
    }


def slaved_compass(flight: Flight) -> tuple[SlavedCompass, Vector]:
    """The slaved system and its state at the start."""
    case, given = flight.case, flight.case.get("slaved_gyro", {})
    bearing_rad = math.radians(given.get("spin_bearing_true_deg", 0.0)) - flight.start.heading_rad
    compass = SlavedCompass(
        gyro=Gyro.build(given, flight.effects),
        detector=Detector.build(case.get("detector", {}), flight.effects),
        loop=Loop.build(case.get("loop", {})),
        field=flight.field,
        set_rad=flight.magnetic_rad + math.radians(given.get("start_error_deg", 0.0)) + bearing_rad,
        effects=flight.effects,
    )
    tilt_rad = math.radians(given.get("start_tilt_deg", 0.0))
    return compass, compass.starting_state(flight.start, flight.start_latitude_rad, bearing_rad, tilt_rad)


def slaved_track(case: Case) -> tuple[Flight, SlavedCompass, Track]:
    """The slaved system flown through a case, as a continuous function of time."""
    flight = Flight(case)
    compass, state = slaved_compass(flight)
    return flight, compass, compass.fly(flight.segments, state, flight.holds)


def indicated_deg(compass: SlavedCompass, segment: Segment, time_s: float, state: Vector) -> float:
    """Heading shown by the slaved card [deg, magnetic], not wrapped."""
    return math.degrees(compass.indicated(state, segment.pose_at(time_s)))


def slaved_columns(flight: Flight, times_s: Floats) -> dict[str, Floats]:
    """Detector and slaved card along the flight."""
    compass, state = slaved_compass(flight)
    track = compass.fly(flight.segments, state, flight.holds)
    actual = track.sampled(times_s, lambda s, t, _y: flight.actual_deg(s, t))
    shown = track.sampled(times_s, lambda s, t, y: indicated_deg(compass, s, t, y))
    sensed = track.sampled(times_s, lambda s, t, y: detector_reading_deg(compass.detector, flight.field, s, t, y[4:8]))
    met = track.sampled(times_s, lambda s, t, y: compass.comparison(y, s.pose_at(t))[1])
    return {
        "detector.heading": sensed % 360.0,
        "detector.error": wrap_180_deg(sensed - actual),
        "detector.field": met * 1e6,
        "slaved.heading": shown % 360.0,
        "slaved.error": wrap_180_deg(shown - actual),
        "slaved.difference": wrap_180_deg(sensed - shown),
        "slaved.correction": np.degrees(track.sampled(times_s, lambda _s, _t, y: y[3])) * 60.0,
        "slaved.elevation": np.degrees(track.sampled(times_s, lambda _s, _t, y: math.asin(-y[2]))),
    }


def motion_columns(flight: Flight, times_s: Floats) -> dict[str, Floats]:
    """What the aircraft does."""
    segments = [next((s for s in flight.segments if t <= s.end_s), flight.segments[-1]) for t in times_s]
    poses = [segment.pose_at(float(t)) for segment, t in zip(segments, times_s, strict=True)]
    heading = np.degrees([pose.heading_rad for pose in poses])
    return {
        "actual.heading": (heading - flight.variation_deg) % 360.0,
        "actual.heading_true": heading % 360.0,
        "actual.bank": np.degrees([pose.bank_rad for pose in poses]),
        "actual.pitch": np.degrees([pose.pitch_rad for pose in poses]),
    }


def fly_reference(case: Case) -> dict[str, Floats]:
    """Every channel of a case, by name, each (n,); `time` is in seconds, angles in degrees, fields in µT."""
    refuse(case)
    flight = Flight(case)
    times_s = flight.times_s()
    return {
        "time": times_s,
        **motion_columns(flight, times_s),
        **card_columns(flight, times_s),
        **gyro_columns(flight, times_s),
        **slaved_columns(flight, times_s),
    }


def refuse(case: Case) -> None:
    """Say so if a case asks for what the reference does not model."""
    loop, known = case.get("loop", {}), {"never", "at switch-on"}
    gains = tuple(case.get("detector", {}).get("leg_gains", (1.0, 1.0, 1.0)))
    asked = {
        "noise": any(case.get(k, {}).get("random_walk_deg_sqrt_h") for k in ("gyro", "slaved_gyro")),
        "cut-off": loop.get("cut_off_deg_s") is not None,
        "automatic alignment always armed": loop.get("automatic", "never") not in known,
        "an unslaved start": not loop.get("slaved", True),
        "actions, faults": bool(case.get("actions") or case.get("faults")),
        "a stopped rotor": not all(case.get(k, {}).get("rotor_running", True) for k in ("gyro", "slaved_gyro")),
        "leg gains": gains != (1.0, 1.0, 1.0),
        "a card let go off its rest": bool(case.get("compass", {}).get("start_offset_deg")),
        "ideal levelling": any(case.get(k, {}).get("levelling") == "ideal" for k in ("gyro", "slaved_gyro")),
    }
    if wrong := [name for name, is_asked in asked.items() if is_asked]:
        raise ValueError(f"the reference does not model: {', '.join(wrong)}")
