"""The course's words reach every label, title, alternative text, caption and table of a picture."""

from __future__ import annotations

import ast
import dataclasses
import itertools
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from gyrochalk.figures import PAGE, Figure, FigureOptions, Words, compare, draw
from gyrochalk.figures.options import Size
from gyrochalk.figures.style import stylesheet
from gyrochalk.quantities.channels import EVENTS, SPANS
from gyrochalk.units.words import ENGLISH, VOCABULARY, speech_of
from tests.figures.pictures import PICTURES
from tests.figures.sample_runs import RUNS, orbit, tumble

FIGURES = Path(__file__).parents[2] / "src" / "gyrochalk" / "figures"
OTHER = {
    "detector": "flux valve",
    "unslaved gyro": "unslaved heading indicator",
    "slaved compass": "gyro-magnetic compass",
    "rate one": "standard rate",
    "wander": "drift",
    "annunciator": "synchronisation indicator",
}
LONGEST = {key: max(words, key=len) for key, words in VOCABULARY.items()}
REPLACED = re.compile(
    r"(?<![\w.-])(detector|unslaved gyro|slaved (?:compass|card)|rate[ -]one|wander\w*|annunciator)(?![\w-]|\.\w)", re.I
)
ENGLISH_TELLTALES = re.compile(
    r"\b(the|and|from|reads?|error|heading|compass card|detector|scale|least|most|turn|at|high|low)\b", re.I
)
FRENCH = Words.of(speech_of("fr", {}))
SIZES: tuple[Size, ...] = ("small", "medium", "large")

DRAWN = {
    **PICTURES,
    "against-heading": ("orbit", FigureOptions(kind="against-heading")),
    "polar": ("orbit", FigureOptions(kind="polar")),
}
"""Every kind that speaks through the catalogue. The signal path, the Earth view and the strip are not yet among
them: they take the names of the instruments, and say the rest in English."""


def pictured(name: str, words: Words, size: Size = "medium") -> Figure:
    if name == "compare":
        options = FigureOptions(kind="compare", show=("slaved", "detector"), size=size)
        return compare({"un": orbit(), "deux": tumble()}, options, PAGE, words)
    run, options = DRAWN[name]
    return draw(RUNS[run](), dataclasses.replace(options, size=size), PAGE, words)


def said(figure: Figure) -> str:
    cells = [cell for row in (figure.table.header, *figure.table.rows) for cell in row]
    labels = [label.text for label in figure.labels]
    return "\n".join([figure.title, figure.alt, figure.caption, *cells, *labels])


ALL = (*DRAWN, "compare")
CHANNELS = ("channels", "traces-crowded")
"""The invented sample runs describe these channels by their names."""


@pytest.mark.parametrize("name", ALL)
def test_none_of_the_usual_terms_is_left(name: str) -> None:
    assert REPLACED.findall(said(pictured(name, Words()))) or name in CHANNELS
    assert REPLACED.findall(said(pictured(name, Words.of(speech_of("en", OTHER))))) == []


@pytest.mark.parametrize("name", [name for name in ALL if name not in CHANNELS])
def test_nothing_is_left_in_english(name: str) -> None:
    text = re.sub(r"landing light (on|off)|radio \d+ on", "", said(pictured(name, FRENCH)))
    assert ENGLISH_TELLTALES.findall(text) == []
    assert re.findall(r"\d\.\d", text) == []


@pytest.mark.parametrize(
    "words", [FRENCH, Words.of(speech_of("en", OTHER)), Words.of(speech_of("en", LONGEST))], ids=["fr", "en", "longest"]
)
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ALL)
def test_labels_stay_clear_of_each_other_in_other_words(name: str, size: Size, words: Words) -> None:
    drawn = pictured(name, words, size)
    meeting = [(a.text, b.text) for a, b in itertools.combinations(drawn.labels, 2) if a.meets(b)]
    outside = [box.text for box in drawn.labels if box.left < -0.5 or box.right > drawn.width_px + 0.5]
    assert (meeting, outside) == ([], [])


def test_the_names_words_has_by_itself_are_the_catalogues() -> None:
    assert Words() == Words.of(ENGLISH)


SPEAKING: tuple[str, ...] = (
    "against_heading",
    "comparison",
    "faces",
    "finding",
    "panel",
    "polar",
    "ribbon",
    "round_the_compass",
)
SPEAKING += ("timeaxis", "traces", "titling", "drawing", "beside", "words")
ALLOWED = {
    "comparison": ["badge edge-"],
    "finding": ["largest error"],
    "words": ["actual heading", "compass card", "slaved compass", "unslaved gyro"],
}
"""Strings that look like sentences: a class, the name of a measure nobody sees, the names `Words` has by itself."""
_SENTENCE = re.compile(r"[A-Za-z]{2,}[,:;]? [a-z]{2,}")


def strings_of(tree: ast.AST) -> Iterator[str]:
    """Texts of a module that could be shown: no docstrings, no problems, no subscripts."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            continue
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Problem":
            continue
        if isinstance(node, ast.Assign) and any(name in ast.unparse(node.targets[0]) for name in ("what", "allowed")):
            continue
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value
        yield from strings_of(node)


@pytest.mark.parametrize("module", SPEAKING)
def test_no_sentence_is_written_into_the_code(module: str) -> None:
    classes = {*re.findall(r"\.([A-Za-z][\w-]*)", stylesheet(".picture")), "trace", "curve", "way", "extreme", "apart"}
    tree = ast.parse((FIGURES / f"{module}.py").read_text(encoding="utf-8"))
    found = [
        text
        for text in strings_of(tree)
        if _SENTENCE.search(text) and not set(re.findall(r"[\w-]+", text)) <= classes and "<" not in text
    ]
    assert sorted({*found} - {*EVENTS, *SPANS}) == ALLOWED.get(module, [])
