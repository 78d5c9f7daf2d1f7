"""What must hold for any flight: mirror images, cutting, sampling, threads, tolerance, ranges."""

from __future__ import annotations

import concurrent.futures
import dataclasses
import itertools
import math

import numpy as np
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from tests.outside.recording import Tell, tell
from tests.systems.flights_drawn import ERRORS, SETUPS, SHOWN, apart_deg, furthest, mirrored, numbers

from gyrochalk.systems.actions import SetNut
from gyrochalk.systems.effects import FULL, TEXTBOOK
from gyrochalk.systems.instruments import Gyro, Loop
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import Accelerate, FlightPlan, Hold, Stand, Turn
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate

TOLERANCE_DEG = 0.01
"""The tolerance every run here is asked for, and the default: greatest error of any indicated heading."""
SAME_DEG = TOLERANCE_DEG / 2.0
"""How far runs may differ that solve the same equations by other steps: half the tolerance."""

few = settings(
    max_examples=12,
    derandomize=True,
    database=None,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)


def hovering(bank_deg: float, heading_deg: float, by_deg: float) -> Setup:
    """A turn in which card and detector hover at dip 67: beyond 23° of bank the card turns over."""
    plan = FlightPlan((Hold(10.0), Turn(by_deg=by_deg, bank_deg=bank_deg), Hold(60.0)), heading_deg=heading_deg)
    return Setup(Place(52.0, 0.0), plan, StatedField(19.0, 67.0), sample_interval_s=1.0)


HOVERING = [
    hovering(bank, heading, by)
    for bank, heading, by in itertools.product((20.0, 23.0, 26.0, 30.0, 35.0), (0.0, 90.0, 215.0), (360.0, -270.0))
]


class Worst:
    """The greatest number seen over the examples of a property."""

    def __init__(self) -> None:
        self.value = 0.0

    def see(self, value: float) -> float:
        """Note a number and give it back."""
        self.value = max(self.value, value)
        return value


def test_mirroring_the_hemisphere_mirrors_every_error(record_property: Tell) -> None:
    """North and south exchanged: latitude, dip, variation, turns, iron, drift. Earth rate and all effects on."""
    worst = Worst()

    @few
    @given(SETUPS)
    def property_holds(setup: Setup) -> None:
        north, south = simulate(setup), simulate(mirrored(setup, south=True))
        for name in ERRORS:
            assert worst.see(apart_deg(north[name].values, -south[name].values)) <= SAME_DEG, name

    property_holds()
    tell(record_property, "mirrored hemisphere mirrors every error", worst.value, SAME_DEG, "deg", "symmetry")


def test_mirroring_east_and_west_mirrors_every_error(record_property: Tell) -> None:
    """East and west exchanged. The Earth turns one way, so its rate and Coriolis are off here."""
    worst = Worst()

    @few
    @given(SETUPS)
    def property_holds(setup: Setup) -> None:
        still = dataclasses.replace(setup, effects=FULL - {"earth rate", "coriolis"})
        right, left = simulate(still), simulate(mirrored(still, south=False))
        for name in ERRORS:
            assert worst.see(apart_deg(right[name].values, -left[name].values)) <= SAME_DEG, name

    property_holds()
    tell(record_property, "mirrored east and west mirrors every error", worst.value, SAME_DEG, "deg", "symmetry")


@few
@given(numbers(-88.0, 88.0), numbers(0.0, 359.0))
@example(0.0, 0.0)
def test_apparent_wander_is_odd_in_latitude(latitude_deg: float, heading_deg: float) -> None:
    """At rest for ten minutes: 15.041 sin φ °/h, the reading falling in the north, rising in the south."""

    def wander(latitude: float) -> float:
        plan = FlightPlan((Stand(600.0),), heading_deg=heading_deg, tas_kt=0.0)
        setup = Setup(Place(latitude, 0.0), plan, StatedField(20.0, 0.0), sample_interval_s=600.0, tolerance_deg=1e-5)
        return float(simulate(setup)["gyro.error"].values[-1])

    here = wander(latitude_deg)
    assert here == pytest.approx(-wander(-latitude_deg), abs=1e-5)
    assert here == pytest.approx(-15.041 / 6.0 * math.sin(math.radians(latitude_deg)), abs=2e-3)


def cut(plan: FlightPlan) -> FlightPlan:
    """The same flight with every straight and accelerating leg in three parts."""
    legs: list[object] = []
    for leg in plan.legs:
        if isinstance(leg, (Hold, Accelerate)) and leg.duration_s is not None:
            parts = [dataclasses.replace(leg, duration_s=leg.duration_s * share) for share in (0.2, 0.5, 0.3)]
            legs.extend(parts)
        else:
            legs.append(leg)
    return dataclasses.replace(plan, legs=tuple(legs))  # type: ignore[arg-type]


def test_a_flight_cut_into_more_legs_gives_the_same_headings(record_property: Tell) -> None:
    """Legs in three parts, and besides idle actions that interrupt turns and climbs at odd moments."""
    worst = Worst()

    @few
    @given(SETUPS)
    def property_holds(setup: Setup) -> None:
        assert isinstance(setup.flight, FlightPlan)
        whole = simulate(setup)
        moments = np.linspace(0.037, 0.94, 9) * float(whole.time_s[-1])
        idle = tuple(SetNut(float(t), None) for t in moments)
        pieces = simulate(dataclasses.replace(setup, flight=cut(setup.flight), actions=idle))
        np.testing.assert_allclose(whole.time_s, pieces.time_s, rtol=0.0, atol=1e-9)
        assert worst.see(furthest(whole, pieces)) <= SAME_DEG

    property_holds()
    tell(record_property, "a flight cut into more legs", worst.value, SAME_DEG, "deg", "symmetry")


@few
@given(SETUPS)
def test_other_sample_times_give_the_same_numbers(setup: Setup) -> None:
    """Samples are read off the solution and take no part in it: exactly the same, bit for bit."""
    coarse = simulate(setup)
    fine = simulate(dataclasses.replace(setup, sample_interval_s=0.25))
    whole = len(coarse.time_s) - 1
    for name in (*SHOWN, "slaved.correction", "card.tilt", "gyro.tilt"):
        np.testing.assert_array_equal(coarse[name].values[:whole], fine[name].values[: 4 * whole : 4])
    assert coarse.provenance.steps_taken == fine.provenance.steps_taken


def test_four_threads_give_the_same_numbers_as_one() -> None:
    """Flights flown at once in four threads share nothing."""
    setups = [*HOVERING[:8], hovering(15.0, 40.0, 200.0)]
    alone = [simulate(setup) for setup in setups]
    with concurrent.futures.ThreadPoolExecutor(4) as pool:
        together = list(pool.map(simulate, setups * 2))
    for one, other in zip(alone * 2, together, strict=True):
        for name, column in one.columns.items():
            np.testing.assert_array_equal(column.values, other[name].values)


def halved(setup: Setup) -> float:
    """How far halving the tolerance moves any heading shown, at any sample (greatest over all) [deg]."""
    coarse = dataclasses.replace(setup, tolerance_deg=TOLERANCE_DEG)
    return furthest(simulate(coarse), simulate(dataclasses.replace(coarse, tolerance_deg=TOLERANCE_DEG / 2.0)))


def test_halving_the_tolerance_moves_headings_by_no_more_than_it(record_property: Tell) -> None:
    """Greatest difference of the four headings over all samples, against the tolerance itself: drawn flights."""
    worst = Worst()

    @few
    @given(SETUPS)
    def property_holds(setup: Setup) -> None:
        assert worst.see(halved(setup)) <= TOLERANCE_DEG

    property_holds()
    tell(record_property, "tolerance halved, drawn flights", worst.value, TOLERANCE_DEG, "deg", "convergence")


def test_halving_the_tolerance_where_the_card_turns_over(record_property: Tell) -> None:
    """The same in banks of 20 to 35° at dip 67, where card and detector hover and the card turns over."""
    worst = max(halved(setup) for setup in HOVERING)
    tell(record_property, "tolerance halved, hovering banks", worst, TOLERANCE_DEG, "deg", "convergence")
    assert worst <= TOLERANCE_DEG


def test_the_tolerance_is_kept_against_a_far_finer_run(record_property: Tell) -> None:
    """At the tolerance asked for, headings are within it of a run a thousand times finer, hovering included."""
    worst = 0.0
    for setup in HOVERING[::4]:
        fine = dataclasses.replace(setup, tolerance_deg=TOLERANCE_DEG / 1000.0)
        worst = max(worst, furthest(simulate(setup), simulate(fine)))
    tell(record_property, "tolerance kept, hovering banks", worst, TOLERANCE_DEG, "deg", "a run a thousand times finer")
    assert worst <= TOLERANCE_DEG


@few
@given(SETUPS, st.booleans())
def test_indicated_headings_lie_in_0_to_360(setup: Setup, around_north: bool) -> None:
    """Whatever is flown; also straight along north, where rounding falls on either side."""
    plan = setup.flight
    assert isinstance(plan, FlightPlan)
    if around_north:
        plan = dataclasses.replace(plan, heading_deg=0.0, legs=(Hold(20.0), *plan.legs))
    run = simulate(dataclasses.replace(setup, flight=plan))
    for name in (*SHOWN, "actual.heading", "actual.heading_true", "actual.track"):
        assert np.all(run[name].values >= 0.0), name
        assert np.all(run[name].values < 360.0), name
    for name in ERRORS:
        assert np.all(run[name].values >= -180.0), name
        assert np.all(run[name].values < 180.0), name


def textbook(flight: FlightPlan, start_error_deg: float = 0.0, rate_deg_min: float = 3.0) -> Setup:
    """The first explanation in class: a level detector, the plain loop."""
    return Setup(
        Place(52.0, 0.0),
        flight,
        StatedField(19.0, 67.0),
        slaved_gyro=Gyro(start_error_deg=start_error_deg),
        loop=Loop(slow_rate_deg_min=rate_deg_min, automatic="never"),
        loop_law="textbook",
        effects=TEXTBOOK,
        sample_interval_s=1.0,
    )


@few
@given(numbers(1.0, 175.0), numbers(0.5, 60.0))
@example(90.0, 3.0)
@example(90.0, 60.0)
def test_textbook_loop_takes_angle_over_rate(error_deg: float, rate_deg_min: float) -> None:
    """90° at 3 °/min take 30.0 min (common practice): any angle takes angle over rate, and the card then stays."""
    expected_s = error_deg / rate_deg_min * 60.0
    run = simulate(textbook(FlightPlan((Stand(expected_s + 60.0),), tas_kt=0.0), error_deg, rate_deg_min))
    left = np.abs(run["slaved.difference"].values)
    before = run.time_s < expected_s - 1.0
    np.testing.assert_allclose(
        left[before], error_deg - rate_deg_min / 60.0 * run.time_s[before], rtol=0.0, atol=TOLERANCE_DEG
    )
    assert float(np.max(left[run.time_s > expected_s + 1.0])) < 0.001


def test_textbook_ninety_degrees_at_three_a_minute_take_thirty_minutes(record_property: Tell) -> None:
    """Common practice. The null is reached when the difference is no more than half the law's core, 0.0005°."""
    setup = textbook(FlightPlan((Stand(1860.0),), tas_kt=0.0), 90.0)
    run = simulate(dataclasses.replace(setup, sample_interval_s=0.02))
    left = np.abs(run["slaved.difference"].values)
    null_s = float(run.time_s[np.argmax(left <= 0.0005)])
    tell(
        record_property,
        "textbook: 90° at 3 °/min less 30.0 min",
        abs(null_s / 60.0 - 30.0),
        0.001,
        "min",
        "common practice",
    )
    assert null_s / 60.0 == pytest.approx(30.0, abs=0.001)


def test_textbook_turn_gives_no_error_signal(record_property: Tell) -> None:
    """With the detector kept level a circle leaves detector and card right all the way; Full leaves tens of degrees."""
    plan = FlightPlan((Hold(10.0), Turn(by_deg=360.0), Hold(10.0)), heading_deg=30.0)
    run = simulate(textbook(plan))
    worst = max(float(np.max(np.abs(run[name].values))) for name in ("detector.error", "slaved.difference"))
    tell(record_property, "textbook: error signal in a circle", worst, 0.001, "deg", "common practice")
    assert worst <= 0.001
    full = simulate(Setup(Place(52.0, 0.0), plan, StatedField(19.0, 67.0)))
    assert float(np.max(np.abs(full["detector.error"].values))) > 30.0


WALKING = Gyro(random_walk_deg_sqrt_h=3.0, levelling="ideal")


def walking(seed: int, *, duration_s: float = 1200.0, tolerance_deg: float = 0.01, interval_s: float = 60.0) -> Setup:
    """A gyro at rest that only walks at random."""
    return Setup(
        Place(0.0, 0.0),
        FlightPlan((Stand(duration_s),), tas_kt=0.0),
        StatedField(30.0, 0.0),
        gyro=WALKING,
        slaved_gyro=WALKING,
        loop=Loop(slaved=False),
        effects=frozenset({"noise", "levelling"}),
        seed=seed,
        sample_interval_s=interval_s,
        tolerance_deg=tolerance_deg,
    )


def test_noise_is_the_same_for_the_same_seed_whatever_the_steps() -> None:
    base = simulate(walking(5))
    np.testing.assert_array_equal(base["gyro.error"].values, simulate(walking(5))["gyro.error"].values)
    finer = simulate(walking(5, tolerance_deg=1e-4))
    assert apart_deg(base["gyro.error"].values, finer["gyro.error"].values) <= TOLERANCE_DEG
    sampled = simulate(walking(5, interval_s=10.0))
    np.testing.assert_array_equal(base["gyro.error"].values, sampled["gyro.error"].values[::6])
    steps = base.provenance.steps_taken + base.provenance.steps_rejected
    assert steps < 20 * 20, "more than twenty tries a minute for three instruments: noise sets the step"


def test_seeds_and_the_two_gyros_walk_their_own_ways() -> None:
    ends = [simulate(walking(seed)) for seed in range(6)]
    found = [float(run[name].values[-1]) for run in ends for name in ("gyro.error", "slaved.error")]
    assert len({round(end, 3) for end in found}) == len(found)


def test_random_walk_spreads_as_its_parameter_says(record_property: Tell) -> None:
    """200 seeds after an hour: 3 °/√h within three standard errors, 1/√400 each."""
    ends = []
    for seed in range(200):
        run = simulate(walking(seed, duration_s=3600.0, interval_s=3600.0))
        ends.append(float(run["gyro.error"].values[-1]))
    spread = float(np.std(ends)) / 3.0
    tell(record_property, "random walk after 1 h over its parameter, less 1", abs(spread - 1.0), 0.15, "1", "sampling")
    assert spread == pytest.approx(1.0, abs=0.15)
