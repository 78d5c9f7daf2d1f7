"""A group of keys in a demonstration file, and how one is declared.

Attributes carry the names of the `systems` dataclass fields they fill; aliases are the keys an instructor writes.
An absent key is not passed on, so that every default stands in one place: the dataclass.
"""

from __future__ import annotations

import dataclasses
from typing import Any, ClassVar

from pydantic import BaseModel, ConfigDict, Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from gyrochalk.demonstration.refusal import listed, refuse, refuse_all
from gyrochalk.errors import Problem


def _absent(name: str) -> Problem:
    return Problem("key-missing", f'the key "{name}" is missing', "a value for it", f"add {name}")


def key(name: str, description: str) -> Any:
    """Declare a key: the word an instructor writes and what it means."""
    return Field(default=None, alias=name, description=description)


class Section(BaseModel):
    """A group of keys; `shorthand` says what a single value instead of the group may look like."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    target: ClassVar[type | None] = None
    shorthand: ClassVar[str] = ""

    @classmethod
    def names(cls) -> tuple[str, ...]:
        """The keys that may stand in the group."""
        return tuple(field.alias or name for name, field in cls.model_fields.items())

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """The keys that a single value stands for, or None if it stands for none."""
        return None

    @model_validator(mode="before")
    @classmethod
    def _open(cls, written: Any) -> Any:
        if isinstance(written, dict):
            return written
        kind = "a list" if isinstance(written, list) else "a single value"
        if isinstance(written, str):
            if not written.strip():
                raise refuse(
                    Problem("value-missing", "nothing stands here", cls._expected(), "fill it or remove the key")
                )
            if (longhand := cls.expand(written.strip())) is not None:
                return longhand
            key_word, _, rest = written.strip().partition(" ")
            if key_word in cls.names() and rest:
                cure = f"did you mean {key_word}: {rest.strip()}?"
                raise refuse(Problem("value-kind", f"{key_word} has no colon after it", cls._expected(), cure))
        raise refuse(Problem("value-kind", f"{kind} stands here", cls._expected(), "write the keys below it"))

    @classmethod
    def _expected(cls) -> str:
        words = f"allowed are the keys {listed(cls.names())}"
        return f"{words}, or for example {cls.shorthand}" if cls.shorthand else words

    def given(self) -> dict[str, Any]:
        """What was written, by attribute name."""
        return {name: getattr(self, name) for name in type(self).model_fields if name in self.model_fields_set}

    def build(self, base: Any) -> Any:
        """`base` (a frozen dataclass) with what was written put in."""
        return dataclasses.replace(base, **self.given())

    def only_one(self, *names: str, needed: bool = True) -> None:
        """Refuse unless exactly one of these keys stands in the group (or none, if not `needed`)."""
        written = [name for name in names if self._attribute(name) in self.model_fields_set]
        if len(written) == 1 or (not written and not needed):
            return
        if not written:
            raise refuse(Problem("key-conflict", "a key is missing", f"one of {listed(names)}", "add one of them"))
        what = f"{' and '.join(written)} exclude each other"
        raise refuse(Problem("key-conflict", what, f"one of {listed(names)}", f"remove {written[1]}"), written[1])

    def require(self, *names: str) -> None:
        """Refuse unless all these keys stand in the group."""
        absent = [name for name in names if self._attribute(name) not in self.model_fields_set]
        if absent:
            raise refuse_all([((), _absent(name)) for name in absent])

    def require_both(self, one: str, other: str) -> None:
        """Refuse if one of two keys stands in the group without the other."""
        if {self._attribute(one), self._attribute(other)} & self.model_fields_set:
            self.require(one, other)

    def _attribute(self, name: str) -> str:
        return next(attribute for attribute, field in type(self).model_fields.items() if field.alias == name)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        described = handler(schema)
        if not cls.shorthand:
            return described
        inner = handler.resolve_ref_schema(described)
        group = dict(inner)
        inner.clear()
        text = {"type": "string", "description": f"For example {cls.shorthand}."}
        inner.update({"title": group.get("title", cls.__name__), "anyOf": [text, group]})
        return described
