"""What the numbers of actions and faults may be."""

from __future__ import annotations

from gyrochalk.systems.actions import (
    Action,
    ClutchToDetector,
    DetectorFault,
    Disturbance,
    Fault,
    GyroDrift,
    HoldToAlign,
    SetGyro,
    SetNut,
)
from gyrochalk.systems.flight_ranges import LONGEST_S, Range, given
from gyrochalk.systems.setup import Setup


def event_ranges(setup: Setup) -> list[Range]:
    """Limits of all actions and faults of a setup."""
    rows: list[Range] = []
    for number, action in enumerate(setup.actions, start=1):
        rows += action_ranges(f"action {number}", action)
    for number, fault in enumerate(setup.faults, start=1):
        rows += fault_ranges(f"fault {number}", fault)
    return rows


def action_ranges(name: str, action: Action) -> list[Range]:
    """Limits of one action, called `name`."""
    rows: list[Range] = [(f"{name}'s time", action.at_s, "s", 0.0, LONGEST_S)]
    if isinstance(action, HoldToAlign):
        rows.append((f"{name}'s duration", action.duration_s, "s", 0.0, LONGEST_S))
    elif isinstance(action, (ClutchToDetector, SetGyro)):
        rows += given(f"{name}'s heading", action.heading_deg, "deg", -720.0, 720.0)
    elif isinstance(action, SetNut):
        rows += given(f"{name}'s nut", action.latitude_deg, "deg", -90.0, 90.0)
    return rows


def fault_ranges(name: str, fault: Fault) -> list[Range]:
    """Limits of one fault, called `name`; it ends no sooner than it begins."""
    rows: list[Range] = [(f"{name}'s start", fault.at_s, "s", 0.0, LONGEST_S)]
    rows += given(f"{name}'s end", fault.until_s, "s", fault.at_s, LONGEST_S)
    if isinstance(fault, Disturbance):
        rows += [(f"{name}'s field", value, "uT", -1000.0, 1000.0) for value in fault.field_ut]
    elif isinstance(fault, DetectorFault):
        rows.append((f"{name}'s leg", float(fault.leg), "1", 1.0, 3.0))
    elif isinstance(fault, GyroDrift):
        rows.append((f"{name}'s drift", fault.drift_deg_h, "deg/h", -1000.0, 1000.0))
    return rows
