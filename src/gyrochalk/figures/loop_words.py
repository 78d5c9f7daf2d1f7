"""What is written on the links and devices of the slaving loop, and the sentence over it."""

from __future__ import annotations

from gyrochalk.figures.finding import degrees, seconds, side
from gyrochalk.figures.loop_state import RESTING, Device, Link, LoopState, State
from gyrochalk.figures.words import Words
from gyrochalk.units import format_heading, format_quantity

RATES = {0: "not connected", 1: "slow rate", 2: "fast rate", 3: "held to align"}


def links_of(now: LoopState) -> tuple[Link, ...]:
    """The six links in the order of the chain."""
    return (
        Link("detector", "comparison", _sensed(now), _field(now), "signal" if now.wires == "whole" else "broken"),
        Link("comparison", "amplifier", _difference(now), _standing(now), _acting(now, now.difference_deg)),
        Link("amplifier", "motor", rate(now.demanded), _asking(now), _to_motor(now)),
        Link("motor", "gyro", rate(now.correction), _precessing(now), _to_gyro(now)),
        Link("gyro", "card", _shown(now), "turns the card", "signal" if now.slaved.valid else "broken"),
        Link("card", "comparison", _shown(now), "fed back", "signal" if now.slaved.valid else "broken"),
    )


def rate(deg_min: float) -> str:
    """A rate of correction `deg_min` [deg/min] with its sign: "+3.0 °/min"; none at all is "0.0 °/min"."""
    text = unsigned_rate(deg_min)
    return f"+{text}" if deg_min >= RESTING else text


def unsigned_rate(deg_min: float) -> str:
    """A rate `deg_min` [deg/min] as it is shown: one decimal below a hundred, none above."""
    return format_quantity(deg_min, "deg/min", 1 if abs(deg_min) < 99.95 else 0)


def signed(deg: float) -> str:
    """An angle with its sign: "+12.3°"."""
    text = format_quantity(deg, "deg", 1)
    return f"+{text}" if deg >= RESTING else text


def _sensed(now: LoopState) -> str:
    return format_heading(now.detector.heading_deg, "magnetic", 1) if now.detector.valid else "no signal"


def _field(now: LoopState) -> str:
    if now.wires not in ("whole", "silent"):
        return next(text for text in now.faults if text.startswith(("detector leg", "detector line")))[9:]
    return format_quantity(now.field_ut, "uT", 1)


def _shown(now: LoopState) -> str:
    return format_heading(now.slaved.heading_deg, "magnetic", 1) if now.slaved.valid else "no heading"


def _difference(now: LoopState) -> str:
    if not now.slaved.valid:
        return "no heading"
    return signed(now.difference_deg) if now.detector.valid else "no signal"


def _standing(now: LoopState) -> str:
    if not (now.detector.valid and now.slaved.valid):
        return "nothing to compare"
    if abs(now.difference_deg) < RESTING:
        return "they agree"
    return "detector is higher" if now.difference_deg > 0 else "detector is lower"


def _acting(now: LoopState, value: float) -> State:
    if not (now.detector.valid and now.slaved.valid):
        return "rest"
    return "acting" if abs(value) >= RESTING else "rest"


def _asking(now: LoopState) -> str:
    if now.mode == 0:
        return "cut off" if now.cut_off else "switched off"
    return f"asks for {'nothing' if abs(now.demanded) < RESTING else 'more' if now.demanded > 0 else 'less'}"


def _to_motor(now: LoopState) -> State:
    if now.mode == 0:
        return "broken"
    return "acting" if abs(now.demanded) >= RESTING else "rest"


def _precessing(now: LoopState) -> str:
    if abs(now.correction) < RESTING:
        return "no torque"
    return "precesses it up" if now.correction > 0 else "precesses it down"


def _to_gyro(now: LoopState) -> State:
    if "motor" in now.broken:
        return "broken"
    return "acting" if abs(now.correction) >= RESTING else "rest"


def notes_of(now: LoopState) -> dict[Device, str]:
    """What each device is doing, in a word or two."""
    turning = abs(now.correction) >= RESTING
    return {
        "detector": f"tilted {degrees(abs(now.tilt_deg))}" if abs(now.tilt_deg) >= RESTING else "level",
        "comparison": "at the null" if abs(now.difference_deg) < RESTING and now.detector.valid else "",
        "amplifier": RATES.get(now.mode, RATES[0]),
        "motor": "stopped" if "motor" in now.broken else ("turns" if turning else "at rest"),
        "gyro": "holds" if now.slaved.valid else "toppled",
        "card": side(now.slaved.error_deg) if now.slaved.valid else "lost",
    }


def loop_finding(now: LoopState, words: Words) -> str:
    """What the loop does, in a sentence: "At 70 s the detector reads 39° low; the motor brings the reading down …"."""
    when = f"At {seconds(now.time_s)}"
    if not now.slaved.valid:
        return f"{when} the gyro has toppled: the {words.slaved} shows nothing that means anything"
    if not now.detector.valid:
        return f"{when} no signal comes from the {words.detector}: the {words.slaved} is an unslaved gyro"
    apart = f"the {words.slaved} stands {degrees(abs(now.difference_deg))} from its {words.detector}"
    if now.mode == 0:
        why = "slaving is cut off by the turn" if now.cut_off else "slaving is off"
        return f"{when} {why}: {apart} and nothing corrects it"
    if "motor" in now.broken:
        return f"{when} the motor is stopped: {apart} and nothing corrects it"
    if abs(now.correction) < RESTING:
        agree = abs(now.difference_deg) < RESTING
        return f"{when} the loop is at rest: {f'card and {words.detector} agree' if agree else apart}"
    towards = "up" if now.correction > 0 else "down"
    fault = f" ({now.faults[0]})" if now.faults else ""
    larger = abs(now.detector.error_deg) >= abs(now.slaved.error_deg)
    who, error = (words.detector, now.detector.error_deg) if larger else (words.slaved, now.slaved.error_deg)
    out = "is right" if side(error) == "right" else f"reads {side(error)}"
    does = f"the motor brings the reading {towards} at {unsigned_rate(abs(now.correction))}"
    return f"{when}{fault} the {who} {out}; {does}"
