"""The Earth's field against the official test values (source: wmm2025) and against another library (ahrs)."""

from __future__ import annotations

import csv
import datetime
import math
from pathlib import Path

import numpy as np
import pytest
from ahrs.utils import WMM

from gyrochalk.systems.geomagnetism import MagneticModel, field_along, field_at_point, model_for
from tests.outside.recording import Tell, tell

TABLE = Path(__file__).parent / "data" / "wmm2025_test_values.csv"

with TABLE.open(encoding="utf-8", newline="") as stream:
    OFFICIAL = [{name: float(text) for name, text in row.items() if text} for row in csv.DictReader(stream)]


def at_year(year: float) -> MagneticModel:
    """The product's model at a decimal year."""
    day = datetime.date(int(year), 1, 1) + datetime.timedelta(days=round((year % 1.0) * 365.0))
    model = model_for(day)
    return MagneticModel(model.name, model.file, year)


def row_name(row: dict[str, float]) -> str:
    """Date, height and place of an official row."""
    return "{date_decimal_year}-{height_km_above_WGS84:.0f}km-{lat_deg:.0f}N-{lon_deg:.0f}E".format(**row)


@pytest.mark.parametrize("row", OFFICIAL, ids=row_name)
def test_official_value_holds(row: dict[str, float], record_property: Tell) -> None:
    """Source: wmm2025, X, Y, Z, H, F within 0.1 nT, dip and variation within 0.01°."""
    model = at_year(row["date_decimal_year"])
    assert model.name == "WMM-2025"
    x, y, z = field_at_point(model, row["lat_deg"], row["lon_deg"], row["height_km_above_WGS84"])
    h = math.hypot(x, y)
    strengths = (x, y, z, h, math.hypot(h, z))
    angles = math.degrees(math.atan2(z, h)), math.degrees(math.atan2(y, x))
    apart_nt = [a - row[name] for a, name in zip(strengths, ("X_nT", "Y_nT", "Z_nT", "H_nT", "F_nT"), strict=True)]
    apart_deg = [a - row[name] for a, name in zip(angles, ("incl_deg", "decl_deg"), strict=True)]
    worst = max(abs(a) for a in apart_nt)
    tell(record_property, f"wmm2025 test value {row_name(row)}, worst of X Y Z H F", worst, 0.1, "nT", "wmm2025")
    assert worst <= 0.1
    assert max(abs(a) for a in apart_deg) <= 0.01


def test_the_table_has_its_twelve_rows() -> None:
    assert len(OFFICIAL) == 12


def random_places(count: int, seed: int, most_deg: float = 89.0) -> list[tuple[float, float, float]]:
    """Latitude, longitude [deg] and height [km], evenly spread over the Earth up to a latitude."""
    draw = np.random.default_rng(seed)
    sines = draw.uniform(-1.0, 1.0, count) * math.sin(math.radians(most_deg))
    columns = np.column_stack(
        [np.degrees(np.arcsin(sines)), draw.uniform(-180, 180, count), draw.uniform(0, 15, count)]
    )
    return [(float(a), float(b), float(c)) for a, b, c in columns]


def test_another_library_agrees_on_random_places(record_property: Tell) -> None:
    """ahrs evaluates the same published coefficients with a program of its own, to within a nanotesla."""
    other = WMM()
    worst = 0.0
    for latitude, longitude, height in random_places(100, 7):
        other.magnetic_field(latitude, longitude, height, 2027.5)
        ours = field_at_point(at_year(2027.5), latitude, longitude, height)
        worst = max(worst, *(abs(a - b) for a, b in zip(ours, (other.X, other.Y, other.Z), strict=True)))
    tell(record_property, "field at 100 random places against ahrs", worst, 0.1, "nT", "ahrs")
    assert worst <= 0.1


LATTICE_CASES = {
    "anywhere below 80 degrees": random_places(150, 11, 80.0),
    "high latitudes": [(a, b, c) for a, b, c in random_places(4000, 12, 88.4) if abs(a) > 82.0][:60],
    "across the date line": [(float(a), 179.0 + 0.05 * k, 9.0) for k, a in enumerate(np.linspace(-60, 60, 40))],
    "beyond the lattice": [(88.5, 10.0, 3.0), (-89.2, -170.0, 3.0), (89.4, 185.0, 3.0)],
}


@pytest.mark.parametrize("case", LATTICE_CASES)
def test_lattice_is_as_good_as_the_model(case: str, record_property: Tell) -> None:
    """Within 0.1 nT of asking the model at every point, heights between the two levels included."""
    places = np.array(LATTICE_CASES[case])
    worst = 0.0
    for low in range(0, len(places), 20):
        some = places[low : low + 20]
        found = field_along(at_year(2026.0), some[:, 0], some[:, 1], some[:, 2])
        wrapped = [(a, (b + 180.0) % 360.0 - 180.0, c) for a, b, c in some.tolist()]
        asked = np.array([field_at_point(at_year(2026.0), a, b, c) for a, b, c in wrapped])
        worst = max(worst, float(np.max(np.abs(found - asked))))
    name = f"field tabulated along a route, {case}, against the model at each point"
    tell(record_property, name, worst, 0.1, "nT", "wmm2025, evaluated by pygeomag")
    assert worst <= 0.1
