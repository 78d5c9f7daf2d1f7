"""What the models accept: every value of a setup outside its range, all at once."""

from __future__ import annotations

import math

from gyrochalk.errors import Problem, ProblemList
from gyrochalk.systems.actions import DETECTOR_FAULTS, DetectorFault
from gyrochalk.systems.effects import EFFECTS
from gyrochalk.systems.event_ranges import event_ranges
from gyrochalk.systems.flight_ranges import Range, flight_ranges
from gyrochalk.systems.instruments import Magnetism
from gyrochalk.systems.places import StatedField
from gyrochalk.systems.plans import FlightPlan
from gyrochalk.systems.setup import Setup


def instrument_ranges(setup: Setup) -> list[Range]:
    """Limits of the instruments' parameters."""
    compass, detector, loop = setup.compass, setup.detector, setup.loop
    rows: list[Range] = [
        ("compass moment", compass.moment_a_m2, "A m2", 1e-3, 10.0),
        ("compass period", compass.period_s, "s", 0.5, 60.0),
        ("compass damping", compass.damping, "1", 0.01, 5.0),
        ("compass residual tilt", compass.residual_tilt_deg, "deg", 0.05, 20.0),
        ("compass reference field", compass.reference_field_ut, "uT", 1.0, 70.0),
        ("compass reference dip", compass.reference_dip_deg, "deg", 1.0, 89.0),
        ("compass tilt inertia ratio", compass.tilt_inertia_ratio, "1", 0.5, 2.0),
        ("compass tilt damping", compass.tilt_damping, "1", 0.01, 5.0),
        ("compass fluid time", compass.fluid_time_s, "s", 0.1, 600.0),
        ("compass friction", compass.friction_deg, "deg", 0.0, 10.0),
        ("compass friction speed", compass.friction_speed_deg_s, "deg/s", 0.05, 50.0),
        ("compass tilt stop", compass.tilt_stop_deg, "deg", 1.0, 89.0),
        ("detector period", detector.period_s, "s", 0.1, 20.0),
        ("detector damping", detector.damping, "1", 0.01, 5.0),
        ("detector freedom", detector.freedom_deg, "deg", 0.0, 60.0),
        ("slow rate", loop.slow_rate_deg_min, "deg/min", 0.01, 600.0),
        ("fast rate", loop.fast_rate_deg_min, "deg/min", 0.01, 6000.0),
        ("hold-down rate", loop.hold_rate_deg_min, "deg/min", 0.01, 6000.0),
        ("band", loop.band_deg, "deg", 0.05, 45.0),
        ("hold-down band", loop.hold_band_deg, "deg", 0.05, 60.0),
        ("dead zone", loop.dead_zone_deg, "deg", 0.0, 0.99 * min(loop.band_deg, loop.hold_band_deg)),
        ("lag", loop.lag_s, "s", 0.0, 60.0),
        ("loop reference field", loop.reference_field_ut, "uT", 1.0, 70.0),
        ("large error", loop.large_error_deg, "deg", 0.01, 180.0),
        ("settled error", loop.settled_deg, "deg", 0.001, loop.large_error_deg),
        ("indicator time", loop.indicator_time_s, "s", 0.05, 60.0),
        ("tolerance", setup.tolerance_deg, "deg", 1e-8, 1.0),
        ("compass start offset", compass.start_offset_deg, "deg", -180.0, 180.0),
    ]
    rows += [("leg gain", gain, "1", -10.0, 10.0) for gain in detector.leg_gains]
    if setup.sample_interval_s is not None:
        rows.append(("time between samples", setup.sample_interval_s, "s", 0.01, 3600.0))
    if loop.cut_off_deg_s is not None:
        rows.append(("cut-off", loop.cut_off_deg_s, "deg/s", 0.001, 30.0))
    rows += magnetism_ranges("compass", compass.magnetism) + magnetism_ranges("detector", detector.magnetism)
    for name, gyro in (("unslaved gyro", setup.gyro), ("slaved gyro", setup.slaved_gyro)):
        rows += [
            (f"{name} drift", gyro.drift_deg_h, "deg/h", -1000.0, 1000.0),
            (f"{name} random walk", gyro.random_walk_deg_sqrt_h, "deg/√h", 0.0, 100.0),
            (f"{name} levelling rate", gyro.levelling_rate_deg_min, "deg/min", 0.0, 120.0),
            (f"{name} levelling band", gyro.levelling_band_deg, "deg", 0.01, 30.0),
            (f"{name} stop", gyro.stop_deg, "deg", 10.0, 89.0),
            (f"{name} start tilt", gyro.start_tilt_deg, "deg", -gyro.stop_deg, gyro.stop_deg),
            (f"{name} start error", gyro.start_error_deg, "deg", -360.0, 360.0),
            (f"{name} spin axis's bearing", gyro.spin_bearing_true_deg, "deg", -720.0, 720.0),
            (f"{name} run-up", gyro.run_up_s, "s", 1.0, 3600.0),
            (f"{name} run-down", gyro.run_down_s, "s", 1.0, 7200.0),
        ]
        if gyro.nut_latitude_deg is not None:
            rows.append((f"{name} nut", gyro.nut_latitude_deg, "deg", -90.0, 90.0))
    return rows


def place_ranges(setup: Setup) -> list[Range]:
    """Limits of place, field and flight."""
    place = setup.place
    rows: list[Range] = [
        ("latitude", place.latitude_deg, "deg", -89.5, 89.5),
        ("longitude", place.longitude_deg, "deg", -180.0, 180.0),
        ("height", place.height_ft, "ft", -1500.0, 60_000.0),
    ]
    if isinstance(setup.field, StatedField):
        rows += [
            ("horizontal field", setup.field.horizontal_ut, "uT", 0.1, 70.0),
            ("dip", setup.field.dip_deg, "deg", -89.9, 89.9),
            ("variation", setup.field.variation_deg, "deg", -180.0, 180.0),
        ]
    if isinstance(setup.flight, FlightPlan):
        rows += flight_ranges(setup.flight)
    return rows


def magnetism_ranges(name: str, magnetism: Magnetism) -> list[Range]:
    """Limits of the iron at one mounting place, called `name`."""
    rows: list[Range] = [(f"{name} hard iron", value, "uT", -1000.0, 1000.0) for value in magnetism.hard_ut]
    rows += [(f"{name} soft iron", value, "1", -10.0, 10.0) for row in magnetism.soft for value in row]
    for load, vector in magnetism.loads_ut:
        rows += [(f"{name} field of {load}", value, "uT", -1000.0, 1000.0) for value in vector]
    return rows


def refuse_out_of_range(setup: Setup) -> None:
    """Raise `MaterialError` with every value outside its range (code out-of-range) every unknown effect and fault."""
    problems = ProblemList()
    for name, value, unit, least, greatest in [*place_ranges(setup), *instrument_ranges(setup), *event_ranges(setup)]:
        if not (math.isfinite(value) and least <= value <= greatest):
            written = "" if unit == "1" else f" {unit}"
            problems.add(
                Problem(
                    "out-of-range",
                    f"{name} is {value:g}{written}",
                    f"allowed is {least:g} to {greatest:g}{written}",
                    "choose a value in that range",
                )
            )
    for effect in sorted(setup.effects - frozenset(EFFECTS)):
        problems.add(
            Problem(
                "choice-unknown",
                f"there is no effect {effect!r}",
                f"effects are {', '.join(EFFECTS)}",
                "correct its name",
            )
        )
    for fault in setup.faults:
        if isinstance(fault, DetectorFault) and fault.kind not in DETECTOR_FAULTS:
            problems.add(
                Problem(
                    "choice-unknown",
                    f"there is no detector fault {fault.kind!r}",
                    f"faults are {', '.join(DETECTOR_FAULTS)}",
                    "correct its name",
                )
            )
    problems.refuse_if_any()
