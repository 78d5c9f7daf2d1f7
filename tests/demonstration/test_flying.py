"""A setup is flown once; kept runs are the same run, and what is not one is flown again."""

from __future__ import annotations

import dataclasses
import threading
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from gyrochalk.demonstration import fingerprint, fly, fly_setup, forget_runs, load
from gyrochalk.demonstration.run_cache import cache_folder
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.systems import simulate as simulating
from gyrochalk.systems.places import Place
from gyrochalk.systems.plans import FlightPlan, Hold
from gyrochalk.systems.recorded import RecordedFlight
from gyrochalk.systems.run import Column, Event, Provenance, Run, Span
from gyrochalk.systems.setup import Setup

SETUP = Setup(place=Place(52.0, 1.0), flight=FlightPlan((Hold(60.0),)))
Counter = Callable[[], int]


def hand_made() -> Run:
    """A run with everything a run can have."""
    time_s = np.array([0.0, 0.5, 1.0])
    valid = np.array([True, False, True])
    columns = {
        "slaved.heading": Column("slaved.heading", "deg", "the slaved card", np.array([359.5, 0.0, 1.5]), "magnetic"),
        "gyro.error": Column("gyro.error", "deg", "error, gyro", np.array([0.1, np.nan, -0.3]), None, valid),
    }
    return Run(
        time_s,
        columns,
        (Event(0.5, "aligned", "within 1°"),),
        (Span(0.0, 1.0, "turn", "right turn"),),
        Provenance("WMM2025", "2026-01-01", "0.1.0", 0.01, 12, 3, ("weak field",)),
    )


@pytest.fixture
def flights(monkeypatch: pytest.MonkeyPatch) -> Counter:
    """Stands in for the simulation and counts its calls."""
    calls: list[Setup] = []

    def simulate(setup: Setup) -> Run:
        calls.append(setup)
        return hand_made()

    monkeypatch.setattr(simulating, "simulate", simulate)
    return lambda: len(calls)


def same(one: Run, other: Run) -> bool:
    return (
        np.array_equal(one.time_s, other.time_s)
        and list(one.columns) == list(other.columns)
        and all(
            np.array_equal(a.values, b.values, equal_nan=True)
            and (a.name, a.unit, a.description, a.north) == (b.name, b.unit, b.description, b.north)
            and (a.valid is b.valid if a.valid is None or b.valid is None else np.array_equal(a.valid, b.valid))
            for a, b in zip(one.columns.values(), other.columns.values(), strict=True)
        )
        and (one.events, one.spans, one.provenance) == (other.events, other.spans, other.provenance)
    )


def test_flown_once_in_one_process(flights: Counter) -> None:
    assert fly_setup(SETUP) is fly_setup(dataclasses.replace(SETUP))
    assert flights() == 1


def test_kept_for_the_next_process(flights: Counter, own_cache: Path) -> None:
    first = fly_setup(SETUP)
    forget_runs()
    second = fly_setup(SETUP)
    assert flights() == 1
    assert second is not first
    assert same(first, second)
    assert [path.parent for path in own_cache.rglob("*.npz")] == [own_cache / "gyrochalk" / "runs"]


@pytest.mark.parametrize("damage", [b"", b"not a run", b"PK\x03\x04broken"])
def test_a_damaged_file_is_flown_again(flights: Counter, damage: bytes) -> None:
    fly_setup(SETUP)
    (path,) = cache_folder().glob("*.npz")
    path.write_bytes(damage)
    forget_runs()
    assert same(fly_setup(SETUP), hand_made())
    assert flights() == 2


def test_half_a_file_is_flown_again(flights: Counter) -> None:
    fly_setup(SETUP)
    (path,) = cache_folder().glob("*.npz")
    path.write_bytes(path.read_bytes()[:-200])
    forget_runs()
    assert same(fly_setup(SETUP), hand_made())


def test_a_folder_that_cannot_be_written_stops_nobody(
    flights: Counter, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    assert same(fly_setup(SETUP), hand_made())


def test_no_half_written_file_is_left(flights: Counter, own_cache: Path) -> None:
    fly_setup(SETUP)
    assert list(own_cache.rglob("*.part")) == []


def test_every_value_of_a_setup_counts() -> None:
    flight = RecordedFlight(np.arange(3.0), np.arange(3.0), np.arange(3.0), np.arange(3.0))
    moved = dataclasses.replace(flight, height_ft=np.array([0.0, 1.0, 2.5]))
    setups = [
        SETUP,
        dataclasses.replace(SETUP, seed=2),
        dataclasses.replace(SETUP, tolerance_deg=0.001),
        dataclasses.replace(SETUP, effects=frozenset({"noise"})),
        dataclasses.replace(SETUP, loop=dataclasses.replace(SETUP.loop, cut_off_deg_s=1.0)),
        dataclasses.replace(SETUP, flight=FlightPlan((Hold(60.0), Hold(60.0)))),
        dataclasses.replace(SETUP, flight=flight),
        dataclasses.replace(SETUP, flight=moved),
    ]
    assert len({fingerprint(setup) for setup in setups}) == len(setups)
    assert fingerprint(dataclasses.replace(SETUP, flight=flight)) == fingerprint(setups[6])


def test_an_edit_of_any_physics_source_changes_the_fingerprint(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    from gyrochalk.demonstration.fingerprint import code_fingerprint

    package = tmp_path / "package"
    for folder in ("errors", "units", "physics", "systems"):
        (package / folder / "inner").mkdir(parents=True)
    source = package / "physics" / "inner" / "gyro.py"
    source.write_text("RATE = 1\n", encoding="utf-8")
    monkeypatch.setattr("gyrochalk.__file__", str(package / "__init__.py"))
    found = []
    for text in ("RATE = 1\n", "RATE = 2\n"):
        source.write_text(text, encoding="utf-8")
        code_fingerprint.cache_clear()
        found.append(code_fingerprint())
    code_fingerprint.cache_clear()
    assert found[0] != found[1]


def test_two_threads_wait_for_one_flight(monkeypatch: pytest.MonkeyPatch) -> None:
    began, calls, found = threading.Event(), [], []

    def simulate(setup: Setup) -> Run:
        calls.append(setup)
        began.set()
        ready.wait(5.0)
        return hand_made()

    ready = threading.Event()
    monkeypatch.setattr(simulating, "simulate", simulate)
    threads = [threading.Thread(target=lambda: found.append(fly_setup(SETUP))) for _ in range(3)]
    for thread in threads:
        thread.start()
    began.wait(5.0)
    ready.set()
    for thread in threads:
        thread.join(10.0)
    assert (len(calls), len(found), len({id(run) for run in found})) == (1, 3, 1)


def test_what_the_simulation_refuses_names_the_file(workspace: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = Path("demonstrations/orbit.yaml")
    path.write_text("gyrochalk: 1\n", encoding="utf-8")
    attempts = []

    def refuse(setup: Setup) -> Run:
        attempts.append(setup)
        raise MaterialError(Problem("simulation-stopped", "it stopped", "steps", "try another"))

    monkeypatch.setattr(simulating, "simulate", refuse)
    for _ in range(2):
        with pytest.raises(MaterialError) as caught:
            fly(load(path))
        assert str(caught.value) == "demonstrations/orbit.yaml  it stopped; steps; try another  [simulation-stopped]"
    assert len(attempts) == 2


@pytest.mark.parametrize(
    ("platform", "named", "folder"),
    [
        ("linux", {}, "home/.cache/gyrochalk/runs"),
        ("darwin", {}, "home/Library/Caches/gyrochalk/runs"),
        ("win32", {"LOCALAPPDATA": "local"}, "local/gyrochalk/cache/runs"),
        ("win32", {}, "home/AppData/Local/gyrochalk/cache/runs"),
        ("win32", {"XDG_CACHE_HOME": "named"}, "named/gyrochalk/runs"),
    ],
)
def test_where_runs_are_kept(
    monkeypatch: pytest.MonkeyPatch, platform: str, named: dict[str, str], folder: str
) -> None:
    for name in ("XDG_CACHE_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    for name, value in named.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr("sys.platform", platform)
    monkeypatch.setattr(Path, "home", lambda: Path("home"))
    assert cache_folder().as_posix() == folder


def test_the_oldest_runs_make_room(flights: Counter, monkeypatch: pytest.MonkeyPatch) -> None:
    import os

    setups = [dataclasses.replace(SETUP, seed=seed) for seed in range(5)]
    for age, setup in enumerate(setups):
        fly_setup(setup)
        path = cache_folder() / f"{fingerprint(setup)}.npz"
        os.utime(path, (1000.0 + age, 1000.0 + age))
    size = path.stat().st_size
    monkeypatch.setattr("gyrochalk.demonstration.run_cache.MOST_BYTES", 5 * size)
    fly_setup(dataclasses.replace(SETUP, seed=99))
    kept = {path.stem for path in cache_folder().glob("*.npz")}
    assert [fingerprint(setup) in kept for setup in setups] == [False, False, True, True, True]
