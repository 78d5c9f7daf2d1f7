"""Headings of three figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.errors import MaterialError
from gyrochalk.units import Heading, North, format_heading, parse_heading

ALLOWED = "a heading is three figures from 000 to 360, with T, M or C after it for the north it is from"


@pytest.mark.parametrize(
    ("text", "heading"),
    [
        ("045", Heading(45.0, None)),
        ("045T", Heading(45.0, "true")),
        ("045M", Heading(45.0, "magnetic")),
        ("045 C", Heading(45.0, "compass")),
        ("045G", Heading(45.0, "grid")),
        ("045 gyro", Heading(45.0, "gyro")),
        ("045° M", Heading(45.0, "magnetic")),
        ("045.5°M", Heading(45.5, "magnetic", 1)),
        ("045,50 true", Heading(45.5, "true", 2)),
        ("000", Heading(0.0, None)),
        ("360M", Heading(0.0, "magnetic")),
    ],
)
def test_three_figures_and_a_north(text: str, heading: Heading) -> None:
    assert parse_heading(text) == heading


@pytest.mark.parametrize(
    ("text", "what", "cure"),
    [
        ("45M", "45M is not a three-figure heading", "write 045M"),
        ("45.5° m", "45.5° m is not a three-figure heading", "write 045.5M"),
        ("0045", "0045 is not a three-figure heading", "write 045"),
        ("361", "361 is beyond 360", "write 001 if that is what is meant"),
        ("360.5T", "360.5T is beyond 360", "write 000.5T if that is what is meant"),
        ("-45", "-45 has a sign, and a heading has none", "write 315"),
        ("−0", "−0 has a sign, and a heading has none", "write 000"),
        ("045X", "045X names the unknown north X", "write for example 045M"),
        ("north", "north is not a three-figure heading", "write for example 045M"),
        ("", "an empty text is not a three-figure heading", "write for example 045M"),
        ("nan", "nan is not a three-figure heading", "write for example 045M"),
        ("1" * 20, "1" * 20 + " is not a three-figure heading", "write for example 045M"),
    ],
)
def test_a_refused_heading_comes_with_its_cure(text: str, what: str, cure: str) -> None:
    with pytest.raises(MaterialError) as refusal:
        parse_heading(text)
    assert str(refusal.value) == f"{what}; {ALLOWED}; {cure}  [heading-unreadable]"


@pytest.mark.parametrize(
    ("degrees", "north", "decimals", "shown"),
    [
        (43.0, "magnetic", 0, "043° M"),
        (7.45, "true", 1, "007.5° T"),
        (359.7, "magnetic", 0, "000° M"),
        (359.95, None, 1, "000.0°"),
        (359.94, None, 1, "359.9°"),
        (-1e-17, "compass", 0, "000° C"),
        (360.0, "gyro", 0, "000° gyro"),
        (-45.0, "grid", 0, "315° G"),
        (0.5, None, 0, "001°"),
    ],
)
def test_headings_are_shown_with_three_figures(degrees: float, north: North | None, decimals: int, shown: str) -> None:
    assert format_heading(degrees, north, decimals) == shown


@given(
    st.floats(min_value=-1000.0, max_value=1000.0),
    st.sampled_from([None, "true", "magnetic", "compass", "gyro", "grid"]),
    st.integers(min_value=0, max_value=3),
)
def test_a_shown_heading_is_read_back(degrees: float, north: North | None, decimals: int) -> None:
    shown = format_heading(degrees, north, decimals)
    heading = parse_heading(shown)
    assert format_heading(heading.degrees, heading.north, heading.decimals) == shown
    assert (heading.north, heading.decimals) == (north, decimals)
