"""Which rows a topic has: filled by the decorators when the topic's modules are imported."""

from __future__ import annotations

import dataclasses
import importlib
import pkgutil
from collections.abc import Callable, Iterator
from pathlib import Path

from tools.evidence.goals import Goal, Measured


@dataclasses.dataclass(frozen=True, slots=True)
class Row:
    """One thing measured: its name, the number, the goal, the unit, and the source or "common practice"."""

    name: str
    measured: Measured
    goal: Goal
    unit: str
    source: str

    @property
    def holds(self) -> bool:
        """Whether the number meets the goal."""
        return self.goal.holds(self.measured)


@dataclasses.dataclass(frozen=True, slots=True)
class Measurement:
    """A registered function: what it is about, and how to get its rows."""

    name: str
    module: str
    measure: Callable[[], Iterator[Row]]


_REGISTERED: list[Measurement] = []


def row(name: str, *, goal: Goal, unit: str, source: str) -> Callable[[Callable[[], Measured]], Callable[[], Measured]]:
    """Register a function that measures one number; the goal is compared here, not in the function."""

    def register(function: Callable[[], Measured]) -> Callable[[], Measured]:
        def measure() -> Iterator[Row]:
            yield Row(name, function(), goal, unit, source)

        _REGISTERED.append(Measurement(name, function.__module__, measure))
        return function

    return register


def rows(about: str) -> Callable[[Callable[[], Iterator[Row]]], Callable[[], Iterator[Row]]]:
    """Register a function that yields several rows; `about` names them together while they are being measured."""

    def register(function: Callable[[], Iterator[Row]]) -> Callable[[], Iterator[Row]]:
        _REGISTERED.append(Measurement(about, function.__module__, function))
        return function

    return register


def topics() -> tuple[str, ...]:
    """The names of the topics there are: the packages beside this module."""
    return tuple(sorted(each.name for each in pkgutil.iter_modules([str(Path(__file__).parent)]) if each.ispkg))


def measurements(topic: str) -> tuple[Measurement, ...]:
    """Every measurement of a topic, in the order its modules and their functions stand."""
    package = importlib.import_module(f"tools.evidence.{topic}")
    names = [f"{package.__name__}.{each.name}" for each in pkgutil.iter_modules(package.__path__)]
    for name in names:
        importlib.import_module(name)
    return tuple(each for each in _REGISTERED if each.module in {package.__name__, *names})
