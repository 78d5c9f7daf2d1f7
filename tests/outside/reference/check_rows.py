"""Every row of the table of check values that the reference covers: `python -m tests.outside.reference.check_rows`."""

from __future__ import annotations

import csv
import dataclasses
import functools
import math
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from . import pickoff
from .case import EFFECTS, Floats, fly_reference, indicated_deg, slaved_track
from .earth import GRAVITY_M_S2, KNOT_M_S, RADIUS_M, carriage, uniform_field
from .gyro import Gyro, bearing_from_nose
from .motion import Pose, apparent_gravity, flight_segments, frame_rotation, opening
from .vectors import DOWN, Vector, cross, dot, triad, unit, vec, wrap_180_deg

TABLE = Path(__file__).parents[1] / "data" / "check_values.csv"
NO_EARTH = EFFECTS - {"earth rate", "transport", "coriolis"}
CARD_FIELD = {"horizontal_ut": 19.0, "dip_deg": 67.0}
REST_FIELD = {"horizontal_ut": 19.3, "dip_deg": math.degrees(math.atan2(45.3, 19.3))}


@dataclasses.dataclass(frozen=True)
class Row:
    """One line of the table with what the reference computes for it."""

    name: str
    expected: float
    tolerance: float
    computed: float

    @property
    def holds(self) -> bool:
        return abs(self.computed - self.expected) <= self.tolerance * (1.0 + 1e-9)


def static_reading_deg(heading_deg: float, axes_bank_rad: float, dip_deg: float, along_g: float) -> float:
    """Reading of a card lying square to apparent gravity: the field and the nose both laid into that plane."""
    level = triad(math.radians(heading_deg), 0.0, 0.0)
    felt = unit(DOWN - math.tan(axes_bank_rad) * level.wing - along_g * level.nose)
    field = uniform_field(1.0, math.radians(dip_deg))
    nose = triad(math.radians(heading_deg), 0.0, axes_bank_rad).nose
    north, ahead = field - dot(field, felt) * felt, nose - dot(nose, felt) * felt
    return math.degrees(math.atan2(dot(cross(north, ahead), felt), dot(north, ahead)))


def static_turn_error_deg(heading_deg: float, bank_deg: float, dip_deg: float) -> float:
    return float(wrap_180_deg(static_reading_deg(heading_deg, math.radians(bank_deg), dip_deg, 0.0) - heading_deg))


@functools.cache
def card_run(heading_deg: float, by_deg: float, acceleration_g: float = 0.0) -> dict[str, Floats]:
    """The flights of the card rows: rate one, 4 s roll-in, or 0.1 g for a minute."""
    leg: dict[str, Any] = {"kind": "turn", "by_deg": by_deg, "roll_time_s": 4.0}
    if acceleration_g:
        leg = {"kind": "accelerate", "acceleration_g": acceleration_g, "duration_s": 60.0}
    case = {
        "heading_mag_deg": heading_deg,
        "field": CARD_FIELD,
        "effects": NO_EARTH,
        "legs": [leg],
        "sample_interval_s": 0.02,
    }
    run = fly_reference(case)
    return {
        "time": run["time"],
        "error": run["card.error"],
        "reading": np.degrees(np.unwrap(np.radians(run["card.heading"]))),
        "actual": np.degrees(np.unwrap(np.radians(run["actual.heading"]))),
    }


def lowest_north(what: str) -> float:
    run = card_run(0.0, 360.0)
    early = run["time"] < 30.0
    least = int(np.argmin(np.where(early, run["reading"], np.inf)))
    if what == "time":
        return float(run["time"][least])
    return float(run["reading"][least])


def recross_north_deg() -> float:
    run = card_run(0.0, 360.0)
    after = (run["time"] > 8.0) & (run["time"] < 30.0)
    return float(np.interp(0.0, run["reading"][after], run["actual"][after]))


def at_actual(heading_deg: float, what: str) -> float:
    run = card_run(0.0, 360.0)
    return float(np.interp(heading_deg, run["actual"], run[what]))


def east_to_north_deg() -> float:
    run = card_run(90.0, -120.0)
    reading = float(np.interp(0.0, -run["actual"], run["reading"]))
    return reading % 360.0


def at_time(run: Mapping[str, Floats], time_s: float, what: str) -> float:
    return float(np.interp(time_s, run["time"], run[what]))


@functools.cache
def orbit(heading_deg: float) -> dict[str, Floats]:
    """A rate-one right circle; the spin axis points north at the start, whatever the heading."""
    case = {
        "heading_mag_deg": heading_deg,
        "field": CARD_FIELD,
        "effects": NO_EARTH,
        "legs": [{"kind": "turn", "by_deg": 360.0}],
        "sample_interval_s": 0.05,
    }
    return fly_reference(case)


def greatest(values: Floats) -> float:
    return float(np.max(np.abs(values)))


@functools.cache
def at_rest_solution(
    start_error_deg: float, earth_rate: bool, loop: tuple[tuple[str, Any], ...], field: tuple[float, float]
) -> Callable[[float], float]:
    """Slaved error at rest at 52N as a function of time."""
    case = {
        "latitude_deg": 52.0,
        "tas_kt": 0.0,
        "field": {"horizontal_ut": field[0], "dip_deg": field[1]},
        "effects": NO_EARTH | ({"earth rate"} if earth_rate else set()),
        "legs": [{"kind": "stand", "duration_s": 7200.0}],
        "slaved_gyro": {"start_error_deg": start_error_deg},
        "loop": dict(loop),
    }
    _flight, compass, track = slaved_track(case)

    def error_deg(time_s: float) -> float:
        piece = track.piece_at(time_s)
        return float(wrap_180_deg(indicated_deg(compass, piece.segment, time_s, piece.state(time_s))))

    return error_deg


def rest(
    start_error_deg: float, *, earth_rate: bool, horizontal_ut: float = 19.3, **loop: Any
) -> Callable[[float], float]:
    field = (horizontal_ut, REST_FIELD["dip_deg"])
    return at_rest_solution(start_error_deg, earth_rate, tuple(sorted(loop.items())), field)


def time_to_s(error_deg: Callable[[float], float], bound_deg: float) -> float:
    return float(brentq(lambda t: error_deg(t) - bound_deg, 1.0, 7000.0, xtol=1e-9))


def false_null_s() -> float:
    loop = {"automatic": "never", "slow_rate_deg_min": 2.0, "dead_zone_deg": 0.0, "lag_s": 0.0}
    return time_to_s(rest(179.9, earth_rate=False, horizontal_ut=20.0, **loop), 90.0)


def gimballing_deg(bank_deg: float, pitch_deg: float) -> float:
    """Greatest difference between a level spin axis's bearing in the tilted case and on the level."""
    level, tilted = triad(0.0, 0.0, 0.0), triad(0.0, math.radians(pitch_deg), math.radians(bank_deg))
    bearings = np.radians(np.arange(0.0, 360.0, 0.05))

    def error(bearing: float) -> float:
        axis = vec(math.cos(bearing), math.sin(bearing), 0.0)
        return math.remainder(bearing_from_nose(axis, tilted) - bearing_from_nose(axis, level), 2.0 * math.pi)

    return math.degrees(max(abs(error(b)) for b in bearings.tolist()))


def creep_deg(latitude_deg: float, **gyro: Any) -> float:
    """Change of an unslaved gyro's reading at rest in one hour."""
    case = {
        "latitude_deg": latitude_deg,
        "tas_kt": 0.0,
        "field": REST_FIELD,
        "legs": [{"kind": "stand", "duration_s": 3600.0}],
        "gyro": gyro,
        "sample_interval_s": 600.0,
    }
    return float(fly_reference(case)["gyro.error"][-1])


def transport_rate_deg_h() -> float:
    """Rate of the reading at the first moment of a flight east at 60N, by the law itself."""
    case = {
        "heading_mag_deg": 90.0,
        "tas_kt": 480.0,
        "field": CARD_FIELD,
        "legs": [{"kind": "hold", "duration_s": 1.0}],
    }
    effects = EFFECTS - {"earth rate"}
    pose, latitude = flight_segments(case)[0].pose_at(0.0), math.radians(60.0)
    felt, frame = apparent_gravity(pose, latitude, effects), frame_rotation(pose, latitude, effects)
    axis = pose.axes.nose
    rate = Gyro.build({}, effects).axis_rate(axis, frame, pose, felt, 0.0)
    return -math.degrees(dot(rate, pose.axes.wing)) * 3600.0


def great_circle_deg() -> float:
    """Reading less true heading at the end of a great circle 60N 0E to 60N 60E, levelling ideal, Earth rate off."""
    half_rad, latitude = math.radians(30.0), math.radians(60.0)
    top = math.atan(math.tan(latitude) / math.cos(half_rad))
    length = 2.0 * math.acos(math.sin(latitude) / math.sin(top))
    speed = 480.0 * KNOT_M_S

    def pose_at(time_s: float) -> tuple[float, float]:
        along = speed * time_s / RADIUS_M - length / 2.0
        now = math.asin(math.sin(top) * math.cos(along))
        east = math.cos(top) / math.cos(now)
        north = -math.sin(top) * math.sin(along) / math.cos(now)
        return now, math.atan2(east, north)

    def rates(time_s: float, axis: Vector) -> Vector:
        now, heading = pose_at(time_s)
        velocity = speed * triad(heading, 0.0, 0.0).nose
        rate = cross(axis, carriage(now, velocity))
        return rate - dot(rate, DOWN) * DOWN

    end_s, start_rad = length * RADIUS_M / speed, pose_at(0.0)[1]
    start_axis = triad(start_rad, 0.0, 0.0).nose
    found: Any = solve_ivp(rates, (0.0, end_s), start_axis, method="LSODA", rtol=1e-10, atol=1e-12)
    end_rad = pose_at(end_s)[1]
    reading_change_rad = -bearing_from_nose(found.y[:, -1], triad(end_rad, 0.0, 0.0))
    return abs(math.degrees(reading_change_rad - (end_rad - start_rad)))


def textbook_null_s(offset_deg: float, rate_deg_min: float) -> float:
    """Time until the sign of the difference changes in a loop that turns at one rate."""

    def rates(_time_s: float, state: Vector) -> Vector:
        return -np.sign(state) * rate_deg_min / 60.0

    def null(_time_s: float, state: Vector) -> float:
        return float(state[0])

    null.terminal = True  # type: ignore[attr-defined]
    found: Any = solve_ivp(rates, (0.0, 3600.0), [offset_deg], events=null, rtol=1e-10, max_step=10.0)
    return float(found.t_events[0][0])


def coriolis_deg() -> float:
    case = {"tas_kt": 480.0, "field": CARD_FIELD, "legs": [{"kind": "hold", "duration_s": 1.0}]}
    return float(fly_reference(case)["detector.error"][0])


def bank_deg(speed_kt: float) -> float:
    pose: Pose = opening({"field": {}, "tas_kt": speed_kt}).pose_at(0.0)
    return math.degrees(math.atan(float(pose.ground_velocity[0]) * math.radians(3.0) / GRAVITY_M_S2))


ROWS: dict[str, Callable[[], float]] = {
    "turn-static-55-15": lambda: static_turn_error_deg(0.0, 15.0, 55.0),
    "turn-static-55-20": lambda: static_turn_error_deg(0.0, 20.0, 55.0),
    "turn-static-67-15": lambda: static_turn_error_deg(0.0, 15.0, 67.0),
    "turn-static-S": lambda: static_turn_error_deg(180.0, 15.0, 55.0),
    "turn-static-EW": lambda: max(abs(static_turn_error_deg(h, 15.0, 55.0)) for h in (90.0, 270.0)),
    "accel-55-E": lambda: static_reading_deg(90.0, 0.0, 55.0, 0.1),
    "accel-55-E-dec": lambda: static_reading_deg(90.0, 0.0, 55.0, -0.1),
    "accel-N": lambda: static_reading_deg(0.0, 0.0, 55.0, 0.1),
    "card-N-dip": lambda: lowest_north("reading"),
    "card-N-dip-time": lambda: lowest_north("time"),
    "card-N-recross": recross_north_deg,
    "card-E-N": east_to_north_deg,
    "card-S-lead": lambda: at_time(card_run(180.0, 120.0), 5.0, "error"),
    "card-S-peak": lambda: float(np.max(card_run(180.0, 120.0)["error"])),
    "card-passing-E": lambda: at_actual(90.0, "reading") - 90.0,
    "card-passing-W": lambda: at_actual(270.0, "reading") - 270.0,
    "coriolis-480": coriolis_deg,
    "card-0.1g-E": lambda: at_time(card_run(90.0, 0.0, 0.1), 59.0, "reading"),
    "gimbal-30": lambda: gimballing_deg(30.0, 0.0),
    "gimbal-45": lambda: gimballing_deg(45.0, 0.0),
    "gimbal-30-20": lambda: gimballing_deg(30.0, 20.0),
    "creep-52": lambda: creep_deg(52.0),
    "creep-43-50": lambda: abs(creep_deg(43.0 + 50.0 / 60.0)) / 60.0,
    "creep-nut": lambda: creep_deg(52.0, nut_latitude_deg=52.0),
    "transport-60": transport_rate_deg_h,
    "great-circle": great_circle_deg,
    "hangoff-dz0": lambda: -rest(0.0, earth_rate=True, dead_zone_deg=0.0)(7200.0),
    "hangoff-dz": lambda: -rest(0.0, earth_rate=True)(7200.0),
    "textbook-30": lambda: textbook_null_s(90.0, 3.0) / 60.0,
    "textbook-fast": lambda: textbook_null_s(90.0, 60.0),
    "align-slow-2": lambda: time_to_s(rest(90.0, earth_rate=False, automatic="never"), 2.0),
    "align-slow-05": lambda: time_to_s(rest(90.0, earth_rate=False, automatic="never"), 0.5),
    "false-null": false_null_s,
    "orbit-time": lambda: float(orbit(0.0)["time"][-1]),
    "orbit-N": lambda: greatest(orbit(0.0)["slaved.error"]),
    "orbit-N-end": lambda: float(orbit(0.0)["slaved.error"][-1]),
    "orbit-E": lambda: greatest(orbit(90.0)["slaved.error"]),
    "orbit-detector": lambda: greatest(orbit(0.0)["detector.error"]),
    "kappa-pwl": lambda: pickoff.kappa(pickoff.sharp, math.sqrt(2.0)),
    "kappa-tanh": lambda: pickoff.greatest_kappa(np.tanh)[0],
    "kappa-arctan": lambda: pickoff.greatest_kappa(pickoff.arctan)[0],
    "detector-frequency": lambda: pickoff.output_frequency_hz(np.tanh),
    "leg-gain": lambda: pickoff.two_cycle_amplitude_deg((1.01, 1.0, 1.0)),
    "leg-dead": lambda: greatest(pickoff.leg_errors_deg((0.0, 1.0, 1.0))),
    "rate-one-100": lambda: bank_deg(100.0),
    "rate-one-120": lambda: bank_deg(120.0),
}


def table() -> dict[str, dict[str, str]]:
    """The table of check values by id."""
    with TABLE.open(encoding="utf-8", newline="") as stream:
        return {row["id"]: row for row in csv.DictReader(stream)}


def computed_rows(names: Iterable[str] = ROWS) -> list[Row]:
    """The named rows of the table, computed."""
    given = table()
    return [Row(n, float(given[n]["value"]), float(given[n]["tolerance"]), ROWS[n]()) for n in names]


def main() -> int:
    """Print id, computed, expected, tolerance, holds; 1 if one does not hold."""
    rows = computed_rows(sys.argv[1:] or ROWS)
    for row in rows:
        verdict = "holds" if row.holds else "DOES NOT HOLD"
        print(f"{row.name:20} {row.computed:14.6f} {row.expected:12g} ± {row.tolerance:<8g} {verdict}")
    return 0 if all(row.holds for row in rows) else 1


if __name__ == "__main__":
    raise SystemExit(main())
