"""One problem, a list of them, and the exception that carries the list."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable

from gyrochalk.errors.codes import CODES


@dataclasses.dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in somebody's material.

    `what` names the value and its unit, `allowed` what would be accepted, `cure` what to try; `code` is a key of
    `CODES`. `file`, `line` and `column` (both from 1) are None where the problem has no place in a file.
    """

    code: str
    what: str
    allowed: str
    cure: str
    file: str | None = None
    line: int | None = None
    column: int | None = None

    def __post_init__(self) -> None:
        if self.code not in CODES:
            raise KeyError(f"{self.code!r} is not an error code of gyrochalk.errors.codes")

    def __str__(self) -> str:
        place = ""
        if self.file is not None:
            place = ":".join(str(part) for part in (self.file, self.line, self.column) if part is not None) + "  "
        return f"{place}{self.what}; {self.allowed}; {self.cure}  [{self.code}]"

    def at(self, file: str | None, line: int | None = None, column: int | None = None) -> Problem:
        """The same problem with its place filled in."""
        return dataclasses.replace(self, file=file, line=line, column=column)


class MaterialError(Exception):
    """Somebody's material cannot be used; `problems` has every reason, in file order."""

    def __init__(self, problems: Iterable[Problem] | Problem) -> None:
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class ProblemList:
    """Gathers problems while a file is read, then refuses once with all of them."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def add(self, problem: Problem) -> None:
        """Note one more problem."""
        self.problems.append(problem)

    def extend(self, error: MaterialError) -> None:
        """Note every problem an exception carries."""
        self.problems.extend(error.problems)

    def refuse_if_any(self) -> None:
        """Raise `MaterialError` with all problems in order of place, if there are any."""
        if self.problems:
            raise MaterialError(sorted(self.problems, key=lambda p: (p.file or "", p.line or 0, p.column or 0)))
