"""What the signal path shows is what the run says: hands, rose, pendulum and the value on every link."""

from __future__ import annotations

from xml.etree.ElementTree import Element

import numpy as np
import pytest

from gyrochalk.figures import Figure, FigureOptions, draw
from gyrochalk.figures.loop_reading import loop_state, wires_of
from gyrochalk.figures.loop_state import LoopState
from gyrochalk.figures.readings import value_at
from gyrochalk.systems.actions import DetectorFault, Disturbance, Fault, GyroDrift, MotorStopped
from gyrochalk.systems.run import Run
from gyrochalk.systems.schedule import fault_text
from gyrochalk.units import wrap_180
from tests.figures.loop_runs import RUNS, random_loop_run
from tests.figures.read_back import only, parse, parts, points, turned, words, written

HALF_A_DIGIT = 0.05 + 1e-6
LINKS = {
    "detector-comparison": "detector.heading",
    "comparison-amplifier": "slaved.difference",
    "amplifier-motor": "slaved.demanded",
    "motor-gyro": "slaved.correction",
    "gyro-card": "slaved.heading",
    "card-comparison": "slaved.heading",
}


def drawn_at(run: Run, time_s: float) -> Element:
    """The picture of a run at an instant."""
    return parse(draw(run, FigureOptions(kind="path", at=(time_s,))).svg)


def random_instant(seed: int) -> tuple[Run, float]:
    """A random run and an instant of it that is no sample."""
    run = random_loop_run(seed)
    return run, float(run.time_s[-1] * np.random.default_rng(seed + 500).uniform())


@pytest.mark.parametrize("seed", range(50))
def test_every_link_shows_the_run_s_number(seed: int) -> None:
    run, time_s = random_instant(seed)
    root = drawn_at(run, time_s)
    for link, channel in LINKS.items():
        text, value = words(only(root, f"value-{link}")), value_at(run, channel, time_s)
        half = HALF_A_DIGIT if "." in text else 0.5
        assert abs(wrap_180(written(text) - value)) < half, (link, text, value)
        assert text.startswith("+") == (run[channel].north is None and value >= 0.05)


@pytest.mark.parametrize("seed", range(50))
def test_parts_are_turned_as_the_run_says(seed: int) -> None:
    run, time_s = random_instant(seed)
    root = drawn_at(run, time_s)
    for part, channel, sign in (
        ("rose-S", "slaved.heading", -1.0),
        ("hand-S", "slaved.heading", 1.0),
        ("hand-D", "detector.heading", 1.0),
        ("pendulum", "detector.tilt_bank", 1.0),
        ("case", "actual.bank", 1.0),
    ):
        assert abs(wrap_180(sign * turned(only(root, part)) - value_at(run, channel, time_s))) < 0.01


@pytest.mark.parametrize("seed", range(50))
def test_senses_follow_the_signs(seed: int) -> None:
    run, time_s = random_instant(seed)
    root = drawn_at(run, time_s)
    difference, correction = (value_at(run, f"slaved.{n}", time_s) for n in ("difference", "correction"))
    sense = " ".join(words(node) for node in parts(root, "sense-comparison-amplifier"))
    assert sense == (
        "they agree" if abs(difference) < 0.05 else f"detector is {'higher' if difference > 0 else 'lower'}"
    )
    assert bool(parts(root, "turning-up")) == (correction >= 0.05)
    assert bool(parts(root, "turning-down")) == (correction <= -0.05)


def state(name: str) -> tuple[LoopState, Figure]:
    """The state of one of the sample runs at 27 s, and its picture."""
    run = RUNS[name]()
    return loop_state(run, 27.0), draw(run, FigureOptions(kind="path", at=(27.0,)))


@pytest.mark.parametrize(
    ("name", "broken_links", "drawn"),
    [
        ("circle", [], []),
        ("motor", ["motor-gyro"], ["break", "struck-motor"]),
        ("line-open", ["detector-comparison"], ["break"]),
        ("leg-dead", ["detector-comparison"], ["break"]),
        ("leg-reversed", ["detector-comparison"], ["reversed"]),
        ("shorted", ["detector-comparison"], ["bridge", "bridge-end"]),
        ("swapped", ["detector-comparison"], []),
        ("silent", ["detector-comparison"], ["break"]),
        ("toppled", ["gyro-card", "card-comparison"], ["break", "struck-gyro"]),
        ("free", ["amplifier-motor"], ["open-switch"]),
        ("held", [], []),
    ],
)
def test_a_broken_link_is_drawn_broken(name: str, broken_links: list[str], drawn: list[str]) -> None:
    now, figure = state(name)
    assert [link.name for link in now.links if link.state == "broken"] == broken_links
    marks = ("break", "bridge", "bridge-end", "reversed", "open-switch", "struck-motor", "struck-gyro")
    root = parse(figure.svg)
    assert [mark for mark in marks if parts(root, mark)] == drawn


def test_the_open_wire_is_the_one_named() -> None:
    _, figure = state("line-open")
    root = parse(figure.svg)
    assert [len(parts(root, f"wire-{k}")) for k in (1, 2, 3)] == [1, 2, 1]


def test_swapped_wires_end_on_each_other_s_level() -> None:
    _, figure = state("swapped")
    root = parse(figure.svg)
    (_, a0), (_, a1) = points(only(root, "wire-2"))
    (_, b0), (_, b1) = points(only(root, "wire-3"))
    assert (a1, b1) == (b0, a0)


@pytest.mark.parametrize(
    ("name", "title"),
    [
        ("steady", "At 27 s the loop is at rest: card and detector agree"),
        (
            "motor",
            "At 27 s the motor is stopped: the slaved compass stands {apart} from its detector and nothing corrects it",
        ),
        ("free", "At 27 s slaving is off: the slaved compass stands {apart} from its detector and nothing corrects it"),
        ("silent", "At 27 s no signal comes from the detector: the slaved compass is an unslaved gyro"),
        ("toppled", "At 27 s the gyro has toppled: the slaved compass shows nothing that means anything"),
    ],
)
def test_title_says_what_the_loop_does(name: str, title: str) -> None:
    now, figure = state(name)
    assert figure.title == title.format(apart=f"{abs(value_at(RUNS[name](), 'slaved.difference', now.time_s)):.0f}°")


@pytest.mark.parametrize(
    ("fault", "wires", "wire"),
    [
        (DetectorFault("no excitation", 0.0), "silent", 1),
        (DetectorFault("leg dead", 0.0, None, 2), "dead", 2),
        (DetectorFault("leg reversed", 0.0, None, 3), "reversed", 3),
        (DetectorFault("line open", 0.0, None, 1), "open", 1),
        (DetectorFault("lines shorted", 0.0, None, 2), "shorted", 2),
        (DetectorFault("lines swapped", 0.0, None, 3), "swapped", 3),
        (Disturbance(0.0, None, (3.0, 0.0, 0.0)), "whole", 1),
        (MotorStopped(0.0), "whole", 1),
        (GyroDrift(0.0, 12.0), "whole", 1),
    ],
)
def test_every_fault_a_run_can_name_is_understood(fault: Fault, wires: str, wire: int) -> None:
    assert wires_of((fault_text(fault),)) == (wires, wire)


def test_the_words_for_a_stopped_motor_are_those_looked_for() -> None:
    assert fault_text(MotorStopped(0.0)) == "correction motor stopped"


def test_a_fault_is_shown_only_while_it_lasts() -> None:
    run = RUNS["motor"]()
    before, during = (draw(run, FigureOptions(kind="path", at=(t,))) for t in (5.0, 12.0))
    assert "Fault: correction motor stopped." not in before.alt
    assert "Fault: correction motor stopped." in during.alt


def test_table_and_alt_hold_every_link() -> None:
    figure = state("circle")[1]
    assert [row[0] for row in figure.table.rows[:6]] == [
        "detector to comparison",
        "comparison to amplifier",
        "amplifier to motor",
        "motor to gyro",
        "gyro to card",
        "card to comparison",
    ]
    assert all(f"{row[1]}, {row[2]}, {row[3]}." in figure.alt for row in figure.table.rows[:6])
