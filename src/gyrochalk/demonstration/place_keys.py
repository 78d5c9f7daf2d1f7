"""Where a demonstration is flown and in which field."""

from __future__ import annotations

import dataclasses
import datetime
import re
from typing import Annotated, Any, ClassVar

from pydantic import model_validator

from gyrochalk.demonstration.section import Section, key
from gyrochalk.demonstration.values import Angle, DateValue, Quantity, Text
from gyrochalk.systems.places import FieldChoice, ModelField, Place, StatedField

DEFAULT_PLACE = Place(52.5, 1.0, 0.0, "52.5 N, 1 E")
"""Where a demonstration is flown that names no place: a point for the magnetic field, nothing more."""

_TWO = re.compile(r"\s*(?P<latitude>.*?[NSns])(?:\s*,\s*|\s+|\s*/\s*)(?P<longitude>.*)")


def split_position(text: str) -> dict[str, Any] | None:
    """ "52.5 N, 1 E" as its two keys, or None."""
    match = _TWO.fullmatch(text)
    return match.groupdict() if match else None


class PlaceKeys(Section):
    """A point on the Earth."""

    target: ClassVar[type | None] = Place
    shorthand: ClassVar[str] = "52.5 N, 1 E"

    name: Annotated[str, Text(80)] = key("name", "A name for people.")
    latitude_deg: Annotated[float, Angle("latitude", most=89.5)] = key("latitude", "Latitude, 52.5 N.")
    longitude_deg: Annotated[float, Angle("longitude")] = key("longitude", "Longitude, 1.25 E.")
    height_ft: Annotated[float, Quantity("ft", -1500, 60_000)] = key("height", "Height of the start above sea level.")

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """ "52.5 N, 1 E"."""
        return split_position(text)

    def place(self) -> Place:
        """The place, with the default for what is not written."""
        moved = "latitude_deg" in self.model_fields_set
        place: Place = self.build(dataclasses.replace(DEFAULT_PLACE, name="") if moved else DEFAULT_PLACE)
        return place

    @model_validator(mode="after")
    def _both(self) -> PlaceKeys:
        self.require_both("latitude", "longitude")
        return self


class FieldKeys(Section):
    """A uniform magnetic field, stated outright."""

    target: ClassVar[type | None] = StatedField

    horizontal_ut: Annotated[float, Quantity("uT", 0.1, 70)] = key("horizontal", "Horizontal strength, 19 uT.")
    dip_deg: Annotated[float, Quantity("deg", -89.9, 89.9)] = key("dip", "Dip, north end down positive, 67 deg.")
    variation_deg: Annotated[float, Angle("variation")] = key("variation", "Variation, 2 W; 0 if absent.")

    @model_validator(mode="after")
    def _needed(self) -> FieldKeys:
        self.require("horizontal", "dip")
        return self

    def field(self) -> StatedField:
        """The field."""
        return StatedField(**self.given())


DateKey = Annotated[datetime.date, DateValue()]


def choose_field(date: datetime.date | None, stated: FieldKeys | None) -> FieldChoice:
    """The stated field, or the model of the date, or the model of the default date."""
    if stated is not None:
        return stated.field()
    return ModelField(date) if date is not None else ModelField()
