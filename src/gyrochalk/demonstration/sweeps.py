"""A value that is swept: written as `{sweep: {from: 1 deg/min, to: 6 deg/min, steps: 6}}` where a value stands.

The base run takes the value at `from`.
"""

from __future__ import annotations

import dataclasses
import re

from gyrochalk.demonstration.refusal import Path
from gyrochalk.demonstration.yaml_source import Mapping, Node, Scalar, Sequence
from gyrochalk.errors import Problem, ProblemList

MAX_STEPS = 1000
_NUMBER = re.compile(r"(?P<number>[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+))(?P<unit>.*)")
_HEADING = re.compile(r"[0-9]{3}(\.[0-9]+)?\s*°?\s*[TMC]?")
_ALLOWED = "sweep: {from: 1 deg/min, to: 6 deg/min, steps: 6}, both ends with the same unit"


@dataclasses.dataclass(frozen=True, slots=True)
class Sweep:
    """A swept value: `path` of keys and list positions to it, and the texts it takes one after another."""

    path: Path
    texts: tuple[str, ...]

    @property
    def name(self) -> str:
        """The path in one word: "loop.slow_rate"."""
        return ".".join(str(part) for part in self.path)


def take_sweeps(tree: Mapping, file: str, problems: ProblemList) -> tuple[Mapping, tuple[Sweep, ...]]:
    """The tree with every sweep replaced by its first value, and the sweeps; unreadable ones are reported."""
    found: list[Sweep] = []
    replaced = _replace(tree, (), found, file, problems)
    assert isinstance(replaced, Mapping)
    return replaced, tuple(found)


def put(node: Node, path: Path, text: str) -> Node:
    """The tree with the single value at `path` replaced by another text."""
    if not path:
        return Scalar(text, node.place)
    if isinstance(node, Mapping):
        entries = ((key, put(value, path[1:], text) if key.text == path[0] else value) for key, value in node.entries)
        return Mapping(tuple(entries), node.place)
    if isinstance(node, Sequence):
        items = (put(item, path[1:], text) if index == path[0] else item for index, item in enumerate(node.items))
        return Sequence(tuple(items), node.place)
    return node


def _replace(node: Node, path: Path, found: list[Sweep], file: str, problems: ProblemList) -> Node:
    if isinstance(node, Sequence):
        items = (_replace(item, (*path, index), found, file, problems) for index, item in enumerate(node.items))
        return Sequence(tuple(items), node.place)
    if not isinstance(node, Mapping):
        return node
    if path and node.get("sweep") is not None:
        return _take(node, path, found, file, problems)
    entries = ((key, _replace(value, (*path, key.text), found, file, problems)) for key, value in node.entries)
    return Mapping(tuple(entries), node.place)


def _take(node: Mapping, path: Path, found: list[Sweep], file: str, problems: ProblemList) -> Node:
    inner = node.get("sweep")
    texts = _texts(inner) if isinstance(inner, Mapping) and len(node.entries) == 1 else None
    if texts is None:
        problem = Problem("sweep-unreadable", f"{path[-1]}: the sweep cannot be read", _ALLOWED, "write it like that")
        problems.add(problem.at(file, node.place.line, node.place.column))
        texts = (_first_text(node),)
    found.append(Sweep(path, texts))
    return Scalar(texts[0], node.place)


def _first_text(node: Node) -> str:
    while not isinstance(node, Scalar):
        values = [value for _, value in node.entries] if isinstance(node, Mapping) else list(node.items)
        if not values:
            return ""
        node = values[0]
    return node.text


def _texts(inner: Mapping) -> tuple[str, ...] | None:
    ends = [inner.get(name) for name in ("from", "to", "steps")]
    if len(inner.entries) != 3 or not all(isinstance(end, Scalar) for end in ends):
        return None
    first, last, steps = (end.text.strip() for end in ends if isinstance(end, Scalar))
    one, other = _NUMBER.fullmatch(first), _NUMBER.fullmatch(last)
    if one is None or other is None or one["unit"].strip() != other["unit"].strip():
        return None
    if not re.fullmatch(r"[0-9]{1,4}", steps) or not 2 <= int(steps) <= MAX_STEPS:
        return None
    count = int(steps)
    low, high = float(one["number"]), float(other["number"])
    heading = bool(_HEADING.fullmatch(first))
    return tuple(_write(low + (high - low) * index / (count - 1), one["unit"], heading) for index in range(count))


def _write(number: float, unit: str, heading: bool) -> str:
    digits = f"{number:.9g}"
    if heading:
        whole, _, fraction = digits.partition(".")
        digits = whole.zfill(3) + (f".{fraction}" if fraction else "")
    return digits + unit
