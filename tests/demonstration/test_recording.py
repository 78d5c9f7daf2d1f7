"""Recorded flights from CSV: columns, units, and every bad row with its line."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from gyrochalk.demonstration import load, read_csv
from gyrochalk.errors import MaterialError
from gyrochalk.systems.places import Place
from gyrochalk.systems.recorded import RecordedFlight

HEADER = "time [s],latitude [deg],longitude [deg],height [ft]"


def write(text: str, name: str = "flights/a.csv") -> Path:
    path = Path(name)
    path.write_text(text, encoding="utf-8")
    return path


def rows(count: int = 10, step_s: float = 1.0) -> str:
    return "".join(f"{i * step_s:g},{52 + i * 1e-4:.4f},1,3000\n" for i in range(count))


def refused(path: Path) -> list[str]:
    with pytest.raises(MaterialError) as caught:
        read_csv(path)
    return [str(problem).removeprefix("flights/a.csv:") for problem in caught.value.problems]


def test_columns_named_by_role_with_units_in_brackets(workspace: Path) -> None:
    flight = read_csv(
        write("# any remark\nTime (min),Latitude [deg],Longitude [deg],Height [m]\n0,52,1,100\n0.25,52.01,1.01,200\n")
    )
    assert flight.time_s.tolist() == [0.0, 15.0]
    assert flight.height_ft.tolist() == pytest.approx([328.084, 656.168], abs=1e-3)
    assert (flight.heading_deg, flight.bank_deg, flight.gap_limit_s) == (None, None, 20.0)


def test_a_demonstration_maps_columns_and_says_units(workspace: Path) -> None:
    write("t,lat,lon,alt,hdg,v\n2026-01-01T12:00:00Z,52,1,1000,45,50\n2026-01-01T12:00:05Z,52.001,1.001,1010,46,51\n")
    path = write(
        """gyrochalk: 1
flight:
  recorded:
    file: flights/a.csv
    heading_north: true
    gap_limit: 10 s
    columns:
      time: {column: t, unit: utc}
      latitude: {column: lat, unit: deg}
      longitude: {column: lon, unit: deg}
      height: {column: alt, unit: ft}
      heading: {column: hdg, unit: deg}
      tas: {column: v, unit: m/s}
""",
        "demonstrations/recorded.yaml",
    )
    setup = load(path).setup
    assert isinstance(setup.flight, RecordedFlight)
    assert np.diff(setup.flight.time_s).tolist() == [5.0]
    assert setup.flight.tas_kt is not None
    assert setup.flight.tas_kt.tolist() == pytest.approx([97.192, 99.136], abs=1e-3)
    assert (setup.flight.heading_north, setup.flight.gap_limit_s, setup.flight.source) == (
        "true",
        10.0,
        "flights/a.csv",
    )
    assert setup.place == Place(52.0, 1.0, 1000.0)


@pytest.mark.parametrize(
    ("text", "messages"),
    [
        (
            f"{HEADER}\n0,52,1,3000\n1,abc,1,3000\n2,52,,3000\n3,nan,1,3000\n4,52,1,1e9\n5,52\n",
            [
                '3  latitude "abc" is not a number; a number with a decimal point; '
                "mend the value or take the row out  [recording-unreadable]",
                "4  longitude is empty; a number with a decimal point; mend the value or take the row out  "
                "[recording-unreadable]",
                '5  latitude "nan" is not a number; a number with a decimal point; '
                "mend the value or take the row out  [recording-unreadable]",
                "6  height 1e9 ft is out of range; -2000 ft to 100000 ft; mend the value or take the row out  "
                "[out-of-range]",
                "7  the row has 2 values; 4 or more; complete it or take it out  [recording-unreadable]",
            ],
        ),
        (
            f"{HEADER}\n0,52,1,3000\n2,52,1,3000\n1,52,1,3000\n40,52,1,3000\n",
            [
                "4  the time goes from 2 s to 1 s; times that increase; sort the rows and take out repeats  "
                "[recording-time]",
                "5  nothing was recorded for 39 s before this row; gaps up to 20 s; "
                "cut the recording there, or raise gap_limit if a straight line will do  [flight-gap]",
            ],
        ),
        (
            "time [s],latitud [deg],longitude,height [kt]\n0,52,1,3000\n",
            [
                '1  there is no column "latitude"; the columns are time, latitud, longitude, height; '
                'did you mean "latitud"? then below columns write latitude: {column: latitud, unit: deg}  '
                "[recording-column]",
                '1  the column "longitude" has no unit; allowed are deg, rad; '
                'write "longitude [deg]" in the header, or the unit below columns  [recording-column]',
                '1  the column "height" has the unit kt; allowed are ft, m, km, NM; write for example ft  [unit-wrong]',
            ],
        ),
        (
            "time;latitude;longitude;height\n0;52;1;3000\n",
            ["1  the columns are parted by semicolons; commas; save it with commas  [recording-column]"],
        ),
        (
            f"{HEADER},height [ft]\n0,52,1,3000,3000\n",
            ['1  the column "height" stands twice; each name once; rename one of them  [recording-column]'],
        ),
    ],
    ids=["rows", "times", "columns", "semicolons", "twice"],
)
def test_refusals(workspace: Path, text: str, messages: list[str]) -> None:
    assert refused(write(text)) == messages


def test_header_alone(workspace: Path) -> None:
    (line,) = refused(write(f"{HEADER}\n"))
    assert line.removeprefix("flights/a.csv  ") == (
        "the file has no rows below its header; a header and rows; check the file  [recording-unreadable]"
    )


def test_unclosed_quotation(workspace: Path) -> None:
    found = refused(write(f'{HEADER}\n0,52,1,"3000\n'))
    assert found == [
        "2  the row cannot be read (unexpected end of data); values parted by commas; "
        "mend the quotation marks of that row  [recording-unreadable]"
    ]


def test_many_bad_rows_are_counted(workspace: Path) -> None:
    found = refused(write(f"{HEADER}\n" + "0,x,1,3000\n" * 60))
    assert len(found) == 51
    assert found[-1] == "61  10 more values cannot be read; numbers; mend those above first  [recording-unreadable]"


JUMP = "up to 1500 kt over the ground; mend the position or the time, or take the row out  [out-of-range]"


def test_positions_no_aircraft_can_reach(workspace: Path) -> None:
    found = refused(write(f"{HEADER}\n{rows(3)}3,52.1002,1,3000\n4,52.1003,1,3000\n5,52.0004,1,3000\n"))
    assert found == [
        f"5  the position is 11.12 km from the row before, which is 21615 kt; {JUMP}",
        f"7  the position is 11.11 km from the row before, which is 21593 kt; {JUMP}",
    ]
    flips = refused(write(f"{HEADER}\n" + "".join(f"{i},{52 + i % 2},1,3000\n" for i in range(60))))
    assert len(flips) == 51
    assert flips[-1] == (
        "61  9 more rows lie too far from the row before; up to 1500 kt; mend those above first  [out-of-range]"
    )


def test_positions_no_aircraft_can_swerve_to(workspace: Path) -> None:
    flips = [f"{i},{52 + 0.003 * (i in (4, 5)):g},1,3000\n" for i in range(10)]
    allowed = "up to 10 g; mend the position or the time, or take the row out  [out-of-range]"
    off = "off the line between its neighbours, a swerve of"
    assert refused(write(f"{HEADER}\n" + "".join(flips))) == [
        f"{line}  the position lies 167 m {off} 34 g; {allowed}" for line in (5, 6, 7, 8)
    ]
    every = [f"{i},{52 + 0.005 * (i % 2):g},1,3000\n" for i in range(60)]
    found = refused(write(f"{HEADER}\n" + "".join(every)))
    assert len(found) == 51
    assert found[-1] == "61  8 more rows lie too far off the line; up to 10 g; mend those above first  [out-of-range]"


def test_one_wild_position_does_no_harm(workspace: Path) -> None:
    wild = rows(9).replace("52.0004,1,", "53.0004,1,")
    assert len(read_csv(write(f"{HEADER}\n{wild}")).time_s) == 9


def test_scatter_and_the_antimeridian_are_no_jumps(workspace: Path) -> None:
    near = write(f"{HEADER}\n0,52,179.9999,3000\n1,52,-179.9999,3000\n1.01,52.0003,-179.9999,3000\n")
    assert len(read_csv(near).time_s) == 3


def test_gap_limit_is_the_demonstrations(workspace: Path) -> None:
    path = write(f"{HEADER}\n{rows(10, 30.0)}")
    assert len(refused(path)) == 9
    assert len(read_csv(path, gap_limit_s=30.0).time_s) == 10


@pytest.mark.parametrize(
    ("file", "message"),
    [
        (
            "flights/none.csv",
            "flights/none.csv  there is no such file; a file that exists; check the name and the folder  "
            "[file-missing]",
        ),
        (
            "/flights/none.csv",
            'demonstrations/recorded.yaml:2:20  recorded: "/flights/none.csv" is not a file of the workspace; a file '
            "below the workspace's folder, written with /; put the file into the folder flights and write "
            "flights/NAME.csv  [file-missing]",
        ),
    ],
)
def test_missing_recording(workspace: Path, file: str, message: str) -> None:
    path = write(f"gyrochalk: 1\nflight: {{recorded: {file}}}\n", "demonstrations/recorded.yaml")
    with pytest.raises(MaterialError) as caught:
        load(path)
    assert str(caught.value).replace(f"{workspace.as_posix()}/", "") == message
