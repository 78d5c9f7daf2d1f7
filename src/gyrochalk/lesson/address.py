"""What stands after the colon of our links: `orbit/slaved.peak_error?within=20%`, `orbit.textbook?show=card`."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from urllib.parse import unquote

from gyrochalk.errors import MaterialError, Problem


@dataclasses.dataclass(frozen=True, slots=True)
class Address:
    """The demonstration (with its variant, if any), the measure or rule, and the options in the order written."""

    demonstration: str
    measure: str
    options: Mapping[str, str]


def parse_address(text: str, *, measured: bool, example: str) -> Address:
    """Take an address apart.

    `text` is what stands after the scheme and its colon; `measured` says whether a measure must follow the
    demonstration; `example` is shown when the address cannot be read. Raises `MaterialError` without a place.
    """
    path, _, query = text.partition("?")
    demonstration, slash, measure = (unquote(part).strip() for part in path.partition("/"))
    if not demonstration or bool(measure) != measured or bool(slash) != measured or "/" in measure:
        kind = "demonstration/measure" if measured else "the id of a demonstration"
        raise MaterialError(
            Problem(
                "address-unreadable",
                f"{text!r} is not an address",
                f"{kind}, then ? and options if any",
                f"write it like {example}",
            )
        )
    return Address(demonstration, measure, _options(query, example))


def _options(query: str, example: str) -> dict[str, str]:
    options: dict[str, str] = {}
    for part in query.split("&") if query else []:
        name, equals, value = part.partition("=")
        name, value = unquote(name).strip(), unquote(value).strip()
        if not (name and equals and value) or name in options:
            what = f"the option {name!r} is given twice" if name in options else f"{part!r} is not an option"
            raise MaterialError(
                Problem("address-unreadable", what, "options are name=value, joined by &", f"write it like {example}")
            )
        options[name] = value
    return options
