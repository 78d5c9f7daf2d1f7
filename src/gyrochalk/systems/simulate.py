"""Fly a setup: lay out the flight, tabulate the route, fly each instrument, record what they show."""

from __future__ import annotations

import dataclasses
import functools
import math

import numpy as np
from numpy.typing import NDArray

import gyrochalk
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.physics import readings
from gyrochalk.physics.advance import DONE, J_REJECTED, J_TAKEN
from gyrochalk.physics.card_flight import fly_card
from gyrochalk.physics.flown import EVENT_FAST_ENDS, EVENT_FAST_STARTS, EVENT_TOPPLED, Flown
from gyrochalk.physics.gyro_flight import fly_gyro
from gyrochalk.physics.slaved import Slaved
from gyrochalk.physics.slaved_flight import fly_slaved
from gyrochalk.physics.world import LEG_START, World
from gyrochalk.systems.constants import card_of, gimbals_of, pendulum_of, slaving_of
from gyrochalk.systems.flightpath import Path, lay_out
from gyrochalk.systems.geomagnetism import MagneticModel, field_at_point, model_for
from gyrochalk.systems.instruments import Gyro
from gyrochalk.systems.places import StatedField
from gyrochalk.systems.plans import FlightPlan
from gyrochalk.systems.ranges import refuse_out_of_range
from gyrochalk.systems.recorded_path import RecordedPath, recorded_path
from gyrochalk.systems.recording import Columns, aligned_event, vertical_events
from gyrochalk.systems.route import Route, legs_at, planned_route, route_table
from gyrochalk.systems.run import Event, Provenance, Run, Span
from gyrochalk.systems.scales import FT_M, KT_M_S
from gyrochalk.systems.schedule import Schedule, schedule
from gyrochalk.systems.setup import Setup

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

FINE_SAMPLES_UP_TO_S = 1800.0
LONGEST_STEP_S = 60.0
LONGEST_RECORDED_STEP_S = 2.0
CAUTION_UT = 6.0
UNUSABLE_UT = 2.0


@dataclasses.dataclass(frozen=True)
class Flight:
    """A flight ready to be flown: its path, route, the kernels' world, and the model of its field."""

    path: Path
    route: Route
    world: World
    model: MagneticModel | StatedField
    airspeed: RecordedPath | None
    wind: tuple[float, float]


def field_model(setup: Setup) -> MagneticModel | StatedField:
    """The field a setup asks for. Raises `MaterialError` field-date."""
    return setup.field if isinstance(setup.field, StatedField) else model_for(setup.field.date)


def variation_deg(model: MagneticModel | StatedField, latitude: float, longitude: float, height_ft: float) -> float:
    """Variation [deg] of a field at a place [deg, deg, ft]."""
    if isinstance(model, StatedField):
        return model.variation_deg
    wrapped = (longitude + 180.0) % 360.0 - 180.0
    north, east, _ = field_at_point(model, latitude, wrapped, height_ft * FT_M / 1000.0)
    return math.degrees(math.atan2(east, north))


def prepare(setup: Setup) -> Flight:
    """Lay out the flight of a setup and tabulate its route."""
    model = field_model(setup)
    place, ellipsoid = setup.place, setup.earth == "WGS-84"
    if isinstance(setup.flight, FlightPlan):
        variation = functools.partial(variation_deg, model)
        path = lay_out(setup.flight, place.latitude_deg, place.longitude_deg, place.height_ft, variation)
        route = planned_route(path, place.latitude_deg, place.longitude_deg, place.height_ft, model, ellipsoid)
        towards = math.radians(setup.flight.wind_from_deg) + math.pi
        speed = setup.flight.wind_kt * KT_M_S
        wind, recorded = (speed * math.cos(towards), speed * math.sin(towards)), None
    else:
        recorded = recorded_path(setup.flight, model)
        path, route, wind = recorded.path, recorded.route, (0.0, 0.0)
    table, step = route_table(route)
    on = setup.effects
    switches = (float("earth rate" in on), float("transport" in on), float("coriolis" in on), float(ellipsoid))
    world = World(path.rows, path.knots, path.polynomials, table, step, *switches)
    return Flight(path, route, world, model, recorded, wind)


def sample_times(setup: Setup, duration_s: float) -> Floats:
    """Evenly spaced sample times [s] from 0, and the last instant."""
    step = setup.sample_interval_s or (0.1 if duration_s <= FINE_SAMPLES_UP_TO_S else 1.0)
    times = np.arange(0, math.floor(duration_s / step + 1e-9) + 1) * step
    if duration_s - times[-1] > 1e-6:
        times = np.append(times, duration_s)
    else:
        times[-1] = duration_s
    return np.asarray(times, dtype=np.float64)


def cut_off_spans(setup: Setup, flight: Flight) -> list[tuple[float, float]]:
    """Spans [s] in which the turn rate exceeds the loop's cut-off."""
    limit = setup.loop.cut_off_deg_s
    if limit is None:
        return []
    times = np.arange(0.0, flight.path.duration_s, 0.05)
    motion = readings.read_motion(times, legs_at(flight.path, times), flight.world)
    excess = np.abs(np.degrees(motion[:, 3])) - limit
    above = np.concatenate([[False], excess > 0.0, [False]])
    edges = np.flatnonzero(np.diff(above.astype(int)))
    moments = []
    for k in edges:
        if k == 0 or k >= len(times):
            moments.append(0.0 if k == 0 else flight.path.duration_s)
        else:
            moments.append(float(times[k - 1] + 0.05 * excess[k - 1] / (excess[k - 1] - excess[k])))
    return list(zip(moments[::2], moments[1::2], strict=True))


def stopped(instrument: str, flown: Flown, setup: Setup) -> MaterialError:
    """The refusal of a run whose integration could not go on."""
    return MaterialError(
        Problem(
            "simulation-stopped",
            f"the {instrument} could not be followed beyond {flown[3]:.1f} s of the flight",
            f"steps must stay longer than a nanosecond at a tolerance of {setup.tolerance_deg:g} deg",
            f"look at the values of the {instrument}, or at the flight near that time",
        )
    )


class Flying:
    """One setup being flown."""

    def __init__(self, setup: Setup) -> None:
        """Prepare everything that does not depend on the instruments."""
        self.setup = setup
        self.flight = prepare(setup)
        self.duration_s = self.flight.path.duration_s
        self.times = sample_times(setup, self.duration_s)
        self.longest_s = LONGEST_STEP_S if self.flight.airspeed is None else LONGEST_RECORDED_STEP_S
        self.tolerance = math.radians(setup.tolerance_deg)
        self.card = card_of(setup.compass, setup.effects)
        self.steps = [0, 0]

    def plan(self) -> Schedule:
        """The schedule of settings."""
        corners = self.flight.path.rows[:, LEG_START]
        cut_offs = cut_off_spans(self.setup, self.flight)
        return schedule(self.setup, self.duration_s, corners, cut_offs, self.compass_reading)

    def compass_reading(self, at_s: float) -> float:
        """What the direct compass shows [rad] at one time [s], for setting a gyro by it."""
        before = dataclasses.replace(
            self.setup, actions=tuple(a for a in self.setup.actions if type(a).__name__ == "SwitchLoad")
        )
        plan = schedule(before, self.duration_s, self.flight.path.rows[:, LEG_START], [], lambda _: math.nan)
        moment = np.array([at_s])
        states = self.fly_card(plan, moment)
        return float(readings.read_card(moment, legs_at(self.flight.path, moment), states, self.flight.world)[0, 0])

    def interval_legs(self, plan: Schedule) -> Ints:
        """The piece of the flight in which each interval lies."""
        return legs_at(self.flight.path, plan.breaks[:-1] + 1e-9)

    def checked(self, instrument: str, flown: Flown) -> Flown:
        """Count a flight's steps; raise `MaterialError` if it stopped early."""
        if flown[2] != DONE:
            raise stopped(instrument, flown, self.setup)
        self.steps[0] += int(flown[4][J_TAKEN])
        self.steps[1] += int(flown[4][J_REJECTED])
        return flown

    def fly_card(self, plan: Schedule, times: Floats) -> Floats:
        """Fly the direct compass; its states at `times`."""
        offset = math.radians(self.setup.compass.start_offset_deg)
        flown = fly_card(
            self.flight.world, self.card, plan.breaks, self.interval_legs(plan), plan.settings, times,
            self.tolerance, self.longest_s, offset,
        )  # fmt: skip
        return self.checked("direct compass", flown)[0]

    def start_of(self, gyro: Gyro) -> tuple[float, float, float]:
        """A gyro's reading, spin bearing from the nose, and tilt at the start [rad]."""
        motion = readings.read_motion(np.zeros(1), np.zeros(1, np.int64), self.flight.world)[0]
        magnetic = motion[0] - math.atan2(motion[12], motion[11])
        bearing = math.radians(gyro.spin_bearing_true_deg) - motion[0]
        return magnetic + math.radians(gyro.start_error_deg), bearing, math.radians(gyro.start_tilt_deg)

    def fly_gyro(self, plan: Schedule) -> tuple[Floats, Floats]:
        """Fly the unslaved gyro: what it shows, its states; its log goes into the events."""
        setup, world = self.setup, self.flight.world
        gimbals = gimbals_of(setup.gyro, setup.effects, setup.seed, 1)
        flown = self.checked(
            "unslaved gyro",
            fly_gyro(
                world, gimbals, plan.breaks, self.interval_legs(plan), plan.settings, self.times, self.tolerance,
                self.longest_s, self.start_of(setup.gyro),
            ),
        )  # fmt: skip
        plan.events.extend(Event(float(t), "toppled", "unslaved gyro toppled") for t, _ in flown[1])
        return readings.read_gyro(self.times, self.legs, flown[0], world, gimbals), flown[0]

    def fly_slaved(self, plan: Schedule) -> tuple[Floats, Floats]:
        """Fly the detector and the slaved gyro: what they show, their states."""
        setup, world = self.setup, self.flight.world
        model = Slaved(
            world,
            pendulum_of(setup.detector, setup.effects),
            gimbals_of(setup.slaved_gyro, setup.effects, setup.seed, 2),
            slaving_of(setup.loop, setup.loop_law),
        )
        hanging = readings.hanging_at_start(world, model.pendulum)
        flown = self.checked(
            "slaved compass",
            fly_slaved(
                model, plan.breaks, self.interval_legs(plan), plan.settings, self.times, self.tolerance,
                self.longest_s, self.start_of(setup.slaved_gyro), hanging,
            ),
        )  # fmt: skip
        plan.events.extend(fast_events(flown[1]))
        plan.spans.extend(fast_spans(flown[1], self.duration_s))
        intervals = np.clip(np.searchsorted(plan.breaks, self.times, side="left") - 1, 0, len(plan.settings) - 1)
        shown = readings.read_slaved(self.times, self.legs, intervals, plan.settings, flown[0], model)
        return shown, flown[0]

    def run(self) -> Run:
        """Fly everything and record it."""
        plan = self.plan()
        self.legs = self.interval_legs(plan)[
            np.clip(np.searchsorted(plan.breaks, self.times, side="left") - 1, 0, len(plan.settings) - 1)
        ]
        flight, columns = self.flight, Columns()
        motion = readings.read_motion(self.times, self.legs, flight.world)
        airspeed = None if flight.airspeed is None else flight.airspeed.airspeed_at(self.times)
        magnetic = columns.flight(motion, flight.wind, airspeed)
        route = flight.route
        columns.position(
            np.interp(self.times, route.time_s, route.longitude), np.interp(self.times, route.time_s, route.height_m)
        )
        states = self.fly_card(plan, self.times)
        columns.card(readings.read_card(self.times, self.legs, states, flight.world), magnetic)
        shown, spin = self.fly_gyro(plan)
        columns.gyro(shown, spin[:, 4], magnetic)
        shown, spin = self.fly_slaved(plan)
        columns.slaved(shown, spin, magnetic)
        events = [*flight.path.events, *plan.events]
        events += aligned_event(self.times, columns.found["slaved.difference"].values)
        events += vertical_events(self.times, columns.found["actual.load"].values)
        spans = sorted([*flight.path.spans, *plan.spans, *free_spans(self.times, spin[:, 10])], key=lambda s: s.start_s)
        return Run(
            self.times,
            columns.found,
            tuple(sorted(events, key=lambda event: event.time_s)),
            tuple(spans),
            self.provenance(columns, events),
        )

    def provenance(self, columns: Columns, events: list[Event]) -> Provenance:
        """Model, date, version, effort and warnings."""
        model = self.flight.model
        stated = isinstance(model, StatedField)
        warnings = field_warnings(columns.found["field.horizontal"].values, self.times)
        warnings += [f"at {e.time_s:.1f} s: {e.text}" for e in events if e.kind in ("toppled", "no vertical")]
        return Provenance(
            "stated field" if isinstance(model, StatedField) else model.name,
            "" if stated or isinstance(self.setup.field, StatedField) else self.setup.field.date.isoformat(),
            gyrochalk.__version__,
            self.setup.tolerance_deg,
            self.steps[0],
            self.steps[1],
            tuple(warnings),
        )


def fast_events(log: Floats) -> list[Event]:
    """Events of the slaved compass's log."""
    words = {
        EVENT_TOPPLED: ("toppled", "slaved gyro toppled"),
        EVENT_FAST_STARTS: ("fast starts", "fast alignment starts"),
        EVENT_FAST_ENDS: ("fast ends", "fast alignment ends"),
    }
    return [Event(float(time), *words[float(code)]) for time, code in log]


def fast_spans(log: Floats, duration_s: float) -> list[Span]:
    """Spans [s] of automatic fast alignment."""
    spans, start = [], None
    for time, code in log:
        if code == EVENT_FAST_STARTS:
            start = float(time)
        elif code == EVENT_FAST_ENDS and start is not None:
            spans.append(Span(start, float(time), "fast alignment", "fast alignment"))
            start = None
    if start is not None:
        spans.append(Span(start, duration_s, "fast alignment", "fast alignment"))
    return spans


def free_spans(time_s: Floats, mode: Floats) -> list[Span]:
    """Spans [s] in which the slaved compass is free."""
    free = np.concatenate([[False], mode == 0.0, [False]])
    edges = np.flatnonzero(np.diff(free.astype(int)))
    last = len(time_s) - 1
    return [
        Span(float(time_s[a]), float(time_s[min(b, last)]), "free", "free, not slaved")
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    ]


def field_warnings(horizontal_ut: Floats, time_s: Floats) -> list[str]:
    """Warnings where the horizontal field [µT] is weak, with the time [s] (limits from memory)."""
    least = int(np.argmin(horizontal_ut))
    value = float(horizontal_ut[least])
    if value >= CAUTION_UT:
        return []
    word = "unusable" if value < UNUSABLE_UT else "weak"
    return [f"at {time_s[least]:.0f} s: horizontal field {value:.1f} µT, {word} for a magnetic compass"]


def simulate(setup: Setup) -> Run:
    """Fly a setup and return the run.

    Raises `MaterialError`: out-of-range, flight-empty, flight-impossible, field-date, load-unknown, flight-gap,
    simulation-stopped (with the simulated time).
    """
    refuse_out_of_range(setup)
    return Flying(setup).run()
