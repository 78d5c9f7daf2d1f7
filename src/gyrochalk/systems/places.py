"""Where a flight is flown, and which magnetic field is met there."""

from __future__ import annotations

import dataclasses
import datetime

DEFAULT_DATE = datetime.date(2026, 1, 1)


@dataclasses.dataclass(frozen=True, slots=True)
class Place:
    """A point on the Earth.

    `latitude_deg` north positive [-90, 90], `longitude_deg` east positive [-180, 180], `height_ft` above the
    ellipsoid; `name` is for people.
    """

    latitude_deg: float
    longitude_deg: float
    height_ft: float = 0.0
    name: str = ""


@dataclasses.dataclass(frozen=True, slots=True)
class ModelField:
    """The World Magnetic Model issue whose five years contain `date` (UTC)."""

    date: datetime.date = DEFAULT_DATE


@dataclasses.dataclass(frozen=True, slots=True)
class StatedField:
    """A uniform field stated outright: horizontal strength [µT], dip [deg, north end down positive], variation
    [deg, east positive]."""

    horizontal_ut: float
    dip_deg: float
    variation_deg: float = 0.0


FieldChoice = ModelField | StatedField
