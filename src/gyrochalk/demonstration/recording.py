"""Reads somebody's recorded flight from CSV: columns found, units converted, every bad row reported with its line."""

from __future__ import annotations

import csv
import dataclasses
import datetime
import math
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gyrochalk.demonstration.recorded_keys import ColumnKeys, RecordedKeys
from gyrochalk.demonstration.refusal import listed
from gyrochalk.demonstration.workspace import require_inside
from gyrochalk.demonstration.yaml_source import read_text
from gyrochalk.errors import MaterialError, Problem, ProblemList
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.units import UNITS, convert, find_unit, nearest

Floats = NDArray[np.float64]

MAX_BYTES = 50_000_000
MAX_REPORTED = 50
FASTEST_KT = 1500.0
"""Over the ground no aircraft a course is about goes faster; positions that say so are wrong."""
HARDEST_G = 10.0
"""A position out of line with its neighbours by more than this can explain is wrong: no crew would stand it."""
LONE_ROWS = 3
"""So many rows are out of line where one is wild: itself and its neighbours."""
JUMP_M = 50.0
"""Two rows closer than this are no jump, however short the time between them: receivers scatter by so much."""
EARTH_M = 6_371_000.0
"""Mean radius of the Earth [m], good enough to tell a jump (from memory)."""
REQUIRED = ("time", "latitude", "longitude", "height")
_WITH_UNIT = re.compile(r"(?P<name>.*\S)\s*[\[(](?P<unit>[^\])]+)[\])]")


@dataclasses.dataclass(frozen=True, slots=True)
class Role:
    """What a column may hold: the field it fills, the unit it is turned into, and the range it must lie in."""

    field: str
    unit: str
    low: float
    high: float


ROLES: dict[str, Role] = {
    "time": Role("time_s", "s", -math.inf, math.inf),
    "latitude": Role("latitude_deg", "deg", -90.0, 90.0),
    "longitude": Role("longitude_deg", "deg", -180.0, 360.0),
    "height": Role("height_ft", "ft", -2000.0, 100_000.0),
    "ground_speed": Role("ground_speed_kt", "kt", 0.0, 2000.0),
    "track": Role("track_true_deg", "deg", -360.0, 360.0),
    "heading": Role("heading_deg", "deg", -360.0, 360.0),
    "tas": Role("tas_kt", "kt", 0.0, 2000.0),
    "bank": Role("bank_deg", "deg", -180.0, 180.0),
    "pitch": Role("pitch_deg", "deg", -90.0, 90.0),
    "vertical_speed": Role("vertical_speed_ft_min", "ft/min", -100_000.0, 100_000.0),
}
UTC = "utc"


@dataclasses.dataclass(frozen=True, slots=True)
class _Column:
    role: str
    index: int
    header: str
    unit: str


def read_recording(workspace: Path, keys: RecordedKeys) -> RecordedFlight:
    """The recorded flight a demonstration names; raises `MaterialError` with every problem of the file."""
    given = keys.given()
    options: dict[str, Any] = {name: given[name] for name in ("heading_north", "gap_limit_s") if name in given}
    columns = given["columns"].given() if "columns" in given else {}
    path = Path(os.path.normpath(workspace / keys.file))
    require_inside(workspace / keys.file, workspace, path.as_posix())
    return read_csv(path, columns, source=keys.file, **options)


def read_csv(path: Path, columns: dict[str, ColumnKeys] | None = None, **options: Any) -> RecordedFlight:
    """Read a recorded flight from a CSV file.

    `columns` maps roles (time, latitude …) to columns; a column whose name is the role itself needs no entry. Units
    stand in the mapping or in brackets in the header: `height [ft]`. `options` go to `RecordedFlight`.
    """
    file = path.as_posix()
    rows = _rows(read_text(path, MAX_BYTES), file)
    problems = ProblemList()
    if len(rows) < 2:
        what = "the file has no rows below its header"
        raise MaterialError(Problem("recording-unreadable", what, "a header and rows", "check the file").at(file))
    found = _find_columns(rows[0][1], columns or {}, _Reporter(problems, file, rows[0][0]))
    problems.refuse_if_any()
    table = _read_rows(rows[1:], found, file, problems)
    lines = [line for line, _ in rows[1:]]
    if not problems.problems:
        limit_s = float(options.get("gap_limit_s", RecordedFlight.gap_limit_s))
        _check_times(table["time"], lines, limit_s, file, problems)
    if not problems.problems:
        _check_positions(table, lines, file, problems)
    problems.refuse_if_any()
    values: dict[str, Any] = {ROLES[role].field: column for role, column in table.items()}
    return RecordedFlight(**values, **options)


def _rows(text: str, file: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(text.splitlines(), strict=True)
    try:
        rows = [(reader.line_num, [cell.strip() for cell in row]) for row in reader]
    except csv.Error as error:
        cure = "mend the quotation marks of that row"
        problem = Problem("recording-unreadable", f"the row cannot be read ({error})", "values parted by commas", cure)
        raise MaterialError(problem.at(file, reader.line_num)) from None
    return [(line, row) for line, row in rows if any(row) and not row[0].startswith("#")]


class _Reporter:
    """Notes problems of one line."""

    def __init__(self, problems: ProblemList, file: str, line: int) -> None:
        self._problems, self._file, self._line = problems, file, line

    def add(self, code: str, what: str, allowed: str, cure: str) -> None:
        self._problems.add(Problem(code, what, allowed, cure, self._file, self._line))


def _find_columns(header: list[str], mapped: dict[str, ColumnKeys], report: _Reporter) -> list[_Column]:
    if len(header) == 1 and ";" in header[0]:
        report.add("recording-column", "the columns are parted by semicolons", "commas", "save it with commas")
        return []
    names = [_split_header(cell) for cell in header]
    found = []
    for role in ROLES:
        column = _find(role, names, header, mapped.get(role), report)
        if column is not None:
            found.append(column)
    return found


def _split_header(cell: str) -> tuple[str, str]:
    match = _WITH_UNIT.fullmatch(cell)
    return (match["name"], match["unit"].strip()) if match else (cell, "")


def _find(
    role: str, names: list[tuple[str, str]], header: list[str], mapped: ColumnKeys | None, report: _Reporter
) -> _Column | None:
    wanted = mapped.column if mapped is not None else role
    matches = [i for i, (name, _) in enumerate(names) if wanted in {name, header[i]} or _alike(wanted, name, mapped)]
    if len(matches) > 1:
        report.add("recording-column", f'the column "{wanted}" stands twice', "each name once", "rename one of them")
        return None
    if not matches:
        if mapped is not None or role in REQUIRED:
            _report_missing(role, wanted, [name for name, _ in names], report)
        return None
    index = matches[0]
    stated = (mapped.given().get("unit") if mapped is not None else None) or names[index][1]
    unit = _unit(role, names[index][0], stated, report)
    return None if unit is None else _Column(role, index, names[index][0], unit)


def _alike(wanted: str, name: str, mapped: ColumnKeys | None) -> bool:
    return mapped is None and name.casefold().replace(" ", "_") == wanted


def _report_missing(role: str, wanted: str, names: list[str], report: _Reporter) -> None:
    guess = nearest(wanted, names)
    mapping = f"below columns write {role}: " + "{" + f"column: {guess or names[0]}, unit: {ROLES[role].unit}" + "}"
    cure = f'did you mean "{guess}"? then {mapping}' if guess else mapping
    what = f'there is no column "{wanted}"' + ("" if wanted == role else f" for {role}")
    report.add("recording-column", what, f"the columns are {listed(names)}", cure)


def _unit(role: str, name: str, stated: str, report: _Reporter) -> str | None:
    wanted = ROLES[role].unit
    names = UNITS[wanted].siblings + ((UTC,) if role == "time" else ())
    allowed = f"allowed are {listed(names)}"
    if not stated:
        cure = f'write "{name} [{wanted}]" in the header, or the unit below columns'
        report.add("recording-column", f'the column "{name}" has no unit', allowed, cure)
        return None
    if role == "time" and stated.casefold() == UTC:
        return UTC
    unit = find_unit(stated)
    if unit is None or unit.name not in names:
        what = f'the column "{name}" has the unit {stated}'
        report.add("unit-wrong", what, allowed, f"write for example {wanted}")
        return None
    return unit.name


def _read_rows(
    rows: list[tuple[int, list[str]]], columns: list[_Column], file: str, problems: ProblemList
) -> dict[str, Floats]:
    width = max(column.index for column in columns) + 1
    readers = {column.role: _reader(column) for column in columns}
    table: dict[str, list[float]] = {column.role: [] for column in columns}
    bad = 0
    for line, row in rows:
        report = _Reporter(problems if bad < MAX_REPORTED else ProblemList(), file, line)
        if len(row) < width:
            bad += 1
            what = f"the row has {len(row)} values"
            report.add("recording-unreadable", what, f"{width} or more", "complete it or take it out")
            continue
        bad += sum(_take(column, row[column.index], readers[column.role], table, report) for column in columns)
    if bad > MAX_REPORTED:
        what = f"{bad - MAX_REPORTED} more values cannot be read"
        problems.add(Problem("recording-unreadable", what, "numbers", "mend those above first", file, rows[-1][0]))
    return {role: np.array(values) for role, values in table.items()}


def _reader(column: _Column) -> Callable[[str], float]:
    if column.unit == UTC:
        return _utc_seconds
    factor = convert(1.0, column.unit, ROLES[column.role].unit)
    return lambda text: float(text) * factor


def _utc_seconds(text: str) -> float:
    moment = datetime.datetime.fromisoformat(text)
    return (moment if moment.tzinfo else moment.replace(tzinfo=datetime.UTC)).timestamp()


def _take(
    column: _Column, cell: str, read: Callable[[str], float], table: dict[str, list[float]], report: _Reporter
) -> int:
    """Read one cell into the table; 1 if it cannot be read."""
    role = ROLES[column.role]
    try:
        value = read(cell)
    except ValueError:
        value = math.nan
    if math.isfinite(value) and role.low <= value <= role.high:
        table[column.role].append(value)
        return 0
    table[column.role].append(0.0)
    if math.isfinite(value):
        what = f"{column.header} {cell} {'' if column.unit == UTC else column.unit} is out of range".replace("  ", " ")
        allowed = f"{role.low:g} {role.unit} to {role.high:g} {role.unit}"
        report.add("out-of-range", what, allowed, "mend the value or take the row out")
    else:
        what = f"{column.header} is empty" if not cell else f'{column.header} "{cell[:40]}" is not a number'
        allowed = "a date with time, 2026-01-01T12:00:00" if column.unit == UTC else "a number with a decimal point"
        report.add("recording-unreadable", what, allowed, "mend the value or take the row out")
    return 1


def _check_times(time_s: Floats, lines: list[int], limit_s: float, file: str, problems: ProblemList) -> None:
    steps = np.diff(time_s)
    for index in np.flatnonzero((steps <= 0.0) | (steps > limit_s)):
        line = lines[index + 1]
        if steps[index] <= 0.0:
            what = f"the time goes from {time_s[index]:g} s to {time_s[index + 1]:g} s"
            wrong = Problem("recording-time", what, "times that increase", "sort the rows and take out repeats")
        else:
            what = f"nothing was recorded for {steps[index]:g} s before this row"
            cure = "cut the recording there, or raise gap_limit if a straight line will do"
            wrong = Problem("flight-gap", what, f"gaps up to {limit_s:g} s", cure)
        problems.add(wrong.at(file, line))


def _check_positions(table: dict[str, Floats], lines: list[int], file: str, problems: ProblemList) -> None:
    """Positions that no aircraft can reach; one wild row between good ones does no harm, smoothing passes it by."""
    flagged, off_m, _ = _swerves(table)
    groups = np.split(np.arange(len(flagged)), np.flatnonzero(np.diff(flagged) > 1) + 1)
    threes = [(*off_m[group].tolist(), int(flagged[group[1]])) for group in groups if len(group) == LONE_ROWS]
    lone = [middle for before, own, after, middle in threes if own > 1.2 * max(before, after)]
    kept = {role: np.delete(column, lone) for role, column in table.items()}
    kept_lines = [line for index, line in enumerate(lines) if index not in set(lone)]
    _check_jumps(kept, kept_lines, file, problems)
    if not problems.problems:
        _check_swerves(kept, kept_lines, file, problems)


def _check_jumps(table: dict[str, Floats], lines: list[int], file: str, problems: ProblemList) -> None:
    """Positions that no aircraft can reach from the row before."""
    latitude, longitude = np.radians(table["latitude"]), np.radians(table["longitude"])
    square = np.sin(np.diff(latitude) / 2) ** 2 + (
        np.cos(latitude[1:]) * np.cos(latitude[:-1]) * np.sin(np.diff(longitude) / 2) ** 2
    )
    away_m = 2 * EARTH_M * np.arcsin(np.sqrt(np.clip(square, 0.0, 1.0)))
    speed_kt = convert(1.0, "m/s", "kt") * away_m / np.diff(table["time"])
    rows = np.flatnonzero((speed_kt > FASTEST_KT) & (away_m > JUMP_M))
    for index in rows[:MAX_REPORTED]:
        what = f"the position is {away_m[index] / 1000:.2f} km from the row before, which is {speed_kt[index]:.0f} kt"
        cure = "mend the position or the time, or take the row out"
        allowed = f"up to {FASTEST_KT:.0f} kt over the ground"
        problems.add(Problem("out-of-range", what, allowed, cure, file, lines[index + 1]))
    if len(rows) > MAX_REPORTED:
        what = f"{len(rows) - MAX_REPORTED} more rows lie too far from the row before"
        cure = "mend those above first"
        problems.add(Problem("out-of-range", what, f"up to {FASTEST_KT:.0f} kt", cure, file, lines[-1]))


def _swerves(table: dict[str, Floats]) -> tuple[NDArray[np.intp], Floats, Floats]:
    """The rows that lie farther off the line between their neighbours than an aircraft can swerve; how far [m], and
    what that takes [g], for each of these."""
    latitude, longitude = np.radians(table["latitude"]), np.radians(table["longitude"])
    cos = np.cos(latitude)
    place = EARTH_M * np.stack([cos * np.cos(longitude), cos * np.sin(longitude), np.sin(latitude)])
    before, after = np.diff(table["time"])[:-1], np.diff(table["time"])[1:]
    line = (place[:, :-2] * after + place[:, 2:] * before) / (before + after)
    off_m = np.linalg.norm(place[:, 1:-1] - line, axis=0)
    load_g = convert(1.0, "m/s2", "g") * 2 * off_m / (before * after)
    found = np.flatnonzero((load_g > HARDEST_G) & (off_m > JUMP_M))
    return found + 1, off_m[found], load_g[found]


def _check_swerves(table: dict[str, Floats], lines: list[int], file: str, problems: ProblemList) -> None:
    """Positions out of line with their neighbours."""
    rows, off_m, load_g = _swerves(table)
    for index, off_one_m, load_one_g in list(zip(rows, off_m, load_g, strict=True))[:MAX_REPORTED]:
        off, load = f"{off_one_m:.0f} m", f"{load_one_g:.0f} g"
        what = f"the position lies {off} off the line between its neighbours, a swerve of {load}"
        cure = "mend the position or the time, or take the row out"
        problems.add(Problem("out-of-range", what, f"up to {HARDEST_G:.0f} g", cure, file, lines[index]))
    if len(rows) > MAX_REPORTED:
        what = f"{len(rows) - MAX_REPORTED} more rows lie too far off the line"
        cure = "mend those above first"
        problems.add(Problem("out-of-range", what, f"up to {HARDEST_G:.0f} g", cure, file, lines[-1]))
