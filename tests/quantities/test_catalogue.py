"""The ready-made measures."""

from __future__ import annotations

import numpy as np
import pytest

from gyrochalk.quantities import CHANNELS, declare, evaluate, measures_for
from gyrochalk.quantities.catalogue import needed_channels
from gyrochalk.quantities.measure import REDUCERS
from gyrochalk.quantities.results import result_unit, same_dimension
from gyrochalk.units import UNITS
from tests.quantities.sample_run import make_run

READY = measures_for(CHANNELS)


def test_names_say_the_instrument() -> None:
    parts = {name.split(".")[0] for name in READY}
    assert parts == {"card", "gyro", "detector", "slaved", "actual", "field"}
    assert all(measure.name == name for name, measure in READY.items())


@pytest.mark.parametrize("name", ["slaved.peak_error", "gyro.drift_rate", "detector.peak_error", "card.peak_error"])
def test_the_measures_lessons_are_written_with(name: str) -> None:
    assert name in READY


@pytest.mark.parametrize("measure", READY.values(), ids=READY)
def test_every_ready_made_measure_makes_sense(measure: object) -> None:
    found = next(known for known in READY.values() if known is measure)
    unit = result_unit(found.reducer, CHANNELS[found.channel].unit)
    assert unit is not None
    assert same_dimension(unit, found.unit)
    assert found.unit in UNITS
    assert CHANNELS[found.channel].north is None or REDUCERS[found.reducer].headings
    assert found.description
    assert not found.description.endswith(".")


def test_only_what_can_be_measured_is_offered() -> None:
    run = make_run([0.0, 1.0], {"gyro.error": [0.0, 1.0]})
    offered = measures_for(run)
    assert "gyro.peak_error" in offered
    assert "gyro.error_passing_north" not in offered
    assert all(needed_channels(measure) <= {"time", "gyro.error"} for measure in offered.values())


def test_alignment_is_to_the_detector_and_one_degree() -> None:
    time_s = np.arange(0.0, 1801.0)
    difference = 90.0 - 3.0 / 60.0 * time_s
    run = make_run(time_s, {"slaved.difference": difference, "slaved.error": np.full_like(time_s, 7.0)})
    assert evaluate(run, measures_for(run)["slaved.time_to_align"]).number == pytest.approx(89.0 / 3.0 * 60.0)
    assert evaluate(run, measures_for(run)["slaved.time_to_null"]).number == pytest.approx(1800.0, abs=0.03)
    assert declare("m", {"channel": "slaved.difference", "reducer": "first below", "bound": "1 deg"}).bound == 1.0


def test_sizes_are_unsigned_and_ends_are_signed() -> None:
    run = make_run([0.0, 1.0, 2.0], {"slaved.error": [0.0, -3.0, -2.0]})
    ready = measures_for(run)
    assert evaluate(run, ready["slaved.peak_error"]).number == 3.0
    assert evaluate(run, ready["slaved.end_error"]).number == -2.0
    assert ready["slaved.peak_error"].unsigned
    assert not ready["slaved.end_error"].unsigned


def test_a_wander_of_twelve_degrees_an_hour() -> None:
    time_s = np.arange(0.0, 601.0)
    run = make_run(time_s, {"gyro.error": -12.0 * time_s / 3600.0})
    value = evaluate(run, measures_for(run)["gyro.drift_rate"])
    assert (value.unit, value.text(1)) == ("deg/h", "−12.0 °/h")
