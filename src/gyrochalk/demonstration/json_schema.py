"""The JSON Schema of a demonstration file, for editors that help while one types."""

from __future__ import annotations

import copy
import dataclasses
from typing import Any

from gyrochalk.demonstration.event_keys import ActionKeys, FaultKeys
from gyrochalk.demonstration.keys import FORMAT_VERSION, DemonstrationKeys
from gyrochalk.demonstration.overlay import OWN
from gyrochalk.demonstration.section import Section
from gyrochalk.demonstration.translation import sections
from gyrochalk.demonstration.values import NAME, SWEPT, Angle, Quantity, Value
from gyrochalk.quantities.channels import CHANNELS
from gyrochalk.quantities.measure import REDUCERS

Schema = dict[str, Any]
TEXT: Schema = {"type": ["string", "number", "boolean"]}


def json_schema() -> Schema:
    """The schema (draft 2020-12): every key with what it means, what may be written and what holds if it is absent."""
    schema: Schema = DemonstrationKeys.model_json_schema(by_alias=True)
    for section in sections(DemonstrationKeys):
        _complete(schema["$defs"].get(section.__name__, schema), section)
    properties = schema["properties"]
    properties["gyrochalk"] = {"const": FORMAT_VERSION, "description": "Version of the file's format."}
    properties["measures"] = {"type": "object", "additionalProperties": _measure(), "description": "Declared measures."}
    named = {f"^{NAME.pattern}$": {"$ref": "#/$defs/Variant"}}
    properties["variants"] = {
        "type": "object",
        "patternProperties": named,
        "additionalProperties": False,
        "description": "Named variants: keys laid over those above.",
    }
    schema["$defs"]["Variant"] = _variant(properties)
    schema["$defs"]["Sweep"] = _sweep()
    schema["required"] = ["gyrochalk"]
    _put_references(schema)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": "A gyrochalk demonstration"}


def _put_references(part: Any) -> None:
    """Replace what stands for a sweep by a reference: pydantic takes no reference it did not make."""
    if isinstance(part, dict) and part.get("$comment") == SWEPT["$comment"]:
        part.clear()
        part["$ref"] = "#/$defs/Sweep"
    for inner in part.values() if isinstance(part, dict) else part if isinstance(part, list) else ():
        _put_references(inner)


def _complete(described: Schema, section: type[Section]) -> None:
    """Take out pydantic's own defaults and titles, put in those of the dataclass that the section fills."""
    group = next((part for part in described.get("anyOf", []) if "properties" in part), described)
    defaults = _defaults(section)
    for name, field in section.model_fields.items():
        shown: Schema = group["properties"][field.alias or name]
        shown.pop("default", None)
        shown.pop("title", None)
        shown["description"] = field.description
        if name in defaults:
            kind = next((value for value in field.metadata if isinstance(value, Value)), None)
            shown["default"] = _written(defaults[name], kind)
    if section in {ActionKeys, FaultKeys}:
        group["required"] = ["at"] if section is ActionKeys else ["from"]


def _defaults(section: type[Section]) -> dict[str, Any]:
    if section.target is None or not dataclasses.is_dataclass(section.target):
        return {}
    plain = (str, int, float, bool)
    return {
        field.name: field.default
        for field in dataclasses.fields(section.target)
        if field.default is None or isinstance(field.default, plain)
    }


def _written(default: Any, kind: Value | None) -> Any:
    """A default as it would be written in the file."""
    if default is None:
        return getattr(kind, "word", "") or None
    if isinstance(kind, Quantity) and not isinstance(default, bool):
        return kind.write(float(default))
    if isinstance(kind, Angle):
        return f"{default:g} {'N' if kind.axis == 'latitude' else 'E'}"
    return default


def _variant(properties: Schema) -> Schema:
    inner = {name: copy.deepcopy(value) for name, value in properties.items() if name not in OWN}
    return {"type": ["object", "null"], "properties": inner, "additionalProperties": False}


def _sweep() -> Schema:
    ends = {"from": TEXT, "to": TEXT, "steps": {"type": "integer", "minimum": 2, "maximum": 1000}}
    inner = {"type": "object", "properties": ends, "required": list(ends), "additionalProperties": False}
    return {
        "type": "object",
        "description": "Any value may be swept: {sweep: {from: 1 deg/min, to: 6 deg/min, steps: 6}}.",
        "properties": {"sweep": inner},
        "required": ["sweep"],
        "additionalProperties": False,
    }


def _measure() -> Schema:
    texts = ("time", "event", "bound", "signed", "passes", "number", "unit", "description")
    window = dict.fromkeys(("from", "to", "span", "last"), TEXT)
    properties: Schema = {
        "channel": {"enum": list(CHANNELS)},
        "reducer": {"enum": list(REDUCERS), "description": "How the channel becomes one number."},
        "other": {"enum": list(CHANNELS)},
        "direction": {"enum": ["rising", "falling", "either"]},
        "window": {"type": "object", "properties": window, "additionalProperties": False},
        **{name: dict(TEXT) for name in texts},
    }
    return {"type": "object", "properties": properties, "required": ["reducer"], "additionalProperties": False}
