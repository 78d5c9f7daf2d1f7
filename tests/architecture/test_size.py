"""No module grows past what one can read in a sitting."""

from __future__ import annotations

from tests.architecture.tree import shown, sources

MOST_LINES = 400


def test_no_module_is_too_long() -> None:
    lengths = {
        shown(path): len(path.read_text(encoding="utf-8").splitlines()) for path in sources("src", "tests", "tools")
    }
    assert {name: length for name, length in lengths.items() if length > MOST_LINES} == {}
