"""The pages about demonstrations say what the program does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from gyrochalk.demonstration import load
from gyrochalk.demonstration.key_reference import key_reference
from gyrochalk.systems.recorded import RecordedFlight

HOW_TO = Path(__file__).parents[2] / "docs" / "how-to"
PAGE = (HOW_TO / "fly-a-recorded-flight.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```(yaml|csv)\n(.*?)```", PAGE, flags=re.DOTALL)
TABLES = [text for kind, text in BLOCKS if kind == "csv"]
FILES = [text for kind, text in BLOCKS if kind == "yaml"]


def test_the_list_of_keys_is_the_schemas() -> None:
    assert (HOW_TO / "demonstration-keys.md").read_text(encoding="utf-8") == key_reference(), (
        "write it anew: python -m gyrochalk.demonstration.key_reference > docs/how-to/demonstration-keys.md"
    )


@pytest.mark.parametrize(("text", "table"), list(zip(FILES, TABLES, strict=True)), ids=["plain", "mapped"])
def test_the_examples_of_recorded_flights_can_be_loaded(workspace: Path, text: str, table: str) -> None:
    name = re.findall(r"flights/[a-z]+\.csv", text)[0]
    Path(name).write_text(table, encoding="utf-8")
    path = Path("demonstrations/recorded.yaml")
    path.write_text(text, encoding="utf-8")
    flight = load(path).setup.flight
    assert isinstance(flight, RecordedFlight)
    assert len(flight.time_s) == len(table.splitlines()) - 1
