"""The demonstrations a lesson draws on, each read once and flown once, and the values measured in their runs."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from typing import TypeVar

from gyrochalk.demonstration import Demonstration, Variant, demonstration_file, fly, load
from gyrochalk.demonstration import parse_address as parse_identity
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.address import Address
from gyrochalk.lesson.measuring import find_measure, in_words
from gyrochalk.lesson.source import Place
from gyrochalk.lesson.workspace import Workspace
from gyrochalk.quantities import Measure, Value, evaluate
from gyrochalk.systems.run import Run
from gyrochalk.units.words import ENGLISH

_Found = TypeVar("_Found")


class BrokenDemonstrationError(MaterialError):
    """A demonstration that is there but cannot be used: its problems stand in its own file and are told once."""


@contextlib.contextmanager
def ground(place: Place) -> Iterator[None]:
    """Give every problem raised inside that has no place of its own this one."""
    try:
        yield
    except BrokenDemonstrationError:
        raise
    except MaterialError as error:
        placed = [p if p.file else p.at(place.file, place.line, place.column) for p in error.problems]
        raise MaterialError(placed) from error


class Flights:
    """The runs of one workspace."""

    def __init__(self, workspace: Workspace) -> None:
        self.workspace = workspace
        self.speech = ENGLISH
        """How measures are described: a lesson being examined sets its course's."""
        self._loaded: dict[str, Demonstration | BrokenDemonstrationError] = {}
        self._flown: dict[tuple[str, str], Run | BrokenDemonstrationError] = {}
        self._measured: dict[tuple[object, ...], tuple[Measure, Value]] = {}

    @property
    def broken(self) -> list[Problem]:
        """Every problem of the demonstrations asked for so far, each once."""
        faults = [*self._loaded.values(), *self._flown.values()]
        found = [p for fault in faults if isinstance(fault, BrokenDemonstrationError) for p in fault.problems]
        return list(dict.fromkeys(found))

    def demonstration(self, identity: str) -> Demonstration:
        """The demonstration of an id without variant; raises if there is none or its file is refused."""
        if identity not in self._loaded:
            self._loaded[identity] = self._load(identity)
        return _or_raise(self._loaded[identity])

    def variant(self, name: str) -> tuple[Demonstration, Variant]:
        """The demonstration and variant of an address such as "orbit" or "orbit.textbook"."""
        identity, variant = parse_identity(name)
        demonstration = self.demonstration(identity)
        return demonstration, demonstration.variant(variant)

    def run(self, name: str) -> Run:
        """The run of an address."""
        demonstration, variant = self.variant(name)
        key = (demonstration.id, variant.name)
        if key not in self._flown:
            try:
                self._flown[key] = fly(demonstration, variant.name or None)
            except MaterialError as error:
                self._flown[key] = BrokenDemonstrationError(error.problems)
        return _or_raise(self._flown[key])

    def measure(self, address: Address) -> Measure:
        """The measure an address names, its options applied."""
        demonstration, _ = self.variant(address.demonstration)
        return find_measure(address, demonstration.measures, self.speech)

    def value(self, address: Address) -> Value:
        """What the run says."""
        return self._evaluated(address)[1]

    def _evaluated(self, address: Address) -> tuple[Measure, Value]:
        """The measure of an address and its value, worked out once for all the numbers that ask for it."""
        key = (address.demonstration, address.measure, *sorted(address.options.items()), id(self.speech))
        if key not in self._measured:
            measure = self.measure(address)
            self._measured[key] = (measure, evaluate(self.run(address.demonstration), measure))
        return self._measured[key]

    def title(self, name: str) -> str:
        """What the flight of an address is called."""
        return self.variant(name)[1].title

    def beside(self, name: str, other: str) -> dict[str, Run]:
        """Two runs by what their flights are called; a shared title is told apart by the variants' names."""
        titles = [self.title(name), self.title(other)]
        if titles[0] == titles[1]:
            variants = [self.variant(one)[1].name or "as first flown" for one in (name, other)]
            titles = [f"{title} ({variant})" for title, variant in zip(titles, variants, strict=True)]
        return {titles[0]: self.run(name), titles[1]: self.run(other)}

    def source(self, address: Address, value: Value) -> str:
        """In words, what was measured and when."""
        return in_words(self._evaluated(address)[0], value, self.speech)

    def _load(self, identity: str) -> Demonstration | BrokenDemonstrationError:
        path = demonstration_file(self.workspace.root, identity)
        try:
            return load(path)
        except MaterialError as error:
            return BrokenDemonstrationError(error.problems)


def _or_raise(found: _Found | BrokenDemonstrationError) -> _Found:
    if isinstance(found, BrokenDemonstrationError):
        raise BrokenDemonstrationError(found.problems)
    return found
