"""`[30 min](claim:cold-start/slaved.time_to_align)`: a number the author wrote, compared with the run."""

from __future__ import annotations

import dataclasses
from typing import Literal, cast

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.address import Address, parse_address
from gyrochalk.lesson.directives.rule import RULE, Ruling, examine_rule
from gyrochalk.lesson.findings import Finding
from gyrochalk.lesson.flights import BrokenDemonstrationError, Flights, ground
from gyrochalk.lesson.mentions import Mention
from gyrochalk.quantities import Comparison, Stated, compare, parse_stated
from gyrochalk.units import convert, format_quantity

EXAMPLE = "[30 min](claim:cold-start/slaved.time_to_align)"
OWN = ("within", "is")
"""Options that say how to compare; all others say what to measure."""

Bound = Literal["below", "above", "between"]


def examine_claim(mention: Mention, flights: Flights) -> Finding:
    """Compare one claim with its run, or with the textbook rule it names; never raises for what an author wrote."""
    finding = Finding(
        "claim", mention.place, mention.text, "", mention.address, {}, "unchecked", private=mention.private
    )
    try:
        with ground(mention.place):
            address = parse_address(mention.address, measured=True, example=EXAMPLE)
            finding = dataclasses.replace(
                finding, demonstration=address.demonstration, measure=address.measure, options=address.options
            )
            return _examined(finding, address, _stated(mention), flights)
    except BrokenDemonstrationError:
        return finding
    except MaterialError as error:
        return dataclasses.replace(finding, problems=error.problems)


def _stated(mention: Mention) -> Stated:
    if not mention.text or mention.text == f"claim:{mention.address}":
        what = "the claim states nothing"
        raise MaterialError(
            Problem("claim-unstated", what, "a number with its unit in the brackets", f"write {EXAMPLE}")
        )
    return parse_stated(mention.text)


def _examined(finding: Finding, address: Address, stated: Stated, flights: Flights) -> Finding:
    measured = Address(
        address.demonstration,
        address.measure,
        {name: text for name, text in address.options.items() if name not in OWN},
    )
    ruling: Ruling | None = None
    if address.demonstration == RULE:
        ruling = examine_rule(measured, stated.decimals, flights.speech)
        value, source = ruling.value, ruling.source
    else:
        value = flights.value(measured)
        source = flights.source(measured, value)
    within, bound = address.options.get("within"), cast("Bound | None", address.options.get("is"))
    comparison = compare(stated, value, within=within, bound=bound)
    return dataclasses.replace(
        finding,
        state="holds" if comparison.holds else "false",
        computed=comparison.computed,
        number=convert(value.number, value.unit, comparison.unit),
        unit=comparison.unit,
        time_s=value.time_s,
        margin=comparison.margin,
        tolerance=comparison.tolerance,
        source=source,
        physics=ruling.physics if ruling else None,
        problems=() if comparison.holds else (_false(finding, comparison, ruling),),
    )


def _false(finding: Finding, comparison: Comparison, ruling: Ruling | None) -> Problem:
    says = "the rule says" if ruling else "the run says"
    return Problem(
        "claim-false",
        f'"{finding.stated}" is stated, {says} {comparison.computed}',
        _allowed(comparison),
        "state that, or change the demonstration if the flight is not the one meant",
        finding.place.file,
        finding.place.line,
        finding.place.column,
    )


def _allowed(comparison: Comparison) -> str:
    over = _amount(-comparison.margin, comparison)
    if comparison.stated.bound is not None:
        return f"{over} beyond the bound"
    return f"{_amount(comparison.tolerance, comparison)} of difference is allowed, this is {over} more"


def _amount(number: float, comparison: Comparison) -> str:
    """An amount with enough digits not to read as nothing."""
    decimals = comparison.stated.decimals + 1
    while decimals < 9 and number and float(f"{number:.{decimals}f}") == 0:
        decimals += 1
    return format_quantity(number, comparison.unit, decimals)
