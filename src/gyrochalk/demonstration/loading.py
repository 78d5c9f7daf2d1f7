"""Reads a demonstration file into a `Demonstration`, or refuses it with every problem at once."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from pathlib import Path

from pydantic import ValidationError

from gyrochalk.demonstration.declared import read_measures
from gyrochalk.demonstration.demonstration import Demonstration, Variant
from gyrochalk.demonstration.keys import FORMAT_VERSION, DemonstrationKeys
from gyrochalk.demonstration.overlay import OWN, overlay, without
from gyrochalk.demonstration.plain_tree import plain
from gyrochalk.demonstration.recording import read_recording
from gyrochalk.demonstration.setting import setup_of
from gyrochalk.demonstration.sweeps import Sweep, put, take_sweeps
from gyrochalk.demonstration.translation import problems_of, unknown_key
from gyrochalk.demonstration.values import check_name
from gyrochalk.demonstration.workspace import require_inside, workspace_of
from gyrochalk.demonstration.yaml_source import Mapping as Tree
from gyrochalk.demonstration.yaml_source import Place, Scalar, read_text, read_tree
from gyrochalk.errors import MaterialError, Problem, ProblemList
from gyrochalk.systems.ranges import refuse_out_of_range
from gyrochalk.systems.setup import Setup


def load(path: Path) -> Demonstration:
    """Read the demonstration file at `path`; raises `MaterialError` with every problem, each with line and column."""
    require_inside(path, workspace_of(path), path.as_posix())
    return _Reading(path, read_text(path)).demonstration()


def read(text: str, path: Path) -> Demonstration:
    """Read a demonstration from a text that stands, or will stand, in the file `path`; as `load`."""
    return _Reading(path, text).demonstration()


class _Reading:
    """One reading of one file: gathers problems as it goes."""

    def __init__(self, path: Path, text: str) -> None:
        self._path, self._text, self._file = path, text, path.as_posix()
        self._problems = ProblemList()
        self._seen: set[Problem] = set()
        written = read_tree(text, self._file)
        check_version(written, self._file)
        self._tree, self._sweeps = take_sweeps(written, self._file, self._problems)
        self._base = without(self._tree, frozenset({"variants"}))

    def demonstration(self) -> Demonstration:
        """All of it; raises with every problem found."""
        self._check_id()
        variants = self._variants()
        keys = {"": self._keys(self._base)} | {name: self._keys(tree) for name, tree in variants.items()}
        measures = read_measures(self._tree, self._file, self._problems)
        setups = {name: self._setup(entry) for name, entry in keys.items() if entry is not None}
        self._problems.refuse_if_any()
        described = {name: self._described(name, keys[name], setup) for name, setup in setups.items() if setup}
        return Demonstration(
            id=self._path.stem,
            title=described[""].title,
            look_for=described[""].look_for,
            setup=described[""].setup,
            variants={name: variant.setup for name, variant in described.items() if name},
            measures=measures,
            swept=self._sweeps,
            source_text=self._text,
            path=self._path,
            described=described,
            setup_at=functools.partial(_setup_at, self._path, self._base, variants, self._sweeps),
        )

    def _described(self, name: str, keys: DemonstrationKeys | None, setup: Setup) -> Variant:
        given = keys.given() if keys is not None else {}
        title = given.get("title") or self._path.stem.replace("-", " ").capitalize()
        return Variant(name, title, given.get("look_for", ""), setup)

    def _check_id(self) -> None:
        problem = check_name(self._path.stem, "name for a demonstration")
        if problem is not None:
            self._problems.add(problem.at(self._file))

    def _variants(self) -> dict[str, Tree]:
        node = self._tree.get("variants")
        if not isinstance(node, Tree):
            return {}
        found: dict[str, Tree] = {}
        for key, value in node.entries:
            problem = check_name(key.text, "name for a variant")
            if problem is not None:
                self._add(problem, key.place)
            elif isinstance(value, Tree):
                self._refuse_own(value)
                found[key.text] = overlay(self._base, without(value, OWN))
            elif isinstance(value, Scalar) and not value.text:
                found[key.text] = self._base
            else:
                what = f"{key.text}: a single value or a list stands here"
                self._add(
                    Problem("value-kind", what, "keys laid over those above", "write the keys below it"), value.place
                )
        return found

    def _refuse_own(self, variant: Tree) -> None:
        for key, _ in variant.entries:
            if key.text in OWN:
                known = tuple(name for name in DemonstrationKeys.names() if name not in OWN)
                problem = unknown_key(key.text, known)
                self._add(Problem(problem.code, problem.what, problem.allowed, "move it out of the variant"), key.place)

    def _keys(self, tree: Tree) -> DemonstrationKeys | None:
        try:
            return validate(tree, self._file)
        except MaterialError as error:
            self._extend(error)
            return None

    def _setup(self, keys: DemonstrationKeys) -> Setup | None:
        try:
            setup = setup_of(keys, functools.partial(read_recording, workspace_of(self._path)))
            refuse_out_of_range(setup)
        except MaterialError as error:
            self._extend(error)
            return None
        return setup

    def _add(self, problem: Problem, place: Place) -> None:
        self._problems.add(problem.at(self._file, place.line, place.column))

    def _extend(self, error: MaterialError) -> None:
        for unplaced in error.problems:
            problem = unplaced if unplaced.file else unplaced.at(self._file)
            if problem not in self._seen:
                self._seen.add(problem)
                self._problems.add(problem)


def validate(tree: Tree, file: str) -> DemonstrationKeys:
    """The keys of a tree without sweeps and variants; raises `MaterialError` with places."""
    try:
        return DemonstrationKeys.model_validate(plain(tree))
    except ValidationError as error:
        raise MaterialError(problems_of(error, DemonstrationKeys, tree, file)) from None


def check_version(tree: Tree, file: str, newest: int = FORMAT_VERSION) -> None:
    """Refuse a file that does not say which version of the format it has, or says one that is not known."""
    node = tree.get("gyrochalk")
    allowed = f"this gyrochalk reads version {newest}"
    if not isinstance(node, Scalar):
        place = node.place if node is not None else Place(1, 1)
        problem = Problem("key-missing", "the format version is missing", allowed, "begin with gyrochalk: 1")
        raise MaterialError(problem.at(file, place.line, place.column))
    if node.text != str(newest):
        newer = node.text.isdecimal() and int(node.text[:9]) > newest
        cure = "update gyrochalk" if newer else f"write gyrochalk: {newest}"
        what = f"the format version is {node.text[:20] or 'empty'}"
        problem = Problem("version-newer" if newer else "version-unknown", what, allowed, cure)
        raise MaterialError(problem.at(file, node.place.line, node.place.column))


def _setup_at(
    file: Path,
    base: Tree,
    variants: Mapping[str, Tree],
    sweeps: tuple[Sweep, ...],
    name: str | None,
    steps: Mapping[str, int],
) -> Setup:
    """The setup of a variant with swept values at the given steps (by `Sweep.name`)."""
    tree = variants[name] if name else base
    for sweep in sweeps:
        path = sweep.path[2:] if sweep.path[:2] == ("variants", name) else sweep.path
        moved = put(tree, path, sweep.texts[steps.get(sweep.name, 0)])
        assert isinstance(moved, Tree)
        tree = moved
    return setup_of(validate(tree, file.as_posix()), functools.partial(read_recording, workspace_of(file)))
