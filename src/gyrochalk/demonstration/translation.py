"""Turns what pydantic found wrong into problems with line and column."""

from __future__ import annotations

import typing
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from gyrochalk.demonstration.refusal import KIND, Path, listed
from gyrochalk.demonstration.section import Section
from gyrochalk.demonstration.yaml_source import Mapping, Node, Place, Scalar, Sequence
from gyrochalk.errors import Problem
from gyrochalk.units import nearest


def problems_of(error: ValidationError, root: type[Section], tree: Mapping, file: str) -> list[Problem]:
    """Every problem of a validation, placed in the file."""
    found: list[Problem] = []
    for detail in error.errors(include_url=False, include_input=False):
        for path, problem in _plain(detail, root):
            place = find_place(tree, path, key=problem.code == "key-unknown")
            found.append(_named(tree, path, problem).at(file, place.line, place.column))
    return found


def _plain(detail: ErrorDetails, root: type[Section]) -> list[tuple[Path, Problem]]:
    path = tuple(detail["loc"])
    if detail["type"] == KIND:
        return [((*path, *below), problem) for below, problem in detail["ctx"]["problems"]]
    if detail["type"] == "extra_forbidden":
        return [(path, unknown_key(str(path[-1]), section_at(root, path[:-1]).names()))]
    if detail["type"] in {"tuple_type", "list_type"}:
        problem = Problem(
            "value-kind", "a single value stands here", "a list", "write a line with a hyphen for each entry"
        )
        return [(path, problem)]
    if detail["type"] in {"dict_type", "model_type"}:
        return [
            (
                path,
                Problem("value-kind", "a single value stands here", "names with their values", "write keys below it"),
            )
        ]
    return [(path, Problem("value-kind", str(detail["msg"]), "a value of another kind", "see the list of keys"))]


def unknown_key(name: str, known: tuple[str, ...]) -> Problem:
    """The problem of a key that means nothing."""
    guess = nearest(name, known)
    cure = f'did you mean "{guess}"?' if guess else "remove it"
    return Problem("key-unknown", f'the key "{name}" means nothing here', f"allowed are {listed(known)}", cure)


def section_at(root: type[Section], path: Path) -> type[Section]:
    """The group of keys at a path below `root`."""
    section = root
    for part in path:
        if isinstance(part, str):
            field = next((field for field in section.model_fields.values() if field.alias == part), None)
            inner = _section_in(field.annotation) if field is not None else None
            section = inner or section
    return section


def sections(root: type[Section]) -> list[type[Section]]:
    """A group of keys and every group below it, each once."""
    found = [root]
    for section in found:
        inner = (_section_in(field.annotation) for field in section.model_fields.values())
        found.extend(part for part in inner if part is not None and part not in found)
    return found


def _section_in(annotation: Any) -> type[Section] | None:
    parts = typing.get_args(annotation)
    if parts:
        return next((found for part in parts if (found := _section_in(part))), None)
    return annotation if isinstance(annotation, type) and issubclass(annotation, Section) else None


def _named(tree: Mapping, path: Path, problem: Problem) -> Problem:
    """The problem with the key it concerns in front, as it stands in the file, unless it says so already."""
    name = next((part for part in reversed(_written(tree, path)) if isinstance(part, str)), None)
    if name is None or problem.code == "key-unknown":
        return problem
    return Problem(problem.code, f"{name}: {problem.what}", problem.allowed, problem.cure)


def find_place(tree: Mapping, path: Path, *, key: bool = False) -> Place:
    """Where the value at a path stands, or as near to it as the file goes; `key`: where its key stands."""
    node: Node = tree
    place = tree.place
    for part in _written(tree, path):
        inner = _step(node, part)
        assert inner is not None
        at_key = isinstance(node, Mapping) and ((key and part == path[-1]) or _nowhere(inner))
        place = (node.key_place(str(part)) if at_key and isinstance(node, Mapping) else None) or inner.place
        node = inner
    return place


def _written(tree: Mapping, path: Path) -> Path:
    """The parts of a path that stand in the file; those that a shorthand stands for do not."""
    node: Node = tree
    kept: list[str | int] = []
    for part in path:
        inner = _step(node, part)
        if inner is not None:
            kept.append(part)
            node = inner
    return tuple(kept)


def _step(node: Node, part: str | int) -> Node | None:
    if isinstance(node, Mapping):
        return node.get(part) if isinstance(part, str) else None
    if isinstance(node, Sequence) and isinstance(part, int) and part < len(node.items):
        return node.items[part]
    return None


def _nowhere(node: Node) -> bool:
    return isinstance(node, Scalar) and not node.text
