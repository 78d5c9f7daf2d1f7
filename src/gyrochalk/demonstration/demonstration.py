"""A demonstration as it was loaded: its setups, its measures and what to look for."""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Callable, Mapping
from pathlib import Path

from gyrochalk.demonstration.refusal import listed
from gyrochalk.demonstration.sweeps import Sweep
from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.measure import Measure
from gyrochalk.systems.setup import Setup
from gyrochalk.units import nearest


@dataclasses.dataclass(frozen=True, slots=True)
class Variant:
    """One variant of a demonstration: its name (empty for the base run), title, what to look for, setup."""

    name: str
    title: str
    look_for: str
    setup: Setup


@dataclasses.dataclass(frozen=True, eq=False)
class Demonstration:
    """An experiment that was read from a file.

    `id` is the file's name without `.yaml`; `setup` is the base run; `variants` has the setup of every named variant
    (without the base); `measures` are those the file declares, by name; `swept` the values it sweeps; `source_text`
    the file as read; `path` where it was read from.
    """

    id: str
    title: str
    look_for: str
    setup: Setup
    variants: Mapping[str, Setup]
    measures: Mapping[str, Measure]
    swept: tuple[Sweep, ...]
    source_text: str
    path: Path
    described: Mapping[str, Variant]
    setup_at: Callable[[str | None, Mapping[str, int]], Setup]

    @property
    def source_hash(self) -> str:
        """SHA-256 of the file's text."""
        return hashlib.sha256(self.source_text.encode("utf-8")).hexdigest()

    def variant(self, name: str | None = None) -> Variant:
        """A variant by name, the base run for None or ""; raises `MaterialError` (variant-unknown)."""
        if (name or "") not in self.described:
            raise MaterialError(self._unknown(name or ""))
        return self.described[name or ""]

    def _unknown(self, name: str) -> Problem:
        guess = nearest(name, self.variants)
        allowed = f"its variants are {listed(list(self.variants))}" if self.variants else "it has no variants"
        cure = f'did you mean "{self.id}.{guess}"?' if guess else f'write "{self.id}" for the base run'
        return Problem("variant-unknown", f'the demonstration "{self.id}" has no variant "{name}"', allowed, cure)
