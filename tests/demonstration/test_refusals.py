"""What is said about keys and values that mean nothing: the whole message, with line and column, all at once."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Refusal = Callable[..., list[str]]

ROOT_KEYS = (
    "gyrochalk, title, look_for, notes, place, date, field, earth, aircraft, flight, compass, gyros, unslaved_gyro, "
    "slaved_gyro, detector, loop, actions, faults, effects, seed, sample, tolerance, measures, variants"
)
EFFECTS = (
    "earth rate, transport, coriolis, drift, gimballing, detector tilt, swirl, friction, deviation, noise, levelling"
)
HEADING = "a heading is three figures from 000 to 360, with T, M or C after it for the north it is from"

CASES = {
    "unknown key": (
        "gyrochalk: 1\ntitel: Orbit\n",
        f'2:1  the key "titel" means nothing here; allowed are {ROOT_KEYS}; did you mean "title"?  [key-unknown]',
    ),
    "unknown key with nothing like it": (
        "gyrochalk: 1\nplace: {qqq: 1}\n",
        '2:9  the key "qqq" means nothing here; allowed are name, latitude, longitude, height; remove it  '
        "[key-unknown]",
    ),
    "duplicate key": (
        "gyrochalk: 1\ntitle: One\nseed: 1\ntitle: Two\n",
        '4:1  the key "title" stands twice, first in line 2; each key once in its group; remove one of the two  '
        "[key-duplicate]",
    ),
    "key without a value": (
        "gyrochalk: 1\nseed:\n",
        "2:1  seed: there is no value; a whole number from 0 to 2147483647; write one or remove the key  "
        "[value-missing]",
    ),
    "group without keys": (
        "gyrochalk: 1\nplace:\n",
        "2:1  place: nothing stands here; allowed are the keys name, latitude, longitude, height, or for example "
        "52.5 N, 1 E; fill it or remove the key  [value-missing]",
    ),
    "missing key": (
        "gyrochalk: 1\nfield: {horizontal: 19 uT}\n",
        '2:8  field: the key "dip" is missing; a value for it; add dip  [key-missing]',
    ),
    "keys that exclude each other": (
        "gyrochalk: 1\ndate: 2026-01-01\nfield: {horizontal: 19 uT, dip: 67 deg}\n",
        "3:8  field: date and field exclude each other; one of date, field; remove field  [key-conflict]",
    ),
    "group for a value": (
        "gyrochalk: 1\nseed: {a: 1}\n",
        "2:7  seed: a group of keys stands here; a single value; write one value  [value-kind]",
    ),
    "list for a value": (
        "gyrochalk: 1\nseed: [1]\n",
        "2:7  seed: a list stands here; a single value; write one value  [value-kind]",
    ),
    "value for a group": (
        "gyrochalk: 1\nloop: slow\n",
        "2:7  loop: a single value stands here; allowed are the keys law, slow_rate, band, dead_zone, lag, "
        "reference_field, fast_rate, large_error, settled, automatic, hold_rate, hold_band, slaved, cut_off, "
        "indicator_time; write the keys below it  [value-kind]",
    ),
    "a key without its colon": (
        "gyrochalk: 1\nflight:\n  legs:\n    - hold 2 min\n",
        "4:7  legs: hold has no colon after it; allowed are the keys stand, hold, taxi, turn, accelerate, climb, "
        "descend, great_circle; did you mean hold: 2 min?  [value-kind]",
    ),
    "value for a list": (
        "gyrochalk: 1\nactions: none\n",
        "2:10  actions: a single value stands here; a list; write a line with a hyphen for each entry  [value-kind]",
    ),
    "no unit": (
        "gyrochalk: 1\nflight: {speed: 100, legs: [{hold: 1 min}]}\n",
        "2:17  speed: 100 has no unit; allowed are kt, km/h, m/s, ft/min; write for example 100 kt  [unit-missing]",
    ),
    "wrong unit": (
        "gyrochalk: 1\nloop: {slow_rate: 3 kt}\n",
        "2:19  slow_rate: 3 kt is a speed, not an angular rate; allowed are deg/s, deg/min, deg/h; "
        "write for example 3 deg/min  [unit-wrong]",
    ),
    "not a number": (
        "gyrochalk: 1\nloop: {slow_rate: NaN deg/min}\n",
        "2:19  slow_rate: NaN deg/min is not a finite number; allowed is a number with its unit; "
        "write for example 3 deg/min  [number-unreadable]",
    ),
    "latitude 91": (
        "gyrochalk: 1\nplace: {latitude: 91 N, longitude: 1 E}\n",
        "2:19  latitude: 91 N is beyond 90; a latitude is 0 to 90 degrees N or S; write for example 52.5 N  "
        "[out-of-range]",
    ),
    "latitude at the pole": (
        "gyrochalk: 1\nplace: 89.8 N, 1 E\n",
        "2:8  place: 89.8 N is out of range; allowed is at most 89.5 N or S, where headings still mean something; "
        "write a value in that range  [out-of-range]",
    ),
    "bank 95": (
        "gyrochalk: 1\nflight: {legs: [{turn: {right: 90 deg, bank: 95 deg}}]}\n",
        "2:46  bank: 95 deg is out of range; allowed is more than 0 deg, at most 80 deg; write a value in that range  "
        "[out-of-range]",
    ),
    "negative duration": (
        "gyrochalk: 1\nflight: {legs: [{hold: -5 min}]}\n",
        "2:24  hold: -5 min is out of range; allowed is more than 0 s, at most 86400 s; write a value in that range  "
        "[out-of-range]",
    ),
    "two-figure heading": (
        "gyrochalk: 1\nflight: {heading: 45, legs: [{hold: 1 min}]}\n",
        f"2:19  heading: 45 is not a three-figure heading; {HEADING}; write 045  [heading-unreadable]",
    ),
    "compass heading at the start": (
        "gyrochalk: 1\nflight: {heading: 045C, legs: [{hold: 1 min}]}\n",
        "2:19  heading: 045C is from compass north; a heading from magnetic or true north; write for example 045M  "
        "[choice-unknown]",
    ),
    "no such choice": (
        "gyrochalk: 1\nloop: {automatic: allways}\n",
        '2:19  automatic: "allways" is none of the choices; allowed are never, at switch-on, always; '
        'did you mean "always"?  [choice-unknown]',
    ),
    "neither yes nor no": (
        "gyrochalk: 1\nloop: {slaved: perhaps}\n",
        '2:16  slaved: "perhaps" is neither yes nor no; allowed are yes, no, on, off, true, false; write yes or no  '
        "[choice-unknown]",
    ),
    "no such effect": (
        "gyrochalk: 1\neffects: [noise, swril]\n",
        f'2:18  effects: "swril" is none of the choices; allowed are {EFFECTS}; did you mean "swirl"?  '
        "[choice-unknown]",
    ),
    "date outside every model": (
        "gyrochalk: 1\ndate: 2031-01-01\n",
        "2:7  date: no magnetic model covers 2031-01-01; 2010-01-01 to 2029-12-31, the years of the magnetic models "
        "at hand; choose a date in that range, or state the field with horizontal and dip  [field-date]",
    ),
    "no such day": (
        "gyrochalk: 1\ndate: 2026-02-30\n",
        '2:7  date: "2026-02-30" is not a date; a date with the year first; write for example 2026-01-01  '
        "[number-unreadable]",
    ),
    "long text": (
        f"gyrochalk: 1\ntitle: {'x' * 121}\n",
        "2:8  title: the text has 121 characters; at most 120 characters; shorten it  [out-of-range]",
    ),
    "settled beyond large error": (
        "gyrochalk: 1\nloop: {settled: 8 deg}\n",
        "2:17  settled: settled 8.00° is not below large_error 5.00°; settled less than large_error; "
        "change settled or large_error  [out-of-range]",
    ),
    "dead zone beyond the hold-down band": (
        "gyrochalk: 1\nloop: {dead_zone: 20 deg, band: 30 deg}\n",
        "  dead zone is 20 deg; allowed is 0 to 14.85 deg; choose a value in that range  [out-of-range]",
    ),
    "measure with a bad name": (
        "gyrochalk: 1\nmeasures: {Worst Error: {channel: slaved.error, reducer: peak}}\n",
        '2:12  "Worst Error" is no name for a measure; small letters, figures and low lines, beginning with a letter, '
        "at most 60; write for example worst_error  [name-unreadable]",
    ),
    "measure with an unknown key": (
        "gyrochalk: 1\nmeasures:\n  worst:\n    channel: slaved.error\n    reducer: peak\n    winow: {}\n",
        '6:5  worst: the key "winow" means nothing here; allowed are channel, reducer, window, unit, description; '
        'did you mean "window"?  [key-unknown]',
    ),
    "measure that is no group": (
        "gyrochalk: 1\nmeasures: {worst: peak}\n",
        "2:19  worst: a single value or a list stands here; the keys channel, reducer and what the reducer needs; "
        "write the keys below it  [value-kind]",
    ),
    "variant with a bad name": (
        "gyrochalk: 1\nvariants: {Full Speed: {seed: 2}}\n",
        '2:12  "Full Speed" is no name for a variant; small letters, figures and hyphens, beginning with a letter or '
        "figure, at most 60; write for example full-speed  [name-unreadable]",
    ),
    "variant with measures": (
        "gyrochalk: 1\nvariants: {fast: {measures: {}}}\n",
        '2:19  the key "measures" means nothing here; allowed are title, look_for, notes, place, date, field, earth, '
        "aircraft, flight, compass, gyros, unslaved_gyro, slaved_gyro, detector, loop, actions, faults, effects, seed,"
        " sample, tolerance; move it out of the variant  [key-unknown]",
    ),
    "variant that is no group": (
        "gyrochalk: 1\nvariants: {fast: textbook}\n",
        "2:18  fast: a single value or a list stands here; keys laid over those above; write the keys below it  "
        "[value-kind]",
    ),
    "fault in a variant alone": (
        "gyrochalk: 1\nloop: {band: 3 deg}\nvariants: {fast: {loop: {slow_rate: 3 kt}}}\n",
        "3:37  slow_rate: 3 kt is a speed, not an angular rate; allowed are deg/s, deg/min, deg/h; "
        "write for example 3 deg/min  [unit-wrong]",
    ),
    "fault of the base told once": (
        "gyrochalk: 1\nloop: {band: 3 kt}\nvariants: {fast: {seed: 2}, slow: {seed: 3}}\n",
        "2:14  band: 3 kt is a speed, not an angle; allowed are deg, rad; write for example 3 deg  [unit-wrong]",
    ),
    "sweep without steps": (
        "gyrochalk: 1\nloop: {band: {sweep: {from: 1 deg, to: 5 deg}}}\n",
        "2:14  band: the sweep cannot be read; sweep: {from: 1 deg/min, to: 6 deg/min, steps: 6}, both ends with the "
        "same unit; write it like that  [sweep-unreadable]",
    ),
    "sweep with two units": (
        "gyrochalk: 1\nloop: {band: {sweep: {from: 1 deg, to: 1 rad, steps: 3}}}\n",
        "2:14  band: the sweep cannot be read; sweep: {from: 1 deg/min, to: 6 deg/min, steps: 6}, both ends with the "
        "same unit; write it like that  [sweep-unreadable]",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_one_problem(refusal: Refusal, case: str) -> None:
    text, message = CASES[case]
    assert [line.removeprefix("demonstrations/orbit.yaml") for line in refusal(text)] == [message]


def test_all_problems_at_once_in_order(refusal: Refusal) -> None:
    found = refusal("gyrochalk: 1\nflight:\n  speed: 100\n  legs:\n    - hold: -1 min\n    - trun: 3 deg\ndate: soon\n")
    assert [line.split("  ")[0] for line in found] == ["3:10", "5:13", "6:7", "7:7"]
