"""Widths of texts come from the shipped fonts themselves."""

from __future__ import annotations

import hashlib
import json

import pytest

from gyrochalk.figures.lettering import FONTS, text_width, wrap_text
from gyrochalk.figures.style import FONT_FACES


def test_widths_belong_to_the_shipped_fonts() -> None:
    """A changed font file without `tools/font_metrics.py` run again is noticed."""
    table = json.loads((FONTS / "widths.json").read_text(encoding="utf-8"))
    for name, digest in table["sha256"].items():
        assert hashlib.sha256((FONTS / name).read_bytes()).hexdigest() == digest, name


def test_every_font_has_its_licence_beside_it() -> None:
    for family in {file.split("-latin")[0].split("-greek")[0] for *_, file in FONT_FACES}:
        assert "SIL Open Font License" in (FONTS / f"{family}-LICENSE.txt").read_text(encoding="utf-8")


def test_a_text_is_as_wide_as_its_letters() -> None:
    assert text_width("43", 10) == pytest.approx(text_width("4", 10) + text_width("3", 10))
    assert text_width("abc", 20) == pytest.approx(2 * text_width("abc", 10))
    assert text_width("W", 10) > text_width("i", 10)


def test_headings_of_three_figures_are_as_wide_as_each_other() -> None:
    assert max(text_width(f"{n:03d}", 10, "mono-400") for n in range(360)) == text_width("000", 10, "mono-400")


def test_lines_break_at_spaces_and_keep_every_word() -> None:
    text = "the unslaved gyro of a very long name indeed"
    lines = wrap_text(text, 80, 12)
    assert " ".join(lines) == text
    assert all(text_width(line, 12) <= 80 for line in lines)
    assert wrap_text("Unbreakable", 10, 12) == ["Unbreakable"]
