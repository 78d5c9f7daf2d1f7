"""Every checked number of a page is found, wherever it stands."""

from __future__ import annotations

from gyrochalk.document import ClaimMark, CodeText, Emphasis, ListBlock, Note, Page, Paragraph, Quote, Text, plain_text
from gyrochalk.document.inline import marks_in
from gyrochalk.document.walking import every_mark, has_code
from tests.document.sample_page import blocks


def test_numbers_are_found_inside_everything() -> None:
    one, two, three = (ClaimMark(f"{n}°", f"{n}.0°", "holds") for n in (1, 2, 3))
    inside = (
        Paragraph((Emphasis((one,)),)),
        ListBlock(((Paragraph((two,)),),)),
        Quote((Note((Paragraph((three,)),)),)),
    )
    assert every_mark(inside) == (one, two, three)
    assert marks_in((Text("none"),)) == ()


def test_the_sample_page_has_five() -> None:
    assert [mark.stated for mark in every_mark(blocks())] == ["10.9°", "−11.9 °/h", "about 40°", "0.9°", "40°"]


def test_code_is_noticed() -> None:
    assert has_code((Paragraph((Emphasis((CodeText("x"),)),)),))
    assert not has_code(Page("T", ()).blocks)


def test_words_without_their_dress() -> None:
    assert plain_text((Text("a "), Emphasis((Text("b"),)), ClaimMark("3°", "", "holds"))) == "a b3°"
