"""The Earth-field view: its arrows and planes are the run's, and the field in the plane gives the known reading."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.figures import FigureOptions, draw
from gyrochalk.figures.readings import value_at
from gyrochalk.figures.tilted_plane import Plane, earth_view, field_from, in_plane
from gyrochalk.units import wrap_180
from tests.figures.loop_runs import circle, random_loop_run, silent, static_error
from tests.figures.read_back import only, parse, parts, points, turned, words, written


def random_instant(seed: int) -> float:
    """An instant of a random run that is no sample."""
    return float(random_loop_run(seed).time_s[-1] * np.random.default_rng(seed + 900).uniform())


@pytest.mark.parametrize("seed", range(50))
def test_detector_is_pulled_to_what_the_static_law_says(seed: int) -> None:
    run, time_s = random_loop_run(seed), random_instant(seed)
    sample = float(run.time_s[int(np.searchsorted(run.time_s, time_s)) - 1])
    view = earth_view(run, "detector", sample)
    assert abs(wrap_180(view.pulled_deg - view.reading_deg)) < 1e-6


@pytest.mark.parametrize("seed", range(50))
def test_planes_and_craft_are_turned_as_the_run_says(seed: int) -> None:
    run, time_s = random_loop_run(seed), random_instant(seed)
    root = parse(draw(run, FigureOptions(kind="earth", at=(time_s,))).svg)
    for part, channel, sign in (
        ("plane-behind", "card.tilt_bank", 1.0),
        ("plane-side", "card.tilt_pitch", -1.0),
        ("craft-behind", "actual.bank", 1.0),
        ("craft-side", "actual.pitch", -1.0),
    ):
        assert abs(sign * turned(only(root, part)) - value_at(run, channel, time_s)) < 0.01


@pytest.mark.parametrize("seed", range(50))
def test_field_arrow_has_the_direction_of_the_field(seed: int) -> None:
    run, time_s = random_loop_run(seed), random_instant(seed)
    root = parse(draw(run, FigureOptions(kind="earth", at=(time_s,))).svg)
    heading = math.radians(value_at(run, "actual.heading", time_s))
    level, dip = value_at(run, "field.horizontal", time_s), math.radians(value_at(run, "field.dip", time_s))
    for part, across in (("field-behind", -level * math.sin(heading)), ("field-side", level * math.cos(heading))):
        (x0, y0), (x1, y1) = points(only(root, part))
        assert math.atan2(x1 - x0, y1 - y0) == pytest.approx(math.atan2(across, level * math.tan(dip)), abs=0.002)


@pytest.mark.parametrize("seed", range(50))
def test_arrow_in_the_plane_points_at_the_reading_written(seed: int) -> None:
    run, time_s = random_loop_run(seed), random_instant(seed)
    options = FigureOptions(kind="earth", at=(time_s,), show=("card",))
    figure = draw(run, options)
    (x0, y0), (x1, y1) = points(only(parse(figure.svg), "pull"))
    drawn = -math.degrees(math.atan2(x1 - x0, y0 - y1))
    (pulled,) = (row[1] for row in figure.table.rows if row[0] == "Reading the field in the plane pulls to")
    assert abs(wrap_180(drawn - written(pulled))) < 0.5
    assert abs(wrap_180(earth_view(run, "card", time_s).pulled_deg - drawn)) < 0.5


@pytest.mark.parametrize("seed", range(10))
def test_a_field_that_points_up_stays_below_the_names_of_the_views(seed: int) -> None:
    run = random_loop_run(seed)
    dip = dataclasses.replace(run["field.dip"], values=-run["field.dip"].values)
    southern = dataclasses.replace(run, columns={**run.columns, "field.dip": dip})
    root = parse(draw(southern, FigureOptions(kind="earth", at=(random_instant(seed),), show=("card",))).svg)
    names = max(float(node.get("y") or "nan") for node in parts(root, "view")[:2])
    for part in ("field-behind", "field-side"):
        _, (_, tip) = points(only(root, part))
        assert tip > names


def test_level_plane_feels_the_horizontal_field() -> None:
    along, across = in_plane(field_from(30.0, 19.0, 67.0), Plane(0.0, 0.0), 0.0)
    assert math.hypot(along, across) == pytest.approx(19.0)
    assert math.degrees(math.atan2(-across, along)) == pytest.approx(30.0)


@pytest.mark.parametrize(("bank", "dip", "reading"), [(15.0, 55.0, -20.29), (15.0, 67.0, -31.4)])
def test_on_north_in_a_bank_the_error_is_the_published_one(bank: float, dip: float, reading: float) -> None:
    """Static law on north (williams-compass, in docs/physics.md): dip 55, bank 15 gives 20.29°; dip 67 gives 31.4°."""
    along, across = in_plane(field_from(0.0, 19.0, dip), Plane(bank, 0.0), 0.0)
    assert math.degrees(math.atan2(-across, along)) == pytest.approx(reading, abs=0.06)


def test_on_east_under_acceleration_the_reading_is_the_published_one() -> None:
    """0.1 g on east at dip 55 reads 081.91 (williams-compass, in docs/physics.md): the front drops by atan 0.1."""
    along, across = in_plane(field_from(90.0, 19.0, 55.0), Plane(0.0, -math.degrees(math.atan(0.1))), 0.0)
    assert math.degrees(math.atan2(-across, along)) == pytest.approx(81.91, abs=0.01)


@pytest.mark.parametrize(
    ("plane", "below"),
    [
        (Plane(0.0, 0.0), (0.0, 0.0, 1.0)),
        (Plane(30.0, 0.0), (0.0, -0.5, math.cos(math.radians(30)))),
        (Plane(0.0, 30.0), (0.5, 0.0, math.cos(math.radians(30)))),
    ],
)
def test_down_of_a_plane(plane: Plane, below: tuple[float, float, float]) -> None:
    assert plane.below == pytest.approx(below)


@pytest.mark.parametrize("plane", [Plane(20.0, -7.0), Plane(-88.0, 40.0), Plane(120.0, -170.0), Plane(-179.0, 95.0)])
def test_angles_of_a_plane_come_back_from_its_down(plane: Plane) -> None:
    ahead, right, down = plane.below
    assert math.degrees(math.atan2(-right, down)) == pytest.approx(plane.bank_deg)
    assert math.degrees(math.atan2(ahead, down)) == pytest.approx(plane.pitch_deg)


def test_a_detector_without_signal_is_given_no_reading() -> None:
    figure = draw(silent(), FigureOptions(kind="earth", at=(60.0,), show=("detector",)))
    assert figure.title.endswith("and the detector shows nothing that means anything")
    assert not parts(parse(figure.svg), "own-north")
    assert [row[1] for row in figure.table.rows[-2:]] == ["–", "–"]


def test_title_and_lines_say_the_same_numbers() -> None:
    figure = draw(circle(), FigureOptions(kind="earth", at=(60.0,), show=("detector",)))
    error = static_error(np.array([128.0]), np.array([15.36]))[0]
    assert figure.title == (
        f"At 60 s the plane of the detector leans 15°: the field in it points {error:.0f}° from north, "
        f"and the detector reads {error:.0f}° high"
    )
    root = parse(figure.svg)
    assert words(only(root, "tilt-behind")) == "15°"


def test_one_plane_is_drawn_at_a_time() -> None:
    with pytest.raises(MaterialError) as refused:
        draw(circle(), FigureOptions(kind="earth", show=("card", "gyro")))
    assert str(refused.value) == (
        "show=card,gyro is not possible for a picture of the Earth's field; it draws one plane: card or detector; "
        "write show=card  [figure-value]"
    )
