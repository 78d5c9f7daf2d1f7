"""Angles with a letter for their side."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gyrochalk.errors import MaterialError
from gyrochalk.units import Axis, parse_angle_place

LATITUDE = "a latitude is 0 to 90 degrees N or S"
LONGITUDE = "a longitude is 0 to 180 degrees E or W"
VARIATION = "a variation is 0 to 180 degrees E or W"


@pytest.mark.parametrize(
    ("text", "axis", "degrees"),
    [
        ("52.5 N", "latitude", 52.5),
        ("52,5S", "latitude", -52.5),
        ("52 30 N", "latitude", 52.5),
        ("52°30′ N", "latitude", 52.5),
        ("52° 30' 36\" n", "latitude", 52.51),
        ("N52 30", "latitude", 52.5),
        ("90 S", "latitude", -90.0),
        ("1.25 W", "longitude", -1.25),
        ("180 E", "longitude", 180.0),
        ("12W", "variation", -12.0),
        ("12 deg W", "variation", -12.0),
        ("0", "variation", 0.0),
        ("0°", "deviation", 0.0),
        ("3E", "deviation", 3.0),
    ],
)
def test_north_and_east_are_positive(text: str, axis: Axis, degrees: float) -> None:
    assert parse_angle_place(text, axis) == degrees


@pytest.mark.parametrize(
    ("text", "axis", "message"),
    [
        ("52.5", "latitude", f"52.5 has no letter N or S; {LATITUDE}; write for example 52.5 N  [unit-missing]"),
        ("91 N", "latitude", f"91 N is beyond 90; {LATITUDE}; write for example 52.5 N  [out-of-range]"),
        (
            "12W",
            "latitude",
            f"12W has the letter W, but a latitude has N or S; {LATITUDE}; write for example 52.5 N  [unit-wrong]",
        ),
        ("-5 N", "latitude", f"-5 N is not a latitude; {LATITUDE}; write for example 52.5 N  [number-unreadable]"),
        ("nan N", "latitude", f"nan N is not a latitude; {LATITUDE}; write for example 52.5 N  [number-unreadable]"),
        ("N 52 N", "latitude", f"N 52 N is not a latitude; {LATITUDE}; write for example 52.5 N  [number-unreadable]"),
        (
            "52.5 30 N",
            "latitude",
            f"52.5 30 N has a fraction before its last figure; {LATITUDE}; "
            "write for example 52.5 N  [number-unreadable]",
        ),
        (
            "52 60 N",
            "latitude",
            f"52 60 N has 60 minutes or seconds or more; {LATITUDE}; write for example 52.5 N  [out-of-range]",
        ),
        ("180.1 W", "longitude", f"180.1 W is beyond 180; {LONGITUDE}; write for example 1.25 W  [out-of-range]"),
        ("3", "variation", f"3 has no letter E or W; {VARIATION}; write for example 3 E  [unit-missing]"),
        (
            "",
            "longitude",
            f"an empty text is not a longitude; {LONGITUDE}; write for example 1.25 W  [number-unreadable]",
        ),
    ],
)
def test_a_refused_place_comes_with_its_cure(text: str, axis: Axis, message: str) -> None:
    with pytest.raises(MaterialError) as refusal:
        parse_angle_place(text, axis)
    assert str(refusal.value) == message


@given(st.integers(0, 89), st.integers(0, 59), st.sampled_from("NS"))
def test_degrees_and_minutes_say_the_same_as_decimals(degrees: int, minutes: int, letter: str) -> None:
    in_minutes = parse_angle_place(f"{degrees} {minutes} {letter}", "latitude")
    in_decimals = parse_angle_place(f"{degrees + minutes / 60:.12f} {letter}", "latitude")
    assert in_minutes == pytest.approx(in_decimals, abs=1e-11)
