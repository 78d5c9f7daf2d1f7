"""Problems, and the exception that carries them."""

from __future__ import annotations

import pytest

from gyrochalk.errors import MaterialError, Problem, ProblemList

PROBLEM = Problem("unit-missing", "3 has no unit", "allowed are kt", "write for example 3 kt")


def test_a_problem_without_a_place() -> None:
    assert str(PROBLEM) == "3 has no unit; allowed are kt; write for example 3 kt  [unit-missing]"


@pytest.mark.parametrize(
    ("place", "printed"),
    [
        (("orbit.yaml", 2, 7), "orbit.yaml:2:7  "),
        (("orbit.yaml", 2, None), "orbit.yaml:2  "),
        (("orbit.yaml", None, None), "orbit.yaml  "),
    ],
)
def test_a_problem_with_its_place(place: tuple[str, int | None, int | None], printed: str) -> None:
    assert str(PROBLEM.at(*place)) == printed + str(PROBLEM)


def test_a_code_that_is_not_listed_is_a_mistake_of_the_program() -> None:
    with pytest.raises(KeyError, match="'no-such' is not an error code"):
        Problem("no-such", "a", "b", "c")


def test_all_problems_are_told_at_once_in_order_of_place() -> None:
    problems = ProblemList()
    problems.refuse_if_any()
    problems.add(PROBLEM.at("a.md", 9, 1))
    problems.extend(MaterialError([PROBLEM.at("a.md", 2, 5), PROBLEM.at("a.md", 2, 3)]))
    with pytest.raises(MaterialError) as refusal:
        problems.refuse_if_any()
    assert [(p.line, p.column) for p in refusal.value.problems] == [(2, 3), (2, 5), (9, 1)]
    assert str(refusal.value).splitlines() == [f"a.md:{place}  {PROBLEM}" for place in ("2:3", "2:5", "9:1")]
