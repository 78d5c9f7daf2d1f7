"""A recorded flight named in a demonstration: its file and what its columns mean."""

from __future__ import annotations

from pathlib import PurePosixPath, PureWindowsPath
from typing import Annotated, Any, ClassVar

from pydantic import model_validator

from gyrochalk.demonstration.refusal import refuse
from gyrochalk.demonstration.section import Section, key
from gyrochalk.demonstration.values import Choice, Quantity, Text
from gyrochalk.errors import Problem


class ColumnKeys(Section):
    """One column of the file."""

    shorthand: ClassVar[str] = "altitude"

    column: Annotated[str, Text(100)] = key("column", "The column's name in the header.")
    unit: Annotated[str, Text(20)] = key("unit", "Its unit, if the header does not say it in brackets.")

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """A column's name alone."""
        return {"column": text}

    @model_validator(mode="after")
    def _needed(self) -> ColumnKeys:
        self.require("column")
        return self


class ColumnsKeys(Section):
    """Which column holds what."""

    time: ColumnKeys = key("time", "Time: s, ms, min, h, or the unit utc for dates with time.")
    latitude: ColumnKeys = key("latitude", "Latitude, north positive.")
    longitude: ColumnKeys = key("longitude", "Longitude, east positive.")
    height: ColumnKeys = key("height", "Height.")
    ground_speed: ColumnKeys = key("ground_speed", "Ground speed.")
    track: ColumnKeys = key("track", "True track.")
    heading: ColumnKeys = key("heading", "Heading.")
    tas: ColumnKeys = key("tas", "True airspeed.")
    bank: ColumnKeys = key("bank", "Bank, right positive.")
    pitch: ColumnKeys = key("pitch", "Pitch, nose up positive.")
    vertical_speed: ColumnKeys = key("vertical_speed", "Vertical speed, climb positive.")


class RecordedKeys(Section):
    """A recorded flight, instead of legs."""

    shorthand: ClassVar[str] = "flights/circuit.csv"

    file: Annotated[str, Text(300)] = key("file", "The CSV file, from the workspace's folder.")
    columns: ColumnsKeys = key("columns", "Which column holds what; names that are the roles themselves need no entry.")
    heading_north: Annotated[str, Choice(("magnetic", "true"))] = key(
        "heading_north", "Which north the headings are from."
    )
    gap_limit_s: Annotated[float, Quantity("s", 0.1, 600)] = key(
        "gap_limit", "Longest gap that is bridged; 20 s if absent."
    )

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """A file alone."""
        return {"file": text}

    @model_validator(mode="after")
    def _needed(self) -> RecordedKeys:
        self.require("file")
        if PurePosixPath(self.file).is_absolute() or PureWindowsPath(self.file).is_absolute() or "\\" in self.file:
            allowed = "a file below the workspace's folder, written with /"
            cure = "put the file into the folder flights and write flights/NAME.csv"
            raise refuse(
                Problem("file-missing", f'"{self.file}" is not a file of the workspace', allowed, cure), "file"
            )
        if ".." in PurePosixPath(self.file).parts:
            allowed, cure = "a file below the workspace's folder", "put the file into the folder flights"
            raise refuse(Problem("file-outside", f'"{self.file}" leads out of its folder', allowed, cure), "file")
        return self
