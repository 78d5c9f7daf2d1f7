"""Equations become MathML with words, and nothing else."""

from __future__ import annotations

import pytest

from gyrochalk.document.mathml import LONGEST_TEX, equation


def test_a_displayed_equation_carries_its_words() -> None:
    written = equation(r"\omega = \frac{g\tan\phi}{V}", "omega is g tan phi over V", block=True)
    assert written.startswith('<math xmlns="http://www.w3.org/1998/Math/MathML" display="block" alttext="omega is g')
    assert "<mfrac>" in written


def test_without_words_the_tex_stands_for_them() -> None:
    assert 'alttext="x&lt;1"' in equation("x<1", "", block=False)


@pytest.mark.parametrize(
    "tex",
    [r"\text{<script>alert(1)</script>}", r"\href{javascript:alert(1)}{x}", r"\text{a\"onclick=\"b}", "<b>x</b>"],
)
def test_no_markup_gets_through(tex: str) -> None:
    written = equation(tex, "words", block=False)
    assert "<script" not in written
    assert "<b>" not in written
    assert "href" not in written.split(">", 1)[1]


@pytest.mark.parametrize("tex", [r"\frac{", r"\left(", "x" * (LONGEST_TEX + 1)])
def test_what_cannot_be_read_is_shown_as_typed(tex: str) -> None:
    written = equation(tex, "words", block=False)
    assert written == f'<code class="tex">{tex}</code>' or written.startswith("<math ")
