"""```ask …```: a question the class answers before the run; the run decides which answer is right."""

from __future__ import annotations

import dataclasses
from typing import Literal

from gyrochalk.demonstration.fields import Fields
from gyrochalk.demonstration.yaml_source import Mapping, Scalar, read_tree
from gyrochalk.errors import MaterialError, Problem, ProblemList
from gyrochalk.lesson.address import Address, parse_address
from gyrochalk.lesson.flights import Flights, ground
from gyrochalk.lesson.mentions import Fence
from gyrochalk.lesson.source import Place, Source
from gyrochalk.quantities import Value, parse_stated
from gyrochalk.quantities.results import same_dimension
from gyrochalk.units import parse

EXAMPLE = "decided by: orbit/slaved.peak_error"
Bound = Literal["below", "above", "between"]
BOUNDS: tuple[Bound, ...] = ("below", "above", "between")
DECIMALS = 1
"""Digits after the point of the answer shown."""


@dataclasses.dataclass(frozen=True, slots=True)
class Option:
    """One answer: its text, and the bound it claims as `written`."""

    text: str
    bound: Bound
    written: str
    place: Place


@dataclasses.dataclass(frozen=True, slots=True)
class Question:
    """A question with its answers; `right` is the index of the one that holds in the run, `value` what the run says,
    `source` where that comes from."""

    text: str
    options: tuple[Option, ...]
    right: int
    value: Value
    source: str

    @property
    def answer(self) -> str:
        """What the run says, in words."""
        return self.value.text(DECIMALS)


def read_question(fence: Fence, source: Source, flights: Flights) -> Question:
    """Read an `ask` block and let the run decide; raises `MaterialError` with places."""
    problems = ProblemList()
    fields = Fields(_tree(fence, source), source.file, problems, ("question", "decided by", "options"))
    text = fields.text("question", required=True)
    address = _address(fields, source.file, problems)
    options = tuple(_option(group, source.file, problems) for group in fields.groups("options"))
    if len(options) < 2:
        fields.report("block-unreadable", "the question has fewer than two options", "two or more", "add options")
    problems.refuse_if_any()
    assert address is not None
    scalar = fields.scalar("decided by")
    assert scalar is not None
    place = Place(source.file, scalar.place.line, scalar.place.column)
    with ground(place):
        address = _in_unit_of(options, address, flights)
        value = flights.value(address)
        said = f"{flights.title(address.demonstration)}: {flights.source(address, value)}."
    return Question(text, options, _right(options, value, fence.place), value, said)


def _in_unit_of(options: tuple[Option, ...], address: Address, flights: Flights) -> Address:
    """The measure in the unit the options are written in, where it can be stated in that unit."""
    try:
        unit = parse_stated(options[0].written.partition(" to ")[0]).unit
    except MaterialError:
        return address
    if unit is None or "unit" in address.options or not same_dimension(unit, flights.measure(address).unit):
        return address
    return Address(address.demonstration, address.measure, {**address.options, "unit": unit})


def _tree(fence: Fence, source: Source) -> Mapping:
    """The block as a tree whose places are those of the file."""
    lines = []
    for number, piece in enumerate(fence.body.split("\n"), start=fence.body_line):
        written = source.lines[number] if number < len(source.lines) else ""
        lines.append(" " * max(0, len(written.rstrip()) - len(piece.rstrip())) + piece)
    try:
        return read_tree("\n" * fence.body_line + "\n".join(lines), source.file)
    except MaterialError as error:
        if all((problem.line or 0) > fence.body_line for problem in error.problems):
            raise
        what = "the block is empty"
        raise MaterialError(_unreadable(what, "question, decided by, options", "fill it", fence.place)) from error


def _address(fields: Fields, file: str, problems: ProblemList) -> Address | None:
    written = fields.text("decided by", required=True)
    scalar = fields.scalar("decided by")
    if not written or scalar is None:
        return None
    try:
        return parse_address(written, measured=True, example=EXAMPLE)
    except MaterialError as error:
        for problem in error.problems:
            problems.add(problem.at(file, scalar.place.line, scalar.place.column))
        return None


def _option(group: Mapping, file: str, problems: ProblemList) -> Option:
    fields = Fields(group, file, problems, ("text", *BOUNDS))
    text = fields.text("text", required=True)
    given = [(bound, fields.scalar(bound)) for bound in BOUNDS if group.get(bound) is not None]
    place = Place(file, group.place.line, group.place.column)
    if len(given) != 1:
        what = f'the option "{text}" has {len(given)} bounds'
        fields.report("block-unreadable", what, "one of below, above, between", "write for example below: 5 deg")
        return Option(text, "below", "", place)
    bound, scalar = given[0]
    if isinstance(scalar, Scalar):
        place = Place(file, scalar.place.line, scalar.place.column)
    return Option(text, bound, scalar.text if scalar else "", place)


def _right(options: tuple[Option, ...], value: Value, place: Place) -> int:
    problems = ProblemList()
    holding = []
    for index, option in enumerate(options):
        try:
            if _holds(option, value):
                holding.append(index)
        except MaterialError as error:
            for problem in error.problems:
                problems.add(problem.at(option.place.file, option.place.line, option.place.column))
    problems.refuse_if_any()
    if len(holding) != 1:
        what = f"the run says {value.text(DECIMALS)}, and {len(holding)} of the {len(options)} options hold"
        raise MaterialError(_unreadable(what, "exactly one holds", "mend the bounds or the demonstration", place))
    return holding[0]


def _holds(option: Option, value: Value) -> bool:
    if value.north is not None:
        what = "the measure is a heading"
        raise MaterialError(
            Problem("block-unreadable", what, "an amount, such as an error or a time", "choose another")
        )
    if option.bound == "below":
        return value.number < parse(option.written, value.unit)
    if option.bound == "above":
        return value.number > parse(option.written, value.unit)
    low, to, high = option.written.partition(" to ")
    if not to:
        what = f"{option.written!r} is not a range"
        raise MaterialError(Problem("block-unreadable", what, "two quantities", "write between: 2 deg to 5 deg"))
    return parse(low, value.unit) <= value.number <= parse(high, value.unit)


def _unreadable(what: str, allowed: str, cure: str, place: Place) -> Problem:
    return Problem("block-unreadable", what, allowed, cure, place.file, place.line, place.column)
