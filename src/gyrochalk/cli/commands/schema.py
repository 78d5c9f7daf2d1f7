"""`gyrochalk schema`: the JSON Schema of a demonstration."""

from __future__ import annotations

from gyrochalk.cli.console import show_json
from gyrochalk.demonstration import json_schema


def schema() -> None:
    """Print the schema."""
    show_json(json_schema())
