"""Lays the keys of a variant over those of its demonstration (docs/decisions/0020)."""

from __future__ import annotations

from gyrochalk.demonstration.yaml_source import Mapping, Node, Scalar

EXCLUSIVE = (
    frozenset({"date", "field"}),
    frozenset({"legs", "recorded"}),
    frozenset({"set", "only", "with", "without"}),
)
"""Keys of which a variant's replaces the other one."""

OWN = frozenset({"measures", "variants", "gyrochalk"})
"""Keys that belong to the whole file: a variant has none of them."""


def overlay(base: Mapping, above: Mapping) -> Mapping:
    """`above` laid over `base`: groups merged key by key, lists and single values replaced whole."""
    kept = [(key, value) for key, value in base.entries if not _displaced(key.text, above)]
    names = {key.text for key, _ in kept}
    merged: list[tuple[Scalar, Node]] = []
    for key, value in kept:
        upper = above.get(key.text)
        merged.append((key, value) if upper is None else (_key(above, key.text), _merge(value, upper)))
    merged += [(key, value) for key, value in above.entries if key.text not in names]
    return Mapping(tuple(merged), base.place)


def without(tree: Mapping, names: frozenset[str]) -> Mapping:
    """The tree without some of its keys."""
    return Mapping(tuple((key, value) for key, value in tree.entries if key.text not in names), tree.place)


def _merge(lower: Node, upper: Node) -> Node:
    return overlay(lower, upper) if isinstance(lower, Mapping) and isinstance(upper, Mapping) else upper


def _key(tree: Mapping, name: str) -> Scalar:
    return next(key for key, _ in tree.entries if key.text == name)


def _displaced(name: str, above: Mapping) -> bool:
    rivals = next((group for group in EXCLUSIVE if name in group), frozenset())
    return any(above.get(rival) is not None for rival in rivals if rival != name) and above.get(name) is None
