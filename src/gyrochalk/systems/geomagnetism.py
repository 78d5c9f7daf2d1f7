"""The Earth's magnetic field from the World Magnetic Model, at points and along a route.

Coefficients and evaluation are pygeomag's. Along a route the model is asked on a lattice of half a degree and
interpolated by cubics, which is within 0.1 nT of asking it at every point (`tests/outside/test_wmm.py`).
"""

from __future__ import annotations

import dataclasses
import datetime
import functools

import numpy as np
from numpy.typing import NDArray
from pygeomag import GeoMag

from gyrochalk.errors import MaterialError, Problem

Floats = NDArray[np.float64]

ISSUES: tuple[tuple[float, str, str], ...] = (
    (2010.0, "WMM-2010", "wmm/WMM_2010.COF"),
    (2015.0, "WMM-2015v2", "wmm/WMM_2015v2.COF"),
    (2020.0, "WMM-2020", "wmm/WMM_2020.COF"),
    (2025.0, "WMM-2025", "wmm/WMM_2025.COF"),
)
"""First year, name and coefficient file of each issue; each covers five years."""
LATTICE_DEG = 0.5
POLAR_DEG = 88.0
"""Latitude beyond which the lattice is given up and every point asked of the model."""
CURVED_KM = 2.0
"""Spread of heights from which the field between them is a parabola: a straight line would be 0.5 nT out over 15 km."""


@dataclasses.dataclass(frozen=True, slots=True)
class MagneticModel:
    """One issue of the World Magnetic Model at one date: `name`, its coefficient `file`, `year` as a decimal."""

    name: str
    file: str
    year: float


def decimal_year(date: datetime.date) -> float:
    """The date as a year with decimals."""
    start = datetime.date(date.year, 1, 1)
    length = (datetime.date(date.year + 1, 1, 1) - start).days
    return date.year + (date - start).days / length


def model_for(date: datetime.date) -> MagneticModel:
    """The issue whose five years contain `date` (UTC). Raises `MaterialError` field-date outside all of them."""
    year = decimal_year(date)
    for first, name, file in ISSUES:
        if first <= year < first + 5.0:
            return MagneticModel(name, file, year)
    raise MaterialError(
        Problem(
            "field-date",
            f"no magnetic model covers {date.isoformat()}",
            "allowed are dates from 2010-01-01 to 2029-12-31",
            "choose a date in that span or state the field (horizontal and dip)",
        )
    )


@functools.lru_cache(maxsize=8)
def _evaluator(file: str) -> GeoMag:
    return GeoMag(coefficients_file=file)


@functools.lru_cache(maxsize=200_000)
def field_at_point(
    model: MagneticModel, latitude_deg: float, longitude_deg: float, height_km: float
) -> tuple[float, float, float]:
    """The field NED [nT] at a point: north and east [deg], height [km] above the WGS-84 ellipsoid (wmm2025)."""
    found = _evaluator(model.file).calculate(glat=latitude_deg, glon=longitude_deg, alt=height_km, time=model.year)
    return float(found.x), float(found.y), float(found.z)


def _node(model: MagneticModel, row: int, column: int, height_km: float) -> tuple[float, float, float]:
    longitude = (column * LATTICE_DEG + 180.0) % 360.0 - 180.0
    return field_at_point(model, row * LATTICE_DEG, longitude, height_km)


def _cubic_weights(part: Floats) -> Floats:
    """Lagrange weights (4, n) for nodes −1, 0, 1, 2 at `part` in [0, 1)."""
    p = part
    return np.stack(
        [
            -p * (p - 1.0) * (p - 2.0) / 6.0,
            (p + 1.0) * (p - 1.0) * (p - 2.0) / 2.0,
            -(p + 1.0) * p * (p - 2.0) / 2.0,
            (p + 1.0) * p * (p - 1.0) / 6.0,
        ]
    )


def _field_on_level(model: MagneticModel, latitude_deg: Floats, longitude_deg: Floats, height_km: float) -> Floats:
    rows = np.floor(latitude_deg / LATTICE_DEG).astype(int)
    columns = np.floor(longitude_deg / LATTICE_DEG).astype(int)
    across = _cubic_weights(latitude_deg / LATTICE_DEG - rows)
    along = _cubic_weights(longitude_deg / LATTICE_DEG - columns)
    cells, which = np.unique(np.stack([rows, columns], axis=1), axis=0, return_inverse=True)
    nodes = np.array(
        [
            [[_node(model, int(r) + i, int(c) + j, height_km) for j in range(-1, 3)] for i in range(-1, 3)]
            for r, c in cells
        ]
    )
    return np.asarray(np.einsum("in,jn,nijk->nk", across, along, nodes[which.reshape(-1)]))


def field_along(model: MagneticModel, latitude_deg: Floats, longitude_deg: Floats, height_km: Floats) -> Floats:
    """The field NED [nT] (n, 3) at points along a route: latitude and longitude [deg], height [km], arrays (n,)."""
    if float(np.max(np.abs(latitude_deg))) > POLAR_DEG:
        points = zip(latitude_deg, longitude_deg, height_km, strict=True)
        wrapped = ((float(a), (float(o) + 180.0) % 360.0 - 180.0, float(h)) for a, o, h in points)
        return np.array([field_at_point(model, a, o, h) for a, o, h in wrapped])
    low, high = float(np.min(height_km)), float(np.max(height_km))
    at_low = _field_on_level(model, latitude_deg, longitude_deg, low)
    if high - low < 0.01:
        return at_low
    at_high = _field_on_level(model, latitude_deg, longitude_deg, high)
    part = ((height_km - low) / (high - low))[:, None]
    straight = at_low * (1.0 - part) + at_high * part
    if high - low < CURVED_KM:
        return np.asarray(straight)
    bulge = _field_on_level(model, latitude_deg, longitude_deg, 0.5 * (low + high)) - 0.5 * (at_low + at_high)
    return np.asarray(straight + 4.0 * part * (1.0 - part) * bulge)
