"""Two recorded flights from the sample set of the `traffic` wheel (MIT), read where it is installed.

The wheel is named with its hashes in requirements/samples.txt and installed without its dependencies.
"""

from __future__ import annotations

import dataclasses
import datetime
import functools
import gzip
import importlib.metadata
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from gyrochalk.systems.geomagnetism import model_for
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.systems.recorded_path import variation_along

Floats = NDArray[np.float64]

AIRLINE_DATE = datetime.date(2024, 7, 6)
ZERO_GRAVITY_DATE = datetime.date(2020, 6, 25)
LAST_FRESH_ROW = 10_068
"""Rows of the zero-gravity flight up to the last new position; the rows after it repeat the last message for 299 s."""


def sample_file(name: str) -> Path:
    """A file of the sample set; fails with what to install if the wheel is not there."""
    try:
        distribution = importlib.metadata.distribution("traffic")
    except importlib.metadata.PackageNotFoundError:
        message = "the sample flights are not installed: pip install --no-deps -r requirements/samples.txt"
        raise AssertionError(message) from None
    return Path(str(distribution.locate_file(f"traffic/data/samples/{name}")))


@functools.cache
def zero_gravity_columns() -> dict[str, Floats]:
    """The zero-gravity flight of 25 June 2020 at 1 Hz, every row of the file, by the names of its columns."""
    rows: list[dict[str, Any]] = json.loads(gzip.decompress(sample_file("featured/zero_gravity.json.gz").read_bytes()))
    names = [name for name, value in rows[0].items() if not isinstance(value, str)]
    return {name: np.array([row[name] for row in rows], dtype=np.float64) for name in names}


def zero_gravity(*, with_roll: bool, heading_north: Literal["true", "magnetic"] = "magnetic") -> RecordedFlight:
    """The zero-gravity flight without its stale end; its recorded roll is left out unless asked for."""
    part = {name: values[:LAST_FRESH_ROW] for name, values in zero_gravity_columns().items()}
    return RecordedFlight(
        time_s=part["timestamp"] / 1000.0,
        latitude_deg=part["latitude"],
        longitude_deg=part["longitude"],
        height_ft=part["altitude"],
        ground_speed_kt=part["groundspeed"],
        track_true_deg=part["track"],
        heading_deg=part["heading"],
        heading_north=heading_north,
        tas_kt=part["TAS"],
        bank_deg=part["roll"] if with_roll else None,
        vertical_speed_ft_min=part["vertical_rate"],
        source="zero_gravity, traffic 2.13",
    )


@functools.cache
def airline_messages() -> list[dict[str, Any]]:
    """Every message of the airline flight of 6 July 2024, decoded as the file has them, in order of time."""
    lines = sample_file("rs1090/full_flight_short.jsonl").read_text(encoding="utf-8").splitlines()
    return [json.loads(line) for line in lines]


def airline() -> RecordedFlight:
    """The airline flight from stand to stand: positions as broadcast, everything else between its messages.

    On the ground (BDS 0,6) the track stands for the heading, in the air (BDS 6,0) the magnetic heading is given.
    """
    kept = _thinned(_having("05", "latitude") + _having("06", "latitude", "track"), 0.9)
    time_s = _column(kept, "timestamp")
    velocity = _in_order(_having("09", "track", "vertical_rate") + _having("06", "track"))
    height = [message for message in airline_messages() if message.get("altitude") is not None]
    flight = RecordedFlight(
        time_s=time_s,
        latitude_deg=_column(kept, "latitude"),
        longitude_deg=_column(kept, "longitude"),
        height_ft=_between(time_s, height, "altitude"),
        ground_speed_kt=_between(time_s, velocity, "groundspeed"),
        track_true_deg=_between(time_s, velocity, "track", turn=True),
        heading_deg=_between(time_s, _having("60", "heading"), "heading", turn=True),
        tas_kt=None,
        source="full_flight_short, traffic 2.13",
    )
    variation_deg = variation_along(flight, model_for(AIRLINE_DATE))
    ground = np.array([message["bds"] == "06" for message in kept])
    assert flight.track_true_deg is not None
    assert flight.heading_deg is not None
    heading_deg = np.where(ground, flight.track_true_deg - variation_deg, flight.heading_deg)
    tas_kt = _between(time_s, _having("50", "TAS"), "TAS")
    speed_kt = _between(time_s, velocity, "groundspeed")
    return dataclasses.replace(
        flight,
        heading_deg=np.mod(heading_deg, 360.0),
        tas_kt=np.where(ground, speed_kt, tas_kt),
    )


def airline_roll() -> tuple[Floats, Floats]:
    """When (by the file's clock) and how far the airline flight said it was rolled [s, deg]."""
    rolled = _having("50", "roll")
    return _column(rolled, "timestamp"), _column(rolled, "roll")


def _having(bds: str, *names: str) -> list[dict[str, Any]]:
    return [m for m in airline_messages() if m.get("bds") == bds and all(m.get(name) is not None for name in names)]


def _in_order(messages: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return sorted(messages, key=lambda message: float(message["timestamp"]))


def _thinned(messages: Iterable[dict[str, Any]], least_s: float) -> list[dict[str, Any]]:
    kept: list[dict[str, Any]] = []
    for message in _in_order(list(messages)):
        if not kept or message["timestamp"] - kept[-1]["timestamp"] >= least_s:
            kept.append(message)
    return kept


def _column(messages: list[dict[str, Any]], name: str) -> Floats:
    return np.array([message[name] for message in messages], dtype=np.float64)


def _between(time_s: Floats, messages: list[dict[str, Any]], name: str, *, turn: bool = False) -> Floats:
    values = _column(messages, name)
    if not turn:
        return np.interp(time_s, _column(messages, "timestamp"), values)
    return np.mod(np.interp(time_s, _column(messages, "timestamp"), np.unwrap(values, period=360.0)), 360.0)
