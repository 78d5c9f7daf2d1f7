"""What a public docstring must say, read from the source so that nothing need be imported or compiled."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef

UNITS: dict[str, tuple[str, ...]] = {
    "rad": ("rad", "radian"),
    "deg": ("deg", "°", "degree"),
    "m_s": ("m/s",),
    "m_s2": ("m/s²", "m/s2"),
    "kt": ("kt", "knot"),
    "ft": ("ft", "feet"),
    "nm": ("nm", "NM", "nautical"),
    "s": ("s", "second"),
    "min": ("min", "minute"),
    "h": ("h", "hour"),
    "ut": ("µT", "uT", "microtesla"),
    "nt": ("nT", "nanotesla"),
    "hz": ("Hz",),
    "g": ("g",),
    "deg_s": ("deg/s", "°/s"),
    "deg_min": ("deg/min", "°/min"),
    "deg_h": ("deg/h", "°/h"),
    "rad_s": ("rad/s",),
    "a_m2": ("A·m²", "A m²"),
}
"""The unit suffixes of dimensional names, and how a docstring may write each unit."""
LONGEST_FIRST = sorted(UNITS, key=len, reverse=True)


def faults(path: Path) -> Iterator[str]:
    """One line for each public thing in a source file whose docstring says too little."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    if not ast.get_docstring(tree):
        yield "1 the module has no docstring"
    for name, definition in public_definitions(tree):
        for fault in faults_of(name, definition):
            yield f"{definition.lineno} {fault}"


def public_definitions(tree: ast.Module) -> Iterator[tuple[str, Definition]]:
    """The public classes and functions of a module and the public methods of those classes."""
    for node in public(tree.body):
        yield node.name, node
        if isinstance(node, ast.ClassDef):
            yield from ((f"{node.name}.{inner.name}", inner) for inner in public(node.body))


def public(body: list[ast.stmt]) -> Iterator[Definition]:
    """The public definitions of a body, without those that say another definition explains them."""
    for node in body:
        if isinstance(node, Definition) and not node.name.startswith("_"):
            marks = {ast.unparse(mark).rpartition(".")[2] for mark in node.decorator_list}
            if not marks & {"override", "overload", "setter"}:
                yield node


def faults_of(name: str, definition: Definition) -> Iterator[str]:
    """What is missing from one docstring."""
    text = ast.get_docstring(definition)
    if not text:
        yield f"{name} has no docstring"
        return
    first = text.split("\n\n")[0]
    if not re.search(r"[.:?!](\s|$)", first):
        yield f"{name}: the first sentence of the docstring does not end"
    if isinstance(definition, ast.ClassDef):
        return
    for parameter in parameters(definition):
        if not tells_unit(text, parameter):
            yield f"{name}: the docstring names neither `{parameter}` nor its unit in brackets"


def parameters(function: ast.FunctionDef | ast.AsyncFunctionDef) -> Iterator[str]:
    """The names of a function's parameters."""
    arguments = function.args
    yield from (each.arg for each in [*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs])


def suffix_of(parameter: str) -> str | None:
    """The unit suffix of a parameter's name, if it has one."""
    return next((suffix for suffix in LONGEST_FIRST if parameter.endswith("_" + suffix)), None)


def tells_unit(text: str, parameter: str) -> bool:
    """Whether a docstring names a dimensional parameter, or states a unit it could have, in square brackets."""
    suffix = suffix_of(parameter)
    if suffix is None or re.search(rf"\b{re.escape(parameter)}\b", text):
        return True
    bracketed = " ".join(re.findall(r"\[([^\]]*)\]", text))
    return any(re.search(rf"(?<![\w/]){re.escape(unit)}(?![\w/])", bracketed) for unit in UNITS[suffix])
