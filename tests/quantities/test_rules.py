"""The named textbook rules, and the physics beside them.

Check values are read from `tests/outside/data/check_values.csv`, which names the source of each; worked examples not in
that table are arithmetic done by hand.
"""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.quantities import Value, rules
from gyrochalk.quantities.rules import RULES
from gyrochalk.quantities.rules.sources import TITLES
from gyrochalk.quantities.rules.static_law import (
    dipole_dip,
    error_in_acceleration,
    error_in_turn,
    reading_in_acceleration,
)

ROOT = Path(__file__).parents[2]


def check(identity: str, scale: float = 1.0) -> object:
    """A check value with its tolerance, both times `scale`."""
    with (ROOT / "tests" / "outside" / "data" / "check_values.csv").open(encoding="utf-8", newline="") as file:
        row = next(row for row in csv.DictReader(file) if row["id"] == identity)
    return pytest.approx(float(row["value"]) * scale, abs=float(row["tolerance"]) * scale)


def says(name: str, **parameters: str | float) -> float:
    """What a rule says."""
    return rules.evaluate(name, **parameters).number


def physics(name: str, **parameters: str | float) -> float:
    """What the physics says."""
    value = rules.physics(name, **parameters)
    assert value is not None
    return value.number


def test_the_static_law_gives_the_published_values() -> None:
    # source: williams-compass (formula; values computed)
    assert error_in_turn(0.0, 15.0, 55.0) == check("turn-static-55-15")
    assert error_in_turn(0.0, 20.0, 55.0) == check("turn-static-55-20")
    assert error_in_turn(0.0, 15.0, 67.0) == check("turn-static-67-15")
    assert error_in_turn(180.0, 15.0, 55.0) == check("turn-static-S")
    assert error_in_turn(90.0, 15.0, 55.0) == check("turn-static-EW")
    assert error_in_turn(270.0, 15.0, 55.0) == check("turn-static-EW")
    assert reading_in_acceleration(90.0, 0.1, 55.0) == check("accel-55-E")
    assert reading_in_acceleration(90.0, -0.1, 55.0) == check("accel-55-E-dec")
    assert error_in_acceleration(0.0, 0.1, 55.0) == check("accel-N")


@pytest.mark.parametrize("heading", range(0, 360, 30))
@pytest.mark.parametrize("bank", [-20.0, 10.0])
def test_mirroring_the_hemisphere_mirrors_the_error(heading: int, bank: float) -> None:
    assert error_in_turn(heading, bank, 60.0) == pytest.approx(error_in_turn(heading, -bank, -60.0) * 1.0, abs=1e-9)
    assert error_in_turn(heading, bank, 60.0) == pytest.approx(-error_in_turn(-heading, -bank, 60.0), abs=1e-9)


def test_the_lag_by_the_latitude_and_the_steady_card_beside_it() -> None:
    # source: ifh-5-22; beside it arithmetic: atan(tan 67° sin 16.5°) = 33.8°
    assert says("turning-lag", lat="40") == 40.0
    assert says("turning-lag", lat="40 S") == 40.0
    assert physics("turning-lag", lat=52, dip="67 deg") == pytest.approx(33.79, abs=0.01)
    assert dipole_dip(45.0) == pytest.approx(63.43, abs=0.01)


def test_roll_out_readings() -> None:
    # common practice: at 40N and 18° of bank a right turn to north is rolled out on 311, one to south on 211
    assert rules.evaluate("roll-out", to="000", lat="40").text(0) == "311° C"
    assert rules.evaluate("roll-out", to="180", lat="40 N").text(0) == "211° C"
    assert says("roll-out", to="360", lat=40, turn="left") == 49.0
    assert says("roll-out", to="090", lat=40) == pytest.approx(81.0)
    assert says("roll-out", to="180", lat="40 S") == 131.0


def test_accelerate_north_decelerate_south() -> None:
    # source: ifh-5-22
    rule = rules.RULES["ands"]
    spoken = [
        rule.in_words(rule.evaluate(heading=heading, acceleration=acceleration, lat=lat), 0)
        for heading, acceleration, lat in [
            ("090", "0.1 g", 50),
            ("270", "0.1 g", 50),
            ("090", "-0.1 g", 50),
            ("090", "0.1 g", -50),
            ("360", "0.1 g", 50),
        ]
    ]
    north, south = "a turn to the north", "a turn to the south"
    assert spoken == [north, north, south, south, "no turn"]
    assert physics("ands", heading="090", dip=55) == pytest.approx(81.91 - 90.0, abs=0.01)


def test_bank_and_times_at_rate_one() -> None:
    assert says("rate-one-bank", tas="120 kt") == 19.0
    assert physics("rate-one-bank", tas=100) == check("rate-one-100")
    assert physics("rate-one-bank", tas=120) == check("rate-one-120")
    assert rules.evaluate("rate-one-circle").text(0) == "2 min"
    assert physics("rate-one-circle") * 60.0 == check("orbit-time")
    assert physics("rate-one-circle") * 60.0 == pytest.approx(121.555, abs=0.001)
    assert says("timed-turn", change=130) == pytest.approx(43.3, abs=0.05)
    assert physics("timed-turn", change="130 deg") == pytest.approx(says("timed-turn", change=130) + 1.555, abs=0.001)
    assert physics("timed-turn", change=0) == 0.0


def test_a_turn_too_short_to_reach_its_bank_joins_one_that_just_does() -> None:
    times = [physics("timed-turn", change=change) for change in (4.5, 4.55, 4.6)]
    assert times[1] - times[0] == pytest.approx(times[2] - times[1], abs=2e-3)


def test_wander() -> None:
    # source: mil-g-19027 and afpam-11-216
    assert -says("earth-rate-wander", lat="43 50 N") / 60.0 == check("creep-43-50")
    assert physics("earth-rate-wander", lat=52) == check("creep-52")
    assert says("earth-rate-wander", lat="52 S") == -says("earth-rate-wander", lat=52)
    assert says("transport-wander", gs="480 kt", track="090T", lat=60) == check("transport-60")
    assert physics("transport-wander", gs=480, track="090", lat=60) == pytest.approx(-13.80, abs=0.005)
    assert says("transport-wander", gs=480, track="000", lat=60) == 0.0
    assert physics("latitude-nut", set="52 N", lat="30 N") == pytest.approx(4.33, abs=0.005)
    assert physics("latitude-nut", set=52, lat="40 S") == pytest.approx(21.5, abs=0.05)
    assert rules.evaluate("unslaved-reset").text(0) == "15 min"
    assert physics("unslaved-reset", lat=52, error=3) == pytest.approx(15.2, abs=0.05)


def test_slaving_time() -> None:
    assert rules.evaluate("slaving-time", off=90).number == check("textbook-30")
    assert says("slaving-time", off=90, rate="60 deg/min") == check("textbook-fast", 1 / 60)
    assert physics("slaving-time", off=90, field=19.3, bound=2) == check("align-slow-2", 1 / 60)
    assert physics("slaving-time", off=90, field=19.3, bound="0.5 deg") == check("align-slow-05", 1 / 60)
    assert physics("slaving-time", off=0.5, bound=1) == 0.0


def test_what_a_heading_error_costs() -> None:
    assert says("one-in-sixty", error=4, distance="90 NM") == 6.0
    assert physics("one-in-sixty", error="4 deg", distance=90) == pytest.approx(90 * math.sin(math.radians(4)))


def test_numbers_that_stand_alone() -> None:
    # source: cfr-25.1327; common practice
    assert rules.evaluate("deviation-limit") == Value(10.0, "deg", measure="rule/deviation-limit")
    assert rules.physics("deviation-limit") is None
    assert says("detector-frequency") == check("detector-frequency")


@pytest.mark.parametrize("rule", rules.RULES.values(), ids=rules.RULES)
def test_every_rule_says_where_it_stands(rule: rules.Rule) -> None:
    sources = (ROOT / "docs" / "sources.md").read_text(encoding="utf-8")
    assert rule.sentence.endswith(".")
    if rule.mark == "S":
        assert f"| `{rule.source}` |" in sources
    else:
        assert rule.source == {"C": "common practice", "M": "from memory"}[rule.mark]
    assert (rule.model is None) == (rule.model_note == "")
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule.name)


@pytest.mark.parametrize(
    ("name", "parameters", "message"),
    [
        (
            "turning-lagg",
            {},
            f'"turning-lagg" is not a textbook rule; rules are {", ".join(rules.RULES)}; '
            'did you mean "turning-lag"?  [rule-unknown]',
        ),
        (
            "turning-lag",
            {},
            "the rule turning-lag needs lat, the latitude, north positive; parameters of turning-lag are lat, bank, "
            "dip; add lat=40  [rule-parameter]",
        ),
        (
            "turning-lag",
            {"lat": "40", "bnk": "3"},
            '"bnk" means nothing to the rule turning-lag; parameters of turning-lag are lat, bank, dip; '
            'did you mean "bank"?  [rule-parameter]',
        ),
        (
            "rate-one-circle",
            {"x": "3"},
            '"x" means nothing to the rule rate-one-circle; parameters of rate-one-circle are tas, roll; '
            "leave it out  [rule-parameter]",
        ),
        (
            "turning-lag",
            {"lat": "-91"},
            "lat=-91 is out of range; allowed is −90° to 90°; write a value in that range  [out-of-range]",
        ),
        (
            "turning-lag",
            {"lat": "40 kt"},
            "40 kt is a speed, not an angle; allowed are deg, rad; write for example 40 deg  [unit-wrong]",
        ),
        (
            "rate-one-bank",
            {"tas": math.nan},
            "tas=nan is out of range; allowed is 1 kt to 700 kt; write a value in that range  [out-of-range]",
        ),
        (
            "slaving-time",
            {"off": "90", "bound": "0.05 deg"},
            "the loop of the rule slaving-time stops correcting before it comes to the bound; the bound must lie "
            "outside the dead zone, which widens where the field is weak; choose a larger bound or a smaller dead  "
            "[rule-parameter]",
        ),
        (
            "unslaved-reset",
            {"lat": "0"},
            "the gyro of the rule unslaved-reset does not wander; an interval needs a wander; "
            "choose another lat or drift  [rule-parameter]",
        ),
    ],
)
def test_what_a_rule_cannot_answer(name: str, parameters: dict[str, str | float], message: str) -> None:
    with pytest.raises(MaterialError) as refusal:
        rules.physics(name, **parameters)
    assert str(refusal.value) == message


def test_every_published_source_has_its_title_of_the_list_of_sources() -> None:
    published = {rule.source for rule in RULES.values() if rule.mark == "S"}
    assert set(TITLES) == published
    listed = (Path(__file__).parents[2] / "docs" / "sources.md").read_text(encoding="utf-8")
    for identity, title in TITLES.items():
        assert f"| `{identity}` | {title} |" in listed


def test_the_how_to_lists_every_rule_with_its_parameters() -> None:
    text = (Path(__file__).parents[2] / "docs" / "how-to" / "write-a-lesson.md").read_text(encoding="utf-8")
    told = text.partition("| rule | parameters |\n|---|---|\n")[2].partition("\n\n")[0].split("\n")
    assert told == [
        f"| `{rule.name}` | {', '.join(f'`{one.name}`' for one in rule.parameters) or 'none'} |"
        for rule in RULES.values()
    ]
