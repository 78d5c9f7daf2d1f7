"""The schema for editors accepts what the reader accepts, and refuses what it refuses."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from gyrochalk.demonstration import json_schema
from gyrochalk.demonstration.keys import DemonstrationKeys
from gyrochalk.demonstration.translation import sections

COURSE = Path(__file__).parents[2] / "course" / "demonstrations"
SCHEMA = json_schema()
KINDS: dict[str, tuple[type, ...]] = {
    "object": (dict,), "array": (list,), "string": (str,), "integer": (int,), "number": (int, float),
    "boolean": (bool,), "null": (type(None),),
}  # fmt: skip


def complaints(value: Any, rule: dict[str, Any], at: str = "") -> list[str]:
    """What a value breaks: the keywords that the exported schema uses, and no others."""
    if "$ref" in rule:
        return complaints(value, SCHEMA["$defs"][rule["$ref"].rpartition("/")[2]], at)
    if "anyOf" in rule:
        tries = [complaints(value, choice, at) for choice in rule["anyOf"]]
        return [] if any(not found for found in tries) else min(tries, key=len)
    kinds = rule.get("type", list(KINDS))
    allowed = tuple(kind for name in ([kinds] if isinstance(kinds, str) else kinds) for kind in KINDS[name])
    if not isinstance(value, allowed) or (isinstance(value, bool) and bool not in allowed):
        return [f"{at}: {value!r} is no {kinds}"]
    found = [f"{at}: {value!r} is not {rule['const']!r}"] if "const" in rule and value != rule["const"] else []
    found += [f"{at}: {value!r} is none of {rule['enum']}"] if "enum" in rule and value not in rule["enum"] else []
    if isinstance(value, str) and "pattern" in rule and not re.search(rule["pattern"], value):
        found.append(f"{at}: {value!r} does not fit")
    if isinstance(value, int | float) and not rule.get("minimum", value) <= value <= rule.get("maximum", value):
        found.append(f"{at}: {value!r} is out of range")
    if isinstance(value, list) and "items" in rule:
        found += [
            line for index, item in enumerate(value) for line in complaints(item, rule["items"], f"{at}[{index}]")
        ]
    return found + (_keys(value, rule, at) if isinstance(value, dict) else [])


def _keys(value: dict[str, Any], rule: dict[str, Any], at: str) -> list[str]:
    found = [f"{at}: {name} is missing" for name in rule.get("required", []) if name not in value]
    for name, inner in value.items():
        patterns = (part for pattern, part in rule.get("patternProperties", {}).items() if re.search(pattern, name))
        known = rule.get("properties", {}).get(name) or next(patterns, None) or rule.get("additionalProperties", {})
        found += [f"{at}.{name} is unknown"] if known is False else complaints(inner, known, f"{at}.{name}")
    return found


def as_an_editor_reads_it(text: str) -> Any:
    """The text as YAML 1.2 with an editor's guesses at types: numbers, truth values, texts."""
    loaded = YAML(typ="safe", pure=True).load(text)
    return json.loads(json.dumps(loaded, default=str))


@pytest.mark.parametrize("path", sorted(COURSE.glob("*.yaml")), ids=lambda path: path.stem)
def test_the_demo_course_fits_the_schema(path: Path) -> None:
    assert complaints(as_an_editor_reads_it(path.read_text(encoding="utf-8")), SCHEMA) == []


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("title: Orbit", ": gyrochalk is missing"),
        ("gyrochalk: 2", ".gyrochalk: 2 is not 1"),
        ("gyrochalk: 1\ntitel: Orbit", ".titel is unknown"),
        ("gyrochalk: 1\nloop: {slow_rate: 3 kt}", ".loop.slow_rate: '3 kt' does not fit"),
        ("gyrochalk: 1\nloop: {automatic: allways}", ".loop.automatic: 'allways' is none of"),
        ("gyrochalk: 1\nvariants: {fast: {measures: {}}}", ".variants.fast.measures is unknown"),
        ("gyrochalk: 1\nvariants: {Fast: {}}", ".variants.Fast is unknown"),
        ("gyrochalk: 1\nactions: [{select: free}]", ".actions[0]: at is missing"),
        ("gyrochalk: 1\nmeasures: {worst: {reducer: peek}}", ".measures.worst.reducer: 'peek' is none of"),
    ],
)
def test_what_is_wrong_does_not_fit(text: str, complaint: str) -> None:
    found = complaints(as_an_editor_reads_it(text), SCHEMA)
    assert [line[: len(complaint)] for line in found] == [complaint]


@pytest.mark.parametrize(
    "text",
    [
        "flight: {heading: 045, speed: 0 kt, wind: 270T/20 kt, legs: [{stand: 1 h 30 min}, {turn: right 90 deg}]}",
        "flight: {legs: [{turn: {right: 90°, bank: 20 degrees, rate: 3°/s}}], recorded: {file: a.csv}}",
        "place: {latitude: N 52 30, longitude: 1.25 W, height: 30 000 ft}",
        "compass: {damping: 0.7, moment: 0.15 A·m²}",
        "gyros: {latitude_nut: off, random_walk: 0.5 deg/sqrt(h), rotor_running: no}",
        "loop: {band: {sweep: {from: 1 deg, to: 5 deg, steps: 5}}, cut_off: never}",
        "field: {horizontal: 19 µT, dip: −67 deg, variation: 0}",
    ],
)
def test_what_is_right_fits(text: str) -> None:
    assert complaints(as_an_editor_reads_it(f"gyrochalk: 1\n{text}"), SCHEMA) == []


def test_every_key_is_described() -> None:
    for section in sections(DemonstrationKeys):
        described = SCHEMA["$defs"].get(section.__name__, SCHEMA)
        group = next((part for part in described.get("anyOf", []) if "properties" in part), described)
        for name in section.names():
            assert group["properties"][name].get("description"), (section.__name__, name)


def test_defaults_are_written_as_a_person_writes_them() -> None:
    defaults = {name: part.get("default") for name, part in SCHEMA["$defs"]["LoopKeys"]["properties"].items()}
    assert defaults == {
        "law": None,
        "slow_rate": "3 deg/min",
        "band": "2 deg",
        "dead_zone": "0.1 deg",
        "lag": "0.5 s",
        "reference_field": "20 uT",
        "fast_rate": "60 deg/min",
        "large_error": "5 deg",
        "settled": "0.25 deg",
        "automatic": "at switch-on",
        "hold_rate": "900 deg/min",
        "hold_band": "15 deg",
        "slaved": True,
        "cut_off": "never",
        "indicator_time": "1 s",
    }
