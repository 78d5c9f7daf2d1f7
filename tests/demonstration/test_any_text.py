"""Whatever stands in a file, it is read or refused with problems that have a place; nothing else ever happens."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from gyrochalk.demonstration import read
from gyrochalk.errors import MaterialError

COURSE = Path(__file__).parents[2] / "course" / "demonstrations"
WHOLE = [path.read_text(encoding="utf-8") for path in sorted(COURSE.glob("*.yaml"))]
MARKS = """: |- |{|}|[|]|'|"|#|&a |*a|!!x |>|<<: |? |, |%|sweep|{sweep: {from: 1 deg}}"""
WORDS = "0|-|N|deg|NaN|1e999|null|~|é|𝄞"
SPLINTERS = ["", " ", "\n", "  ", "\t", "|", *MARKS.split("|"), *WORDS.split("|")]


@st.composite
def damaged(draw: st.DrawFn) -> str:
    """A demonstration of the course with a few places cut out or written over."""
    text = draw(st.sampled_from(WHOLE))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        text = text[:start] + draw(st.sampled_from(SPLINTERS)) + text[start + draw(st.integers(0, 12)) :]
    return text


def refusal(text: str) -> MaterialError | None:
    try:
        assert read(text, Path("demonstrations/orbit.yaml")).setup.flight is not None
    except MaterialError as error:
        return error
    return None


def check(text: str) -> None:
    error = refusal(text)
    if error is not None:
        assert error.problems
        for problem in error.problems:
            assert problem.file is not None
            assert "" not in (problem.what, problem.allowed, problem.cure)


@settings(max_examples=250, deadline=None, derandomize=True)
@given(damaged())
def test_damaged_demonstrations(text: str) -> None:
    check(text)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.text(max_size=200))
def test_any_text_at_all(text: str) -> None:
    check(text)
    check(f"gyrochalk: 1\n{text}")
