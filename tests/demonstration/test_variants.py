"""Variants are laid over their demonstration, swept values take their steps, addresses are read."""

from __future__ import annotations

from pathlib import Path

import pytest

from gyrochalk.demonstration import Demonstration, demonstration_file, load, parse_address
from gyrochalk.errors import MaterialError
from gyrochalk.systems.effects import FULL, TEXTBOOK
from gyrochalk.systems.places import ModelField, StatedField
from gyrochalk.systems.plans import FlightPlan, Hold, Turn

TEXT = """gyrochalk: 1
title: A circle
look_for: The card.
date: 2025-06-01
flight: {heading: 045M, legs: [{turn: right 360 deg}]}
loop: {slow_rate: {sweep: {from: 1 deg/min, to: 6 deg/min, steps: 6}}, band: 3 deg}
variants:
  textbook: {effects: textbook, title: A circle in the textbook}
  stated: {field: {horizontal: 19 uT, dip: 67 deg}}
  longer: {flight: {legs: [{hold: 1 min}, {turn: right 360 deg}]}, loop: {band: 2 deg}}
  same:
"""


@pytest.fixture
def orbit(workspace: Path) -> Demonstration:
    path = Path("demonstrations/orbit.yaml")
    path.write_text(TEXT, encoding="utf-8")
    return load(path)


def test_variants_change_what_they_say_and_nothing_else(orbit: Demonstration) -> None:
    assert list(orbit.variants) == ["textbook", "stated", "longer", "same"]
    textbook = orbit.variants["textbook"]
    assert (textbook.effects, textbook.loop_law) == (TEXTBOOK, "textbook")
    assert (textbook.flight, textbook.loop) == (orbit.setup.flight, orbit.setup.loop)
    assert (orbit.setup.effects, orbit.setup.loop_law) == (FULL, "full")
    assert orbit.variants["same"] == orbit.setup


def test_of_two_keys_that_exclude_each_other_the_variants_wins(orbit: Demonstration) -> None:
    assert isinstance(orbit.setup.field, ModelField)
    assert orbit.variants["stated"].field == StatedField(19.0, 67.0)


def test_groups_are_merged_and_lists_replaced(orbit: Demonstration) -> None:
    longer = orbit.variants["longer"]
    assert longer.flight == FlightPlan((Hold(60.0), Turn(by_deg=360.0)), heading_deg=45.0)
    assert (longer.loop.band_deg, longer.loop.slow_rate_deg_min) == (2.0, 1.0)


def test_titles(orbit: Demonstration) -> None:
    assert (orbit.variant("textbook").title, orbit.variant("longer").title) == ("A circle in the textbook", "A circle")
    assert orbit.variant(None).setup is orbit.setup
    assert orbit.variant("textbook").look_for == "The card."


def test_unknown_variant(orbit: Demonstration) -> None:
    with pytest.raises(MaterialError) as caught:
        orbit.variant("textbok")
    assert str(caught.value) == (
        'the demonstration "orbit" has no variant "textbok"; its variants are textbook, stated, longer, same; '
        'did you mean "orbit.textbook"?  [variant-unknown]'
    )


def test_swept_values(orbit: Demonstration) -> None:
    (sweep,) = orbit.swept
    assert (sweep.name, sweep.texts[0], sweep.texts[3], len(sweep.texts)) == (
        "loop.slow_rate",
        "1 deg/min",
        "4 deg/min",
        6,
    )
    rates = [orbit.setup_at(None, {sweep.name: step}).loop.slow_rate_deg_min for step in range(6)]
    assert rates == pytest.approx([1.0, 2.0, 3.0, 4.0, 5.0, 6.0])
    moved = orbit.setup_at("textbook", {sweep.name: 5})
    assert (moved.loop_law, moved.loop.slow_rate_deg_min) == ("textbook", 6.0)


def test_swept_heading_keeps_its_zeros(workspace: Path) -> None:
    path = Path("demonstrations/headings.yaml")
    swept = "{sweep: {from: 000M, to: 090M, steps: 5}}"
    path.write_text(f"gyrochalk: 1\nflight: {{heading: {swept}, legs: [{{hold: 1 min}}]}}\n", encoding="utf-8")
    (sweep,) = load(path).swept
    assert sweep.texts == ("000M", "022.5M", "045M", "067.5M", "090M")


def test_sweep_inside_a_variant(workspace: Path) -> None:
    path = Path("demonstrations/headings.yaml")
    swept = "{sweep: {from: 1 deg, to: 3 deg, steps: 3}}"
    path.write_text(f"gyrochalk: 1\nvariants: {{wide: {{loop: {{band: {swept}}}}}}}\n", encoding="utf-8")
    found = load(path)
    name = found.swept[0].name
    assert name == "variants.wide.loop.band"
    assert found.setup_at("wide", {name: 2}).loop.band_deg == 3.0
    assert found.setup_at(None, {name: 2}).loop.band_deg == 2.0


@pytest.mark.parametrize(
    ("text", "found"),
    [("orbit", ("orbit", None)), ("orbit.textbook", ("orbit", "textbook")), ("a-b.c-d", ("a-b", "c-d"))],
)
def test_addresses(text: str, found: tuple[str, str | None]) -> None:
    assert parse_address(text) == found


def test_a_demonstration_is_found_by_its_id(orbit: Demonstration, workspace: Path) -> None:
    assert demonstration_file(workspace, "orbit").name == "orbit.yaml"
    with pytest.raises(MaterialError) as caught:
        demonstration_file(workspace, "orbid")
    assert str(caught.value) == (
        'there is no demonstration "orbid"; the demonstrations are orbit; did you mean "orbit"?  '
        "[demonstration-unknown]"
    )
