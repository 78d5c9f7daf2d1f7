"""How a value of a demonstration refuses what was written: a pydantic error that carries whole problems."""

from __future__ import annotations

from pydantic_core import PydanticCustomError

from gyrochalk.errors import MaterialError, Problem

KIND = "gyrochalk"
Path = tuple[str | int, ...]


def refuse(problem: Problem, *path: str | int) -> PydanticCustomError:
    """An error for pydantic: `problem`, at `path` below the value that is being read."""
    return refuse_all([(path, problem)])


def refuse_all(problems: list[tuple[Path, Problem]]) -> PydanticCustomError:
    """An error for pydantic that carries several problems, each with its path below the value being read."""
    return PydanticCustomError(KIND, "refused", {"problems": problems})


def refuse_error(error: MaterialError) -> PydanticCustomError:
    """An error for pydantic from a refusal of another layer."""
    return refuse_all([((), problem) for problem in error.problems])


def listed(names: tuple[str, ...] | list[str]) -> str:
    """Names one after another: "a, b, c"."""
    return ", ".join(names)
