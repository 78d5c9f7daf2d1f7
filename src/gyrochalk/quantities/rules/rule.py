"""What a named textbook rule is: what it says, where it stands, and what the physics says beside it."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Mapping
from typing import Literal

from gyrochalk.errors import MaterialError, Problem, ProblemList
from gyrochalk.quantities.value import Value
from gyrochalk.units import (
    North,
    convert,
    format_number,
    format_quantity,
    nearest,
    parse_angle_place,
    parse_heading,
    parse_quantity,
    read_quantity,
)

Kind = Literal["latitude", "heading", "side", "quantity"]
SIDES: dict[str, float] = {"right": 1.0, "left": -1.0}

Given = Mapping[str, float]
"""The parameters of a rule by name, each in its own unit."""


@dataclasses.dataclass(frozen=True, slots=True)
class Parameter:
    """One parameter of a rule.

    `name` as it stands in a claim; `unit` of its number (a plain unit name), which may be left out; `default` None
    means it must be given, unless it is `optional`; from `low` to `high`. A latitude may have N or S, a heading three
    figures and a letter, a side is right or left.
    """

    name: str
    unit: str
    meaning: str
    low: float
    high: float
    default: float | None = None
    optional: bool = False
    kind: Kind = "quantity"

    def read(self, written: str | float) -> float:
        """The number written, in the parameter's unit; raises MaterialError if it cannot be read or is out of range."""
        number = float(written) if not isinstance(written, str) else self._read_text(written)
        if not self.low <= number <= self.high or not math.isfinite(number):
            allowed = f"allowed is {self._show(self.low)} to {self._show(self.high)}"
            what = f"{self.name}={written} is out of range"
            raise MaterialError(Problem("out-of-range", what, allowed, "write a value in that range"))
        return number

    def _read_text(self, written: str) -> float:
        if self.kind == "heading" and len(written) >= 3 and written[:3].isdigit():
            return parse_heading(written).degrees
        if self.kind == "side" and written in SIDES:
            return SIDES[written]
        if self.kind == "latitude" and written.strip()[-1:].upper() in {"N", "S"}:
            return parse_angle_place(written, "latitude")
        quantity = read_quantity(written, example=f"40 {self.unit}".removesuffix(" 1"))
        if quantity.unit is None:
            return float(quantity.number)
        return convert(float(parse_quantity(written, self.unit).number), quantity.unit.name, self.unit)

    def _show(self, number: float) -> str:
        return format_quantity(number, self.unit, 0 if number == round(number) else 2)


@dataclasses.dataclass(frozen=True, slots=True)
class Rule:
    """A named textbook rule.

    `sentence` says it; `mark` is S (published), C (common practice) or M (from memory) and `source` where;
    `says` gives its number in `unit` (a heading from `north`); `model` gives what the physics says in `model_unit`,
    and `model_note` what that number is. `wording` puts numbers that are answers into words.
    """

    name: str
    sentence: str
    mark: Literal["S", "C", "M"]
    source: str
    unit: str
    parameters: tuple[Parameter, ...]
    says: Callable[[Given], float]
    model: Callable[[Given], float] | None = None
    model_unit: str = ""
    model_note: str = ""
    north: North | None = None
    model_north: North | None = None
    wording: Mapping[float, str] = dataclasses.field(default_factory=dict)

    def evaluate(self, **written: str | float) -> Value:
        """What the rule says for these parameters; raises MaterialError (rule-parameter, out-of-range, …)."""
        return Value(self.says(self.read(written)), self.unit, self.north, None, f"rule/{self.name}")

    def physics(self, **written: str | float) -> Value | None:
        """What the physics says for the same parameters, or None where there is nothing to set beside the rule."""
        given = self.read(written)
        if self.model is None:
            return None
        unit = self.model_unit or self.unit
        return Value(self.model(given), unit, self.model_north, None, f"rule/{self.name}: physics")

    def read(self, written: Mapping[str, str | float]) -> Given:
        """The parameters as numbers, defaults filled in; an optional one not given is absent."""
        problems = ProblemList()
        known = {parameter.name: parameter for parameter in self.parameters}
        for name in written:
            if name not in known:
                problems.add(self._unknown(name))
        given: dict[str, float] = {}
        for parameter in self.parameters:
            if parameter.name in written:
                try:
                    given[parameter.name] = parameter.read(written[parameter.name])
                except MaterialError as error:
                    problems.extend(error)
            elif parameter.default is not None:
                given[parameter.name] = parameter.default
            elif not parameter.optional:
                problems.add(self._missing(parameter))
        problems.refuse_if_any()
        return given

    def in_words(self, value: Value, decimals: int) -> str:
        """The rule's answer as it is shown to people."""
        return self.wording.get(value.number) or value.text(decimals)

    def _allowed(self) -> str:
        if not self.parameters:
            return f"{self.name} has no parameters"
        return f"parameters of {self.name} are {', '.join(parameter.name for parameter in self.parameters)}"

    def _unknown(self, name: str) -> Problem:
        guess = nearest(name, [parameter.name for parameter in self.parameters])
        cure = f'did you mean "{guess}"?' if guess else "leave it out"
        return Problem("rule-parameter", f'"{name}" means nothing to the rule {self.name}', self._allowed(), cure)

    def _missing(self, parameter: Parameter) -> Problem:
        example = format_number(min(max(40.0, parameter.low), parameter.high), 0)
        what = f"the rule {self.name} needs {parameter.name}, {parameter.meaning}"
        return Problem("rule-parameter", what, self._allowed(), f"add {parameter.name}={example}")


LATITUDE = Parameter("lat", "deg", "the latitude, north positive", -90.0, 90.0, kind="latitude")
DIP = Parameter("dip", "deg", "the dip, north end down positive", -89.0, 89.0, optional=True)
