"""What the product computes for each row of `data/check_values.csv` that its models cover, by the row's id."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq

from gyrochalk.physics.card import static_reading
from gyrochalk.physics.cores import Leg as DetectorLeg
from gyrochalk.physics.cores import arctan_core, kappa_of, leg_voltage, piecewise_core, repetition_hz, tanh_core
from gyrochalk.physics.electrics import line_map
from gyrochalk.physics.gyro import spin_bearing
from gyrochalk.physics.motion import body_axes
from gyrochalk.physics.world import Gimbals
from gyrochalk.quantities.catalogue import measures_for
from gyrochalk.quantities.evaluating import evaluate
from gyrochalk.systems.constants import gimbals_of
from gyrochalk.systems.effects import FULL, TEXTBOOK
from gyrochalk.systems.instruments import DirectCompass, Gyro, Loop, Magnetism
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import Accelerate, FlightPlan, GreatCircle, Hold, Leg, Stand, Turn
from gyrochalk.systems.run import Run
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate

Floats = NDArray[np.float64]

NO_EARTH = FULL - {"earth rate", "transport", "coriolis"}
CARD_FIELD = StatedField(19.0, 67.0)
REST_DIP = math.degrees(math.atan2(45.3, 19.3))
AT_52N = Place(52.0, 0.0)
STILL = FlightPlan(legs=(Stand(3600.0),), tas_kt=0.0)
RATE_ONE = Turn(by_deg=360.0, roll_time_s=4.0)


def planned(*legs: Leg, heading_deg: float = 0.0, tas_kt: float = 100.0) -> FlightPlan:
    """Legs from a heading at an airspeed, in still air."""
    return FlightPlan(legs, heading_deg, "magnetic", tas_kt)


@functools.cache
def flown(setup: Setup) -> Run:
    """The run of a setup, flown once for all the rows that look at it."""
    return simulate(setup)


def measured(run: Run, name: str, unit: str = "deg") -> float:
    """A ready-made measure of a run, which must be in the unit the row is written in."""
    value = evaluate(run, measures_for(run)[name])
    if value.unit != unit:
        raise AssertionError(f"{name} is in {value.unit}, not in {unit}")
    return value.number


# The static law


def hanging_error(heading_deg: float, dip_deg: float, bank_deg: float = 0.0, along_g: float = 0.0) -> float:
    """Error [deg] of a card at rest in a steady turn or acceleration, from field and apparent gravity as vectors."""
    heading, bank, dip = math.radians(heading_deg), math.radians(bank_deg), math.radians(dip_deg)
    nose, _, _ = body_axes((heading, 0.0, bank))
    outwards = math.tan(bank)
    gravity = (
        -along_g * math.cos(heading) + outwards * math.sin(heading),
        -along_g * math.sin(heading) - outwards * math.cos(heading),
        1.0,
    )
    reading = static_reading(nose, (math.cos(dip), 0.0, math.sin(dip)), gravity)
    return math.degrees(math.remainder(reading - heading, 2.0 * math.pi))


def worst_on_east_and_west() -> float:
    """Greatest error [deg] on E and W, either bank, of the row's steady turn."""
    return max(abs(hanging_error(heading, 55.0, bank)) for heading in (90.0, 270.0) for bank in (15.0, -15.0))


# The moving card


@functools.cache
def card_run(heading_deg: float, leg: Leg) -> Run:
    """The flights of the card rows."""
    plan = planned(leg, heading_deg=heading_deg)
    setup = Setup(AT_52N, plan, CARD_FIELD, effects=NO_EARTH, sample_interval_s=0.02, tolerance_deg=1e-3)
    return flown(setup)


def from_north() -> Run:
    """The right turn from N through 360°."""
    return card_run(0.0, RATE_ONE)


def from_south() -> Run:
    """The right turn from S."""
    return card_run(180.0, Turn(by_deg=120.0, roll_time_s=4.0))


def lowest(run: Run) -> tuple[float, float]:
    """Time [s] and reading [deg, below north negative] of the card's first dip, in the first 30 s."""
    early = run.time_s < 30.0
    reading = np.degrees(np.unwrap(np.radians(run["card.heading"].values[early])))
    reading -= 360.0 * round(float(reading[0]) / 360.0)
    least = int(np.argmin(reading))
    return float(run.time_s[least]), float(reading[least])


def at_time(run: Run, channel: str, time_s: float) -> float:
    """A channel at a time."""
    return float(np.interp(time_s, run.time_s, run[channel].values))


def recrossed_deg() -> float:
    """Actual heading [deg] at which the card passes 360 again after its dip."""
    run = from_north()
    after = (run.time_s > lowest(run)[0]) & (run.time_s < 30.0)
    below = run["card.heading"].values[after]
    below = np.where(below > 180.0, below - 360.0, below)
    return float(np.interp(0.0, below, run["actual.heading"].values[after]))


def coriolis_error() -> float:
    """Detector error at 480 kt straight north at 52N with only Coriolis and the pendulum on."""
    effects = frozenset({"coriolis", "detector tilt"})
    run = flown(Setup(AT_52N, planned(Hold(1.0), tas_kt=480.0), CARD_FIELD, effects=effects, tolerance_deg=1e-4))
    return abs(float(run["detector.error"].values[0]))


# The gyro


@functools.cache
def gimbals(gyro: Gyro) -> Gimbals:
    """A gyro's constants with all effects on."""
    return gimbals_of(gyro, FULL, 1, 1)


def greatest_gimballing(bank_deg: float, pitch_deg: float = 0.0) -> float:
    """Greatest difference [deg] of the bearing a tilted gimbal shows from the level one, over all bearings."""
    nose, wing, _ = body_axes((0.0, math.radians(pitch_deg), math.radians(bank_deg)))
    worst = 0.0
    for bearing in np.radians(np.arange(0.0, 360.0, 0.05)).tolist():
        axis = (math.cos(bearing), math.sin(bearing), 0.0)
        shown = spin_bearing(axis, nose, wing, 0.0, gimbals(Gyro()))
        worst = max(worst, abs(math.remainder(shown - bearing, 2.0 * math.pi)))
    return math.degrees(worst)


def creep(latitude_deg: float, gyro: Gyro | None = None) -> float:
    """Change [deg] of an unslaved gyro's reading in an hour at rest."""
    run = flown(Setup(Place(latitude_deg, 0.0), STILL, CARD_FIELD, gyro=gyro or Gyro(), tolerance_deg=1e-4))
    return measured(run, "gyro.error_change")


def transport_rate() -> float:
    """Rate [deg/h] of the reading in the first seconds of a flight east at 60N, Earth rate off."""
    setup = Setup(
        Place(60.0, 0.0),
        planned(Hold(5.0), heading_deg=90.0, tas_kt=480.0),
        CARD_FIELD,
        effects=FULL - {"earth rate"},
        tolerance_deg=1e-6,
    )
    return measured(flown(setup), "gyro.drift_rate", "deg/h")


def great_circle_error() -> float:
    """How far the reading is left behind by the true heading [deg] along 60N 0E to 60N 60E."""
    ideal = Gyro(levelling="ideal")
    plan = planned(GreatCircle(60.0, 60.0), tas_kt=480.0)
    run = flown(Setup(Place(60.0, 0.0), plan, StatedField(15.0, 73.0), gyro=ideal, effects=FULL - {"earth rate"}))
    return abs(measured(run, "gyro.error_change"))


def free_wander() -> float:
    """Wander [deg/h] of a gyro left free in space at 52N, pointing north, over its first second."""
    setup = Setup(
        AT_52N,
        planned(Stand(1.0), tas_kt=0.0),
        CARD_FIELD,
        gyro=Gyro(levelling="none"),
        effects=FULL - {"transport", "coriolis"},
        tolerance_deg=1e-8,
    )
    return abs(float(flown(setup)["gyro.error"].values[-1])) * 3600.0


# The loop


def at_rest(loop: Loop, *, start_error_deg: float = 0.0, horizontal_ut: float = 19.3, earth_rate: bool = False) -> Run:
    """The slaved compass at rest at 52N for two hours."""
    return flown(
        Setup(
            AT_52N,
            planned(Stand(7200.0), tas_kt=0.0),
            StatedField(horizontal_ut, REST_DIP),
            slaved_gyro=Gyro(start_error_deg=start_error_deg),
            loop=loop,
            effects=NO_EARTH | ({"earth rate"} if earth_rate else set()),
            tolerance_deg=1e-4,
        )
    )


def hang_off(loop: Loop) -> float:
    """Detector less indicated [deg] after two hours against the Earth's rate."""
    return abs(measured(at_rest(loop, earth_rate=True), "slaved.end_difference"))


def within(run: Run, bound_deg: float) -> float:
    """Time [s] at which the slaved error first is no more than a bound."""
    size = np.abs(run["slaved.error"].values)
    first = int(np.argmax(size <= bound_deg))
    return float(np.interp(-bound_deg, -size[first - 1 : first + 1], run.time_s[first - 1 : first + 1]))


SLOW = Loop(automatic="never")


def aligned_s(bound_deg: float) -> float:
    """Time [s] the full loop takes from 90° off to within a bound."""
    return within(at_rest(SLOW, start_error_deg=90.0), bound_deg)


def false_null_s() -> float:
    """Time [s] from 179.9° off to 90°."""
    loop = Loop(slow_rate_deg_min=2.0, dead_zone_deg=0.0, lag_s=0.0, automatic="never")
    return within(at_rest(loop, start_error_deg=179.9, horizontal_ut=20.0), 90.0)


def textbook_null_s(rate_deg_min: float) -> float:
    """Time [s] the textbook loop takes from 90° off to its null."""
    setup = Setup(
        AT_52N,
        planned(Stand(2400.0), tas_kt=0.0),
        CARD_FIELD,
        slaved_gyro=Gyro(start_error_deg=90.0),
        loop=Loop(slow_rate_deg_min=rate_deg_min, automatic="never"),
        loop_law="textbook",
        effects=TEXTBOOK,
        sample_interval_s=0.1,
    )
    return measured(flown(setup), "slaved.time_to_null", "s")


@functools.cache
def orbit(heading_deg: float) -> Run:
    """A rate-one right circle at 100 kt, 10 deg/s roll, begun on a heading; Earth rate and transport off."""
    plan = planned(Turn(by_deg=360.0), heading_deg=heading_deg)
    return flown(Setup(AT_52N, plan, CARD_FIELD, effects=NO_EARTH, sample_interval_s=0.05, tolerance_deg=1e-3))


# The detector's electricity


def greatest_kappa(core: Callable[[Floats], Floats], expected_ratio: float) -> float:
    """Greatest κ; raises unless it is reached near the ratio the row names."""
    ratios = np.arange(1.05, 3.0, 0.01)
    kappas = [kappa_of(core, float(ratio)) for ratio in ratios]
    best = int(np.argmax(kappas))
    if abs(ratios[best] - expected_ratio) > 0.02:
        raise AssertionError(f"the greatest κ is at r = {ratios[best]:.2f}, not at {expected_ratio}")
    return kappas[best]


def decoding_errors(gains: tuple[float, float, float]) -> Floats:
    """Error [deg] of the decoded heading all round the circle for legs of these gains."""
    headings = np.radians(np.arange(3600) / 10.0)
    reported = line_map(np.array(gains)) @ np.array([np.cos(headings), -np.sin(headings)])
    decoded = np.arctan2(-reported[1], reported[0])
    return np.asarray(np.degrees(np.angle(np.exp(1j * (decoded - headings)))))


def two_cycle(errors: Floats) -> float:
    """Amplitude of the part of an error that goes twice round the circle."""
    return float(2.0 * abs(np.fft.rfft(errors)[2]) / len(errors))


def output_frequency() -> float:
    """How often a leg's voltage repeats [Hz], with the product's own leg and a piecewise-linear core."""
    leg = DetectorLeg()
    return repetition_hz(leg_voltage(leg, piecewise_core, 20.0), leg.excitation_hz)


# The flight


def bank(tas_kt: float) -> float:
    """Steady bank [deg] of a rate-one turn."""
    plan = planned(Turn(by_deg=360.0), tas_kt=tas_kt)
    return measured(flown(Setup(AT_52N, plan, CARD_FIELD)), "actual.peak_bank")


def compass_on(true_deg: float, variation_deg: float, fore_and_aft_ratio: float) -> float:
    """What a card with fore-and-aft hard iron (P/H) reads [deg] at rest on a true heading, in a level field."""
    iron = Magnetism(hard_ut=(fore_and_aft_ratio * 19.0, 0.0, 0.0))
    plan = FlightPlan((Stand(1.0),), true_deg, "true", 0.0)
    setup = Setup(
        AT_52N,
        plan,
        StatedField(19.0, 0.0, variation_deg),
        compass=DirectCompass(magnetism=iron),
        effects=frozenset({"deviation"}),
        tolerance_deg=1e-6,
    )
    return float(flown(setup)["card.heading"].values[0])


def true_to_compass() -> float:
    """True 095, variation 2W, and iron that gives deviation 3W on that heading: what the compass reads."""
    deviation, magnetic = math.radians(-3.0), math.radians(97.0)
    ratio = math.tan(deviation) / (math.sin(magnetic) - math.tan(deviation) * math.cos(magnetic))
    return round(compass_on(95.0, -2.0, ratio), 3)


def compass_to_true() -> float:
    """The true heading on which the compass reads 193, with variation 7E and iron that then gives deviation 2W."""
    ratio = math.sin(math.radians(-2.0)) / math.sin(math.radians(193.0))
    return round(float(brentq(lambda true: compass_on(true, 7.0, ratio) - 193.0, 180.0, 220.0, xtol=1e-6)), 3)


ROWS: dict[str, Callable[[], float]] = {
    "turn-static-55-15": lambda: hanging_error(0.0, 55.0, 15.0),
    "turn-static-55-20": lambda: hanging_error(0.0, 55.0, 20.0),
    "turn-static-67-15": lambda: hanging_error(0.0, 67.0, 15.0),
    "turn-static-S": lambda: hanging_error(180.0, 55.0, 15.0),
    "turn-static-EW": worst_on_east_and_west,
    "accel-55-E": lambda: 90.0 + hanging_error(90.0, 55.0, along_g=0.1),
    "accel-55-E-dec": lambda: 90.0 + hanging_error(90.0, 55.0, along_g=-0.1),
    "accel-N": lambda: hanging_error(0.0, 55.0, along_g=0.1),
    "card-N-dip": lambda: lowest(from_north())[1],
    "card-N-dip-time": lambda: lowest(from_north())[0],
    "card-N-recross": recrossed_deg,
    "card-E-N": lambda: measured(card_run(90.0, Turn(by_deg=-120.0, roll_time_s=4.0)), "card.heading_passing_north"),
    "card-S-lead": lambda: at_time(from_south(), "card.error", 5.0),
    "card-S-peak": lambda: measured(from_south(), "card.peak_error"),
    "card-passing-E": lambda: measured(from_north(), "card.error_passing_east"),
    "card-passing-W": lambda: measured(from_north(), "card.error_passing_west"),
    "coriolis-480": coriolis_error,
    "card-0.1g-E": lambda: at_time(card_run(90.0, Accelerate(0.1, duration_s=60.0)), "card.heading", 59.0),
    "gimbal-30": lambda: greatest_gimballing(30.0),
    "gimbal-45": lambda: greatest_gimballing(45.0),
    "gimbal-30-20": lambda: greatest_gimballing(30.0, 20.0),
    "creep-52": lambda: creep(52.0),
    "creep-43-50": lambda: abs(creep(43.0 + 50.0 / 60.0)) / 60.0,
    "creep-nut": lambda: creep(52.0, Gyro(nut_latitude_deg=52.0)),
    "transport-60": transport_rate,
    "great-circle": great_circle_error,
    "euler-52": free_wander,
    "hangoff-dz0": lambda: hang_off(Loop(dead_zone_deg=0.0)),
    "hangoff-dz": lambda: hang_off(Loop()),
    "textbook-30": lambda: textbook_null_s(3.0) / 60.0,
    "textbook-fast": lambda: textbook_null_s(60.0),
    "align-slow-2": lambda: aligned_s(2.0),
    "align-slow-05": lambda: aligned_s(0.5),
    "false-null": false_null_s,
    "orbit-time": lambda: measured(orbit(0.0), "actual.turn_duration", "s"),
    "orbit-N": lambda: measured(orbit(0.0), "slaved.peak_error"),
    "orbit-N-end": lambda: measured(orbit(0.0), "slaved.end_error"),
    "orbit-E": lambda: measured(orbit(90.0), "slaved.peak_error"),
    "orbit-detector": lambda: measured(orbit(0.0), "detector.peak_error"),
    "kappa-pwl": lambda: greatest_kappa(piecewise_core, math.sqrt(2.0)),
    "kappa-tanh": lambda: greatest_kappa(tanh_core, 1.93),
    "kappa-arctan": lambda: greatest_kappa(arctan_core, 1.40),
    "detector-frequency": output_frequency,
    "leg-gain": lambda: two_cycle(decoding_errors((1.01, 1.0, 1.0))),
    "leg-dead": lambda: float(np.max(np.abs(decoding_errors((0.0, 1.0, 1.0))))),
    "tvmdc-1": true_to_compass,
    "tvmdc-2": compass_to_true,
    "rate-one-100": lambda: bank(100.0),
    "rate-one-120": lambda: bank(120.0),
}
"""What to compute, in the row's own unit; what the table gives without a sign is computed without one."""

OTHER_MODELS: dict[str, str] = {
    "deviation-limit": "a limit of the rules, held by the swing",
    "swing-p226": "the eight-heading coefficients of a swing",
    "swing-tm": "the coefficients of a compensating swing",
    "a429-90": "what listens to the heading: ARINC 429",
    "nmea-checksum": "what listens to the heading: NMEA 0183",
}
"""Rows of models that are not in this version, and what they belong to."""
