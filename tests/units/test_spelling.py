"""Did you mean."""

from __future__ import annotations

from gyrochalk.units import nearest


def test_the_nearest_known_name_is_offered() -> None:
    assert nearest("headng", ["heading", "bank", "pitch"]) == "heading"
    assert nearest("HEADING", ["heading", "bank"]) == "heading"


def test_nothing_is_offered_where_nothing_is_near() -> None:
    assert nearest("zzz", ["heading", "bank"]) is None
    assert nearest("heading", []) is None
