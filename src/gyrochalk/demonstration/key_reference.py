"""Every key of a demonstration in one page of Markdown, written from the schema so that it cannot fall behind."""

from __future__ import annotations

import typing
from typing import Any

from gyrochalk.demonstration.json_schema import json_schema
from gyrochalk.demonstration.keys import DemonstrationKeys
from gyrochalk.demonstration.section import Section
from gyrochalk.demonstration.translation import sections
from gyrochalk.demonstration.values import Choice, Value

HEAD = """# Every key of a demonstration

Written by the program from its schema (`python -m gyrochalk.demonstration.key_reference`); a test holds the two
together. Values are written with their unit; any unit of the same kind will do. A dash means no default of its own.
"""


def key_reference() -> str:
    """The page, in Markdown: one table for each group of keys."""
    schema = json_schema()
    parts = [HEAD, *(_table(section, schema) for section in sections(DemonstrationKeys))]
    return "\n".join(parts)


def _table(section: type[Section], schema: dict[str, Any]) -> str:
    described = schema["$defs"].get(section.__name__, schema)
    group = next((part for part in described.get("anyOf", []) if "properties" in part), described)
    doc = (section.__doc__ or "").strip().split("\n")[0]
    short = f" Short form: `{section.shorthand}`." if section.shorthand else ""
    lines = [f"## {_title(section)}", f"{doc}{short}", "", "| key | what | allowed | default |", "|---|---|---|---|"]
    for name, field in section.model_fields.items():
        shown = group["properties"][field.alias or name]
        kind = next((value for value in field.metadata if isinstance(value, Value)), None)
        default = shown.get("default")
        text = "—" if default in {None, ""} else {True: "yes", False: "no"}.get(default, default)
        lines.append(f"| `{field.alias}` | {field.description} | {_allowed(kind, field.annotation)} | {text} |")
    return "\n".join(lines) + "\n"


def _title(section: type[Section]) -> str:
    name = section.__name__.removesuffix("Keys")
    words = "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in name).strip()
    return words.capitalize()


def _allowed(kind: Value | None, annotation: Any) -> str:
    if isinstance(kind, Choice):
        return ", ".join(kind.words)
    if kind is not None:
        return kind.expected()
    return "a list, each entry with keys" if typing.get_origin(annotation) is tuple else "keys below it"


if __name__ == "__main__":
    print(key_reference(), end="")
