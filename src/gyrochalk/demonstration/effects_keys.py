"""Which effects a demonstration has on."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from gyrochalk.demonstration.section import Section, key
from gyrochalk.demonstration.values import Choice
from gyrochalk.systems.effects import EFFECTS, FULL, TEXTBOOK

Effect = Annotated[str, Choice(tuple(EFFECTS))]
SETS = {"full": FULL, "textbook": TEXTBOOK}


class EffectsKeys(Section):
    """Effects on: `full`, `textbook`, a list of them, or a set with some more or some fewer."""

    shorthand: ClassVar[str] = "full"

    named: Annotated[str, Choice(tuple(SETS))] = key("set", "full or textbook.")
    only: tuple[Effect, ...] = key("only", "Exactly these effects.")
    added: tuple[Effect, ...] = key("with", "The textbook effects and these.")
    removed: tuple[Effect, ...] = key("without", "All effects but these.")

    @classmethod
    def expand(cls, text: str) -> dict[str, Any] | None:
        """The name of a set."""
        return {"set": text}

    @model_validator(mode="before")
    @classmethod
    def _list(cls, written: Any) -> Any:
        return {"only": written} if isinstance(written, list) else written

    @model_validator(mode="after")
    def _one(self) -> EffectsKeys:
        self.only_one("set", "only", "with", "without")
        return self

    def effects(self) -> frozenset[str]:
        """Names of the effects that are on."""
        kind, value = next(iter(self.given().items()))
        if kind == "named":
            return SETS[value]
        if kind == "only":
            return frozenset(value)
        return TEXTBOOK | set(value) if kind == "added" else FULL - set(value)

    def textbook(self) -> bool:
        """Whether the textbook set is meant as a whole, which brings the textbook loop (docs/decisions/0022)."""
        return self.given().get("named") == "textbook"

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        described = super().__get_pydantic_json_schema__(schema, handler)
        inner = handler.resolve_ref_schema(described)
        inner["anyOf"][0] = {"enum": list(SETS)}
        inner["anyOf"].append({"type": "array", "items": {"enum": list(EFFECTS)}})
        return described
