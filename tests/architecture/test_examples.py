"""What the how-to pages show can be used as it stands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from gyrochalk.demonstration import load
from tests.architecture.tree import ROOT

PAGE = ROOT / "docs" / "how-to" / "write-a-demonstration.md"
EXAMPLES = re.findall(r"```yaml\n(.*?)```", PAGE.read_text(encoding="utf-8"), flags=re.DOTALL)


def test_the_page_has_examples() -> None:
    assert len(EXAMPLES) >= 3


@pytest.mark.parametrize("text", EXAMPLES)
def test_every_example_demonstration_can_be_loaded(tmp_path: Path, text: str) -> None:
    (tmp_path / "demonstrations").mkdir()
    path = tmp_path / "demonstrations" / "orbit.yaml"
    path.write_text(text, encoding="utf-8")
    assert load(path).setup.flight is not None
