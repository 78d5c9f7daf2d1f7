"""`[40°](value:orbit/detector.peak_error?digits=0)`: a number the tool keeps up to date."""

from __future__ import annotations

import dataclasses

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.lesson.address import Address, parse_address
from gyrochalk.lesson.findings import Finding
from gyrochalk.lesson.flights import BrokenDemonstrationError, Flights, ground
from gyrochalk.lesson.mentions import Mention
from gyrochalk.quantities import Stated, parse_stated
from gyrochalk.quantities.results import same_dimension

EXAMPLE = "[40°](value:orbit/detector.peak_error?digits=0)"
USUAL_DIGITS, MOST_DIGITS = 1, 6


def examine_value(mention: Mention, flights: Flights) -> Finding:
    """Compare the text of one value with its run; never raises for what an author wrote."""
    finding = Finding(
        "value", mention.place, mention.text, "", mention.address, {}, "unchecked", private=mention.private
    )
    try:
        with ground(mention.place):
            address = parse_address(mention.address, measured=True, example=EXAMPLE)
            finding = dataclasses.replace(
                finding, demonstration=address.demonstration, measure=address.measure, options=address.options
            )
            _require_text(mention)
            return _examined(finding, address, mention, flights)
    except BrokenDemonstrationError:
        return finding
    except MaterialError as error:
        return dataclasses.replace(finding, problems=error.problems)


def _require_text(mention: Mention) -> None:
    if mention.raw == f"value:{mention.address}":
        what = "the value has no text that could be kept up to date"
        raise MaterialError(Problem("claim-unstated", what, "a text in brackets", f"write {EXAMPLE}"))


def _examined(finding: Finding, address: Address, mention: Mention, flights: Flights) -> Finding:
    written = _read(mention.text)
    options = {name: text for name, text in address.options.items() if name != "digits"}
    measured = Address(address.demonstration, address.measure, options)
    usual = flights.measure(measured).unit
    if "unit" not in options and written and written.unit and same_dimension(written.unit, usual):
        measured = Address(address.demonstration, address.measure, {**options, "unit": written.unit})
    value = flights.value(measured)
    computed = value.text(_digits(address, written))
    fresh = computed == mention.text
    return dataclasses.replace(
        finding,
        state="fresh" if fresh else "stale",
        computed=computed,
        number=value.number,
        unit=value.unit,
        time_s=value.time_s,
        source=flights.source(measured, value),
        problems=() if fresh else (_stale(finding, computed),),
    )


def _read(text: str) -> Stated | None:
    try:
        return parse_stated(text)
    except MaterialError:
        return None


def _digits(address: Address, written: Stated | None) -> int:
    text = address.options.get("digits")
    if text is None:
        return min(MOST_DIGITS, written.decimals) if written else USUAL_DIGITS
    if text.isascii() and text.isdecimal() and len(text) == 1 and int(text) <= MOST_DIGITS:
        return int(text)
    what = f"digits={text} is not a number of decimals"
    raise MaterialError(Problem("number-unreadable", what, f"0 to {MOST_DIGITS}", "write for example digits=1"))


def _stale(finding: Finding, computed: str) -> Problem:
    return Problem(
        "value-stale",
        f'the value reads "{finding.stated}", the run says {computed}',
        "the text of a value is what the run says",
        "run gyrochalk refresh",
        finding.place.file,
        finding.place.line,
        finding.place.column,
    )
