"""Three lines make a demonstration, and every default is the instruments' own."""

from __future__ import annotations

from pathlib import Path

from gyrochalk.demonstration import load
from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Loop
from gyrochalk.systems.places import ModelField, Place
from gyrochalk.systems.plans import FlightPlan, Hold
from gyrochalk.systems.setup import Setup


def write(text: str, name: str = "steady-flight") -> Path:
    path = Path("demonstrations") / f"{name}.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_three_lines_make_a_demonstration(workspace: Path) -> None:
    found = load(write("gyrochalk: 1\ntitle: Steady\nflight: {legs: [{hold: 5 min}]}\n"))
    assert found.id == "steady-flight"
    assert found.title == "Steady"
    assert found.setup == Setup(
        place=Place(52.5, 1.0, 0.0, "52.5 N, 1 E"),
        flight=FlightPlan((Hold(300.0),)),
        field=ModelField(),
        compass=DirectCompass(),
        gyro=Gyro(),
        slaved_gyro=Gyro(),
        detector=Detector(),
        loop=Loop(),
    )


def test_the_version_alone_is_enough(workspace: Path) -> None:
    found = load(write("gyrochalk: 1\n"))
    assert (found.title, found.look_for) == ("Steady flight", "")
    assert found.setup.flight == FlightPlan((Hold(600.0),))
    assert (dict(found.variants), dict(found.measures), found.swept) == ({}, {}, ())


def test_a_place_alone_is_enough(workspace: Path) -> None:
    assert load(write("gyrochalk: 1\nplace: 60 S, 20 W\n")).setup.place == Place(-60.0, -20.0)


def test_windows_line_ends_and_a_byte_order_mark_change_nothing(workspace: Path) -> None:
    text = "gyrochalk: 1\ntitle: Steady\nflight: {heading: 045}\n".replace("{heading: 045}", "{legs: [{hold: 5 min}]}")
    plain = load(write(text)).setup
    path = Path("demonstrations/windows.yaml")
    path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode("utf-8"))
    assert load(path).setup == plain
