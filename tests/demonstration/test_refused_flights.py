"""What is said about flights that cannot be flown, and actions and faults that cannot happen."""

from __future__ import annotations

from collections.abc import Callable

import pytest

Refusal = Callable[..., list[str]]

LEGS = "stand, hold, taxi, turn, accelerate, climb, descend, great_circle"

CASES = {
    "empty flight": (
        "gyrochalk: 1\nflight: {speed: 100 kt, legs: []}\n",
        '2:31  legs: the flight has no legs; one leg or more; add for example "- hold: 10 min" below legs  '
        "[flight-empty]",
    ),
    "flight without legs": (
        "gyrochalk: 1\nflight: {speed: 100 kt}\n",
        '2:9  flight: the flight has no legs; one leg or more; add for example "- hold: 10 min" below legs  '
        "[flight-empty]",
    ),
    "unknown leg": (
        "gyrochalk: 1\nflight:\n  legs:\n    - trun: right 90 deg\n",
        f'4:7  the key "trun" means nothing here; allowed are {LEGS}; did you mean "turn"?  [key-unknown]',
    ),
    "two legs in one": (
        "gyrochalk: 1\nflight: {legs: [{hold: 1 min, stand: 1 min}]}\n",
        f"2:24  hold: stand and hold exclude each other; one of {LEGS}; remove hold  [key-conflict]",
    ),
    "turn both ways": (
        "gyrochalk: 1\nflight: {legs: [{turn: {right: 90 deg, left: 90 deg}}]}\n",
        "2:46  left: right and left exclude each other; one of right, left, right_to, left_to, to; remove left  "
        "[key-conflict]",
    ),
    "turn nowhere": (
        "gyrochalk: 1\nflight: {legs: [{turn: {bank: 20 deg}}]}\n",
        "2:24  turn: a key is missing; one of right, left, right_to, left_to, to; add one of them  [key-conflict]",
    ),
    "turn standing still": (
        "gyrochalk: 1\nflight: {speed: 0 kt, legs: [{turn: right 90 deg}]}\n",
        "2:37  turn: a turn begins at 0 kt; a speed above 0 kt; set speed, or accelerate first  [flight-impossible]",
    ),
    "standing at speed": (
        "gyrochalk: 1\nflight: {legs: [{stand: 1 min}]}\n",
        "2:25  stand: the aircraft stands still at 100 kt; a speed of 0 kt; write hold, or speed: 0 kt  "
        "[flight-impossible]",
    ),
    "bank that the rate would need": (
        "gyrochalk: 1\nflight: {speed: 500 kt, legs: [{turn: {right: 90 deg, rate: 20 deg/s}}]}\n",
        "2:61  rate: 20.0 °/s at 500 kt needs 83.8° of bank; 80° of bank at most; turn more gently or fly slower  "
        "[flight-impossible]",
    ),
    "slowing down past nothing": (
        "gyrochalk: 1\nflight: {legs: [{accelerate: {by: -0.1 g, for: 10 min}}]}\n",
        "2:48  for: the speed would be −1044 kt at the end; 0 kt to 1000 kt; accelerate for less time  "
        "[flight-impossible]",
    ),
    "speeding up to less": (
        "gyrochalk: 1\nflight: {legs: [{accelerate: {by: 0.1 g, to: 60 kt}}]}\n",
        "2:46  to: 0.1 g leads away from 60 kt from 100 kt; a speed above the present one when by is positive, "
        "below when negative; change by or to  [flight-impossible]",
    ),
    "climb to where one is": (
        "gyrochalk: 1\nplace: {latitude: 52 N, longitude: 1 E, height: 5000 ft}\n"
        "flight: {legs: [{climb: {at: 500 ft/min, to: 3000 ft}}]}\n",
        "3:46  to: a climb to 3000 ft begins at 5000 ft; a height above that; "
        "change the height, or the height of the place  [flight-impossible]",
    ),
    "climb too steep": (
        "gyrochalk: 1\nflight: {legs: [{climb: {at: 9000 ft/min, for: 1 min}}]}\n",
        "2:30  at: 9000 ft/min at 100 kt is too steep; 70% of the true airspeed at most; "
        "climb or descend more gently  [flight-impossible]",
    ),
    "legs and a recording": (
        "gyrochalk: 1\nflight: {recorded: flights/a.csv, legs: [{hold: 1 min}]}\n",
        "2:41  legs: recorded and legs exclude each other; legs with their start, or a recorded flight alone; "
        "remove legs or recorded  [key-conflict]",
    ),
    "action after the end": (
        "gyrochalk: 1\nflight: {legs: [{hold: 1 min}]}\nactions: [{at: 2 min, select: free}]\n",
        "3:16  at: 120 s is after the end of the flight; a time within the flight, which lasts 60 s at most; "
        "lengthen the flight or choose an earlier time  [out-of-range]",
    ),
    "action without a time": (
        "gyrochalk: 1\nactions: [{select: free}]\n",
        '2:11  actions: the key "at" is missing; a value for it; add at  [key-missing]',
    ),
    "action that does nothing": (
        "gyrochalk: 1\nactions: [{at: 1 min}]\n",
        "2:11  actions: a key is missing; one of hold_alignment, select, set_slaved_card, set_gyro, latitude_nut, "
        "rotors, switch_on, switch_off; add one of them  [key-conflict]",
    ),
    "no such load": (
        "gyrochalk: 1\nactions: [{at: 1 min, switch_on: radio}]\n",
        '2:34  switch_on: there is no load "radio"; loads named below aircraft; name it below loads  [choice-unknown]',
    ),
    "fault that ends before it begins": (
        "gyrochalk: 1\nfaults: [{from: 2 min, until: 1 min, motor: stopped}]\n",
        "2:31  until: the fault ends before it begins; a time after from; change from or until  [out-of-range]",
    ),
    "disturbance without a field": (
        "gyrochalk: 1\nfaults: [{from: 2 min, disturbance: {}}]\n",
        "2:37  disturbance: the disturbance has no field; one or more of north, east, down; add for example east: 5 uT"
        "  [key-missing]",
    ),
    "no such leg of the detector": (
        "gyrochalk: 1\nfaults: [{from: 2 min, detector: {kind: leg dead, leg: 4}}]\n",
        "2:56  leg: 4 is out of range; allowed is a whole number from 1 to 3; write a value in that range  "
        "[out-of-range]",
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_one_problem(refusal: Refusal, case: str) -> None:
    text, message = CASES[case]
    assert [line.removeprefix("demonstrations/orbit.yaml") for line in refusal(text)] == [message]
