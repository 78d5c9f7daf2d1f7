"""The plane an instrument lies in, and what the Earth's field is in it; all seen from the aircraft."""

from __future__ import annotations

import dataclasses
import math

from gyrochalk.figures.readings import column, reading, value_at
from gyrochalk.systems.run import Run
from gyrochalk.units import wrap_180, wrap_360

Vector = tuple[float, float, float]
"""Ahead along the heading, right of it, down."""
NEEDED = ("actual.heading", "actual.bank", "actual.pitch", "actual.load", "actual.load_bank", "actual.load_pitch")


@dataclasses.dataclass(frozen=True, slots=True)
class Plane:
    """A plane by the lines in which it cuts the upright planes across and along the heading.

    `bank_deg` right side down positive, `pitch_deg` front up positive, [−180, 180).
    """

    bank_deg: float
    pitch_deg: float

    @property
    def below(self) -> Vector:
        """The unit vector square to the plane, downwards."""
        right, ahead = -_tangent(self.bank_deg), _tangent(self.pitch_deg)
        length = math.sqrt(ahead * ahead + right * right + 1.0)
        down = 1.0 if abs(self.bank_deg) <= 90.0 else -1.0
        return down * ahead / length, down * right / length, down / length

    @property
    def tilt_deg(self) -> float:
        """Angle between the plane and the horizontal."""
        return math.degrees(math.acos(max(-1.0, min(1.0, self.below[2]))))


def _tangent(angle_deg: float) -> float:
    return math.tan(math.radians(angle_deg))


def dot(a: Vector, b: Vector) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _flattened(vector: Vector, square: Vector) -> Vector:
    """The part of a vector square to the unit vector `square`."""
    part = dot(vector, square)
    x, y, z = (v - part * n for v, n in zip(vector, square, strict=True))
    return x, y, z


@dataclasses.dataclass(frozen=True, slots=True)
class EarthView:
    """The field and a tilted instrument at one instant.

    `field_ut` ahead, right, down; `plane` the instrument's; `gravity` a plane square to apparent gravity, `load_g`
    its size; `along_ut`, `across_ut` the field in the instrument's plane, towards the nose and to the right;
    `valid` whether the instrument's reading means anything.
    """

    time_s: float
    instrument: str
    heading_deg: float
    bank_deg: float
    pitch_deg: float
    load_g: float
    gravity: Plane
    plane: Plane
    field_ut: Vector
    dip_deg: float
    along_ut: float
    across_ut: float
    reading_deg: float
    error_deg: float
    valid: bool

    @property
    def pulled_deg(self) -> float:
        """The heading [0, 360) that the field in the plane points at: what the instrument is pulled to read."""
        return float(wrap_360(math.degrees(math.atan2(-self.across_ut, self.along_ut))))

    @property
    def pulled_error_deg(self) -> float:
        """How far that is from the actual heading."""
        return float(wrap_180(self.pulled_deg - self.heading_deg))

    @property
    def total_ut(self) -> float:
        """Size of the whole field."""
        return math.sqrt(dot(self.field_ut, self.field_ut))

    @property
    def in_plane_ut(self) -> float:
        """Size of the field in the plane."""
        return math.hypot(self.along_ut, self.across_ut)


def earth_view(run: Run, instrument: str, time_s: float) -> EarthView:
    """The field and the plane of `instrument` (card or detector) at `time_s` from the start of the run.

    Raises MaterialError (figure-channel) if the run lacks a channel for it.
    """
    fields = ("field.horizontal", "field.dip")
    own = tuple(f"{instrument}.{what}" for what in ("tilt_bank", "tilt_pitch", "heading", "error"))
    names = (*NEEDED, *fields, *own)
    for name in names:
        column(run, name)
    heading, bank, pitch, load, load_bank, load_pitch, level, dip, tilt_bank, tilt_pitch, shown, error = (
        value_at(run, name, time_s) for name in names
    )
    plane = Plane(tilt_bank, tilt_pitch)
    field = field_from(heading, level, dip)
    along, across = in_plane(field, plane, pitch)
    return EarthView(
        time_s, instrument, heading, bank, pitch, load, Plane(load_bank, load_pitch), plane, field, dip, along, across,
        shown, error, reading(run, instrument, time_s).valid,
    )  # fmt: skip


def field_from(heading_deg: float, horizontal_ut: float, dip_deg: float) -> Vector:
    """The Earth's field [µT] ahead, right and down.

    `heading_deg` magnetic, 0 to 360; `horizontal_ut` the horizontal part; `dip_deg` north end down positive.
    """
    heading = math.radians(heading_deg)
    down = horizontal_ut * _tangent(dip_deg)
    return horizontal_ut * math.cos(heading), -horizontal_ut * math.sin(heading), down


def in_plane(field: Vector, plane: Plane, pitch_deg: float) -> tuple[float, float]:
    """The field's parts in a plane: along the nose as it falls on the plane, and square to that, to the right.

    `pitch_deg` the aircraft's, nose up positive.
    """
    pitch = math.radians(pitch_deg)
    nose = (math.cos(pitch), 0.0, -math.sin(pitch))
    below = plane.below
    x = _flattened(nose, below)
    size = math.sqrt(dot(x, x))
    x = (x[0] / size, x[1] / size, x[2] / size)
    y = (
        below[1] * x[2] - below[2] * x[1],
        below[2] * x[0] - below[0] * x[2],
        below[0] * x[1] - below[1] * x[0],
    )
    return dot(field, x), dot(field, y)
