"""Addresses of links are taken apart, or refused with an example."""

from __future__ import annotations

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.lesson.address import Address, parse_address

EXAMPLE = "[30 min](claim:orbit/slaved.peak_error)"


@pytest.mark.parametrize(
    ("text", "address"),
    [
        ("orbit/slaved.peak_error", Address("orbit", "slaved.peak_error", {})),
        (
            "orbit.textbook/slaved.peak_error?within=20%",
            Address("orbit.textbook", "slaved.peak_error", {"within": "20%"}),
        ),
        ("a/b?within=20%25&is=below", Address("a", "b", {"within": "20%", "is": "below"})),
        ("a/b?at=turn%20ends", Address("a", "b", {"at": "turn ends"})),
        ("a/b?at=turn ends + 10 s", Address("a", "b", {"at": "turn ends + 10 s"})),
    ],
)
def test_addresses_of_numbers(text: str, address: Address) -> None:
    assert parse_address(text, measured=True, example=EXAMPLE) == address


def test_addresses_of_figures() -> None:
    assert parse_address("orbit?show=card,detector", measured=False, example=EXAMPLE) == Address(
        "orbit", "", {"show": "card,detector"}
    )


@pytest.mark.parametrize(
    ("text", "measured", "message"),
    [
        ("orbit", True, "'orbit' is not an address; demonstration/measure, then ? and options if any"),
        ("/x", True, "'/x' is not an address; demonstration/measure, then ? and options if any"),
        ("a/b/c", True, "'a/b/c' is not an address; demonstration/measure, then ? and options if any"),
        ("", False, "'' is not an address; the id of a demonstration, then ? and options if any"),
        ("a/b", False, "'a/b' is not an address; the id of a demonstration, then ? and options if any"),
        ("a/b?within", True, "'within' is not an option; options are name=value, joined by &"),
        ("a/b?=2", True, "'=2' is not an option; options are name=value, joined by &"),
        ("a/b?x=1&x=2", True, "the option 'x' is given twice; options are name=value, joined by &"),
        ("a/b?x=1&", True, "'' is not an option; options are name=value, joined by &"),
    ],
)
def test_refusals(text: str, measured: bool, message: str) -> None:
    with pytest.raises(MaterialError) as refused:
        parse_address(text, measured=measured, example=EXAMPLE)
    assert str(refused.value) == f"{message}; write it like {EXAMPLE}  [address-unreadable]"
