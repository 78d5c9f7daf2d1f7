"""What the crew does during a flight, and what goes wrong; each at a time from the start of the run."""

from __future__ import annotations

import dataclasses

from gyrochalk.systems.instruments import NO_VECTOR, Triple


@dataclasses.dataclass(frozen=True, slots=True)
class HoldToAlign:
    """Hold the alignment switch from `at_s` for `duration_s`: the loop runs at its hold-down rate."""

    at_s: float
    duration_s: float


@dataclasses.dataclass(frozen=True, slots=True)
class SetSlaving:
    """Select slaved (True) or free (False)."""

    at_s: float
    slaved: bool


@dataclasses.dataclass(frozen=True, slots=True)
class ClutchToDetector:
    """Declutch the slaved card and set it by hand to what the detector reads, or to `heading_deg` if given."""

    at_s: float
    heading_deg: float | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class SetGyro:
    """Cage the unslaved gyro, set its card and let go: to `heading_deg`, or to what the direct compass reads.

    Caging also erects a toppled gyro.
    """

    at_s: float
    heading_deg: float | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class SetNut:
    """Set the latitude nut of both gyros (None: off)."""

    at_s: float
    latitude_deg: float | None


@dataclasses.dataclass(frozen=True, slots=True)
class SwitchRotor:
    """Switch the rotor supply of both gyros on or off."""

    at_s: float
    on: bool


@dataclasses.dataclass(frozen=True, slots=True)
class SwitchLoad:
    """Switch a named electrical load on or off."""

    at_s: float
    name: str
    on: bool


Action = HoldToAlign | SetSlaving | ClutchToDetector | SetGyro | SetNut | SwitchRotor | SwitchLoad


@dataclasses.dataclass(frozen=True, slots=True)
class Disturbance:
    """A field added at the detector [µT: north, east, down] from `at_s` to `until_s` (None: to the end)."""

    at_s: float
    until_s: float | None = None
    field_ut: Triple = NO_VECTOR


DETECTOR_FAULTS = ("no excitation", "leg dead", "leg reversed", "line open", "lines shorted", "lines swapped")
"""The kinds of a `DetectorFault`."""


@dataclasses.dataclass(frozen=True, slots=True)
class DetectorFault:
    """An electrical fault of the detector or its lines.

    `kind`: "no excitation", "leg dead" (no voltage, circuit closed), "leg reversed", "line open", "lines shorted",
    "lines swapped". `leg` (1..3) is the leg or line concerned; for two lines it is the one that stays whole.
    """

    kind: str
    at_s: float
    until_s: float | None = None
    leg: int = 1


@dataclasses.dataclass(frozen=True, slots=True)
class MotorStopped:
    """The correction motor gives no torque: the comparison goes on, nothing moves."""

    at_s: float
    until_s: float | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class GyroDrift:
    """Both gyros take up another drift [deg/h, reading increases]."""

    at_s: float
    drift_deg_h: float
    until_s: float | None = None


Fault = Disturbance | DetectorFault | MotorStopped | GyroDrift
