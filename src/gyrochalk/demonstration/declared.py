"""The measures a demonstration declares, each read by `quantities` and placed in the file."""

from __future__ import annotations

import re

from gyrochalk.demonstration.plain_tree import plain
from gyrochalk.demonstration.translation import find_place
from gyrochalk.demonstration.yaml_source import Mapping, Place
from gyrochalk.errors import Problem, ProblemList
from gyrochalk.quantities.declaring import examine
from gyrochalk.quantities.measure import Measure

_NAME = re.compile(r"[a-z][a-z0-9_]{0,59}")


def read_measures(tree: Mapping, file: str, problems: ProblemList) -> dict[str, Measure]:
    """The declared measures by name; what is wrong with one is reported where it stands."""
    section = tree.get("measures")
    if not isinstance(section, Mapping):
        return {}
    found: dict[str, Measure] = {}
    for key, node in section.entries:
        problem = _check_name(key.text)
        if problem is not None:
            problems.add(_at(problem, file, key.place))
        elif not isinstance(node, Mapping):
            allowed = "the keys channel, reducer and what the reducer needs"
            wrong = Problem(
                "value-kind", f"{key.text}: a single value or a list stands here", allowed, "write the keys below it"
            )
            problems.add(_at(wrong, file, node.place))
        else:
            measure, located = examine(key.text, plain(node))
            for path, wrong in located:
                place = find_place(node, path, key=wrong.code == "key-unknown")
                problems.add(_at(_named(wrong, key.text), file, place))
            if measure is not None:
                found[key.text] = measure
    return found


def _check_name(text: str) -> Problem | None:
    if _NAME.fullmatch(text):
        return None
    mended = re.sub(r"[^a-z0-9]+", "_", text.casefold()).strip("_0123456789")[:60] or "worst_error"
    allowed = "small letters, figures and low lines, beginning with a letter, at most 60"
    return Problem("name-unreadable", f'"{text}" is no name for a measure', allowed, f"write for example {mended}")


def _named(problem: Problem, name: str) -> Problem:
    return Problem(problem.code, f"{name}: {problem.what}", problem.allowed, problem.cure)


def _at(problem: Problem, file: str, place: Place) -> Problem:
    return problem.at(file, place.line, place.column)
