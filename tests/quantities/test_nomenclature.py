"""The page of names lists what the program has."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from gyrochalk.quantities import CHANNELS, EVENTS, REDUCERS, SPANS, measures_for, rules
from gyrochalk.units import UNITS

PAGE = (Path(__file__).parents[2] / "docs" / "nomenclature.md").read_text(encoding="utf-8")


def rows(section: str) -> list[list[str]]:
    """The cells of the table of a section, without its head."""
    body = PAGE.split(f"\n## {section}\n")[1].split("\n## ")[0]
    lines = [line for line in body.splitlines() if line.startswith("| `")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


@pytest.mark.parametrize(
    ("section", "names"),
    [
        ("Units that may be written", list(UNITS)),
        ("Channels of a run", list(CHANNELS)),
        ("Reducers of a declared measure", list(REDUCERS)),
        ("Ready-made measures", list(measures_for(CHANNELS))),
        ("Textbook rules", list(rules.RULES)),
    ],
)
def test_the_page_lists_what_the_program_has(section: str, names: list[str]) -> None:
    assert [row[0].strip("`") for row in rows(section)] == names


def test_channels_stand_with_their_unit_north_and_meaning() -> None:
    written = {row[0].strip("`"): tuple(row[1:]) for row in rows("Channels of a run")}
    known = {
        name: (UNITS[channel.unit].shown or "1", channel.north or "", channel.meaning)
        for name, channel in CHANNELS.items()
    }
    assert written == known


def test_measures_and_rules_stand_as_the_program_describes_them() -> None:
    described = {row[0].strip("`"): row[2] for row in rows("Ready-made measures")}
    assert described == {name: measure.description for name, measure in measures_for(CHANNELS).items()}
    said = {row[0].strip("`"): (row[2], row[3]) for row in rows("Textbook rules")}
    assert said == {name: (rule.sentence, f"{rule.mark}, {rule.source}") for name, rule in rules.RULES.items()}


def test_events_and_spans_are_named() -> None:
    line = re.search(r"Events: (.*)\. Spans: (.*)\.", PAGE)
    assert line is not None
    assert tuple(line[1].split(", ")) == EVENTS
    assert tuple(line[2].split(", ")) == SPANS
