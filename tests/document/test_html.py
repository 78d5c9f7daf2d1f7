"""A page is one file that needs nothing else, says what it is to every reader, and lets no markup through."""

from __future__ import annotations

import dataclasses
import itertools
import re
from html.parser import HTMLParser

import pytest

from gyrochalk.document import (
    CAUTION,
    Block,
    ClaimMark,
    Heading,
    Image,
    Link,
    Note,
    Page,
    Paragraph,
    RuleBeside,
    Text,
    render_html,
)
from gyrochalk.document.html import policy
from tests.document.sample_page import page, words

VOID = {"meta", "br", "hr", "img", "input", "path", "rect", "circle"}


class Reader(HTMLParser):
    """Reads a page: every tag with its attributes, whether tags close, and the text outside style."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.mismatched: list[str] = []
        self.text = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {key: value or "" for key, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {key: value or "" for key, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.mismatched.append(tag)

    def handle_data(self, data: str) -> None:
        if not self.open or self.open[-1] not in ("style", "script"):
            self.text += data

    def named(self, tag: str) -> list[dict[str, str]]:
        """The attributes of every `tag`."""
        return [attributes for name, attributes in self.tags if name == tag]


@pytest.fixture(scope="module")
def html() -> str:
    """The sample page, rendered."""
    return render_html(page())


@pytest.fixture(scope="module")
def read(html: str) -> Reader:
    """The sample page, read."""
    return Reader(html)


def small(*runs: object, **changes: object) -> str:
    """A page of one paragraph."""
    return render_html(dataclasses.replace(Page("T", (Paragraph(tuple(runs)),)), **changes))  # type: ignore[arg-type]


def test_every_tag_is_closed(read: Reader) -> None:
    assert (read.mismatched, read.open) == ([], [])


def test_nothing_is_fetched(html: str, read: Reader) -> None:
    sources = [a[key] for _, a in read.tags for key in ("src", "data", "action", "poster", "srcset") if key in a]
    assert all(source.startswith("data:") for source in sources)
    assert [tag for tag, _ in read.tags if tag in ("script", "link", "iframe", "object", "embed", "base", "form")] == []
    assert re.findall(r"url\((?!data:)", html) == []
    assert "@import" not in html


def test_nothing_runs(read: Reader) -> None:
    assert [key for _, attributes in read.tags for key in attributes if key.startswith("on")] == []
    policies = [meta["content"] for meta in read.named("meta") if "http-equiv" in meta]
    assert len(policies) == 1
    assert policies[0].startswith("default-src 'none'; style-src 'sha256-")
    assert "unsafe" not in policies[0]
    assert "script" not in policies[0]


def test_no_style_stands_where_the_policy_would_block_it(read: Reader) -> None:
    assert [tag for tag, attributes in read.tags if "style" in attributes] == []


def test_anchors_are_unique_and_every_inner_link_leads_somewhere(read: Reader) -> None:
    anchors = [attributes["id"] for _, attributes in read.tags if "id" in attributes]
    assert len(anchors) == len(set(anchors))
    targets = {a["href"][1:] for a in read.named("a") if a.get("href", "").startswith("#")}
    assert targets <= set(anchors)
    assert len(targets) > 10


def test_page_has_language_title_landmarks_and_a_way_past_the_head(read: Reader) -> None:
    assert read.named("html") == [{"lang": "en"}]
    assert [tag for tag, _ in read.tags if tag in ("header", "nav", "main", "footer")] == [
        "header",
        "nav",
        "main",
        "footer",
    ]
    assert read.named("a")[0] == {"class": "skip", "href": "#text"}
    assert len(read.named("h1")) == 1


def test_headings_go_down_one_level_at_a_time(read: Reader) -> None:
    levels = [int(tag[1]) for tag, _ in read.tags if re.fullmatch(r"h[1-6]", tag)]
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


def test_caution_stands_word_for_word(read: Reader) -> None:
    assert CAUTION in read.text


def test_every_picture_has_words(read: Reader) -> None:
    pictures = read.named("svg")
    assert len(pictures) == 5
    assert all(len(picture["aria-label"]) > 60 and picture["role"] == "img" for picture in pictures)


def test_captions_are_numbered_in_order(read: Reader) -> None:
    assert re.findall(r"Figure (\d)\. ", read.text) == ["1", "2", "3", "4", "5"]
    assert "Table 1. The three instruments side by side." in read.text


def test_numbers_of_a_picture_are_there_as_a_table(read: Reader) -> None:
    assert "The numbers of figure 1" in read.text
    assert "error of the unslaved gyro" in read.text


def test_markup_in_a_text_is_shown_not_obeyed(html: str) -> None:
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in html
    assert "<script" not in html


@pytest.mark.parametrize("target", ["javascript:alert(1)", " JavaScript:alert(1)", "data:text/html,x", "vbscript:x"])
def test_a_link_that_could_run_something_is_only_words(target: str) -> None:
    written = small(Link(target, words("press")))
    assert "press" in written
    assert "script:" not in written.lower().split("</style>")[1]
    assert "data:text" not in written


@pytest.mark.parametrize(
    "target", ["https://example.org/a?b=c&d", "#there", "other.html", "./x/y.html#z", "mailto:a@b.c"]
)
def test_a_plain_link_is_a_link(target: str) -> None:
    assert {"href": target} in Reader(small(Link(target, words("go")))).named("a")


def test_quotes_cannot_leave_an_attribute() -> None:
    read = Reader(small(Link('https://x.org/"onclick="alert(1)', words("go")), language='en" onload="x'))
    assert read.named("html") == [{"lang": "en"}]
    assert [key for _, attributes in read.tags for key in attributes if key.startswith("on")] == []


def test_a_number_that_holds_is_linked_with_its_note() -> None:
    read = Reader(small(ClaimMark("30 min", "30.1 min", "holds", "Flight “cold-start”: time to align.")))
    assert "30 min Run: 30.1 min. Flight “cold-start”: time to align." in read.text
    assert "The number marked in the text agrees with the simulated flights." in read.text
    assert "false" not in read.text


def test_a_false_number_says_so_in_words_and_above_the_page() -> None:
    read = Reader(small(ClaimMark("25 min", "30.1 min", "false", "Flight.")))
    assert "25 min (false: the run says 30.1 min)" in read.text
    assert "1 of 1 marked numbers does not agree with the simulated flights: 25 min." in read.text
    assert "Not what is stated." in read.text


def test_a_stale_and_an_unchecked_number() -> None:
    read = Reader(small(ClaimMark("25 min", "30.1 min", "stale"), Text(" "), ClaimMark("2°", "", "unchecked")))
    assert "25 min (out of date: the run says 30.1 min) 2° (not checked)" in read.text


def test_rule_and_physics_stand_side_by_side_and_neither_is_false() -> None:
    read = Reader(small(ClaimMark("40°", "40°", "holds", "", RuleBeside("turning-lag", "40°", "31.4°"))))
    assert "Rule (turning-lag): 40° Physics: 31.4°" in read.text
    assert "false" not in read.text


def test_notes_stand_beside_the_block_that_holds_the_number() -> None:
    inside = Note((Paragraph((ClaimMark("1°", "1.0°", "holds", "Here."),)),))
    written = render_html(Page("T", (inside,)))
    assert re.search(r'<div class="row"><div class="note note" role="note">.*?</div><div class="margin"', written)


def rows_of(*blocks: Block) -> list[int]:
    """How many blocks stand in each row of a page made of `blocks`."""
    written = render_html(Page("T", blocks)).split("<main", 1)[1]
    return [row.count("<p>") + row.count("<h2") for row in written.split('<div class="row">')[1:]]


def test_a_block_outgrown_by_its_notes_shares_its_row_with_the_text_after_it() -> None:
    mark = ClaimMark("1°", "1.0°", "holds", "the greatest size of the error of the direct compass, at 42 s")
    many, plain = Paragraph((mark, mark, mark)), Paragraph(words("Some more words, enough for a line. " * 10))
    assert rows_of(plain, plain) == [1, 1]
    assert rows_of(many, plain, plain) == [2, 1]
    assert rows_of(many, Heading(2, words("Next")), plain) == [1, 1, 1]


def test_same_headings_get_different_anchors() -> None:
    written = render_html(Page("T", tuple(Heading(2, words("Text")) for _ in range(3))))
    assert re.findall(r'<h2 id="([^"]+)">', written) == ["text-2", "text-3", "text-4"]


def test_a_question_shows_nothing_before_a_choice_and_needs_no_script(html: str) -> None:
    assert ".ask:not(:has(:checked)) .reveal:not([open]){display:none}" in html
    assert '<input type="radio" name="ask-1" value="1">' in html
    assert "Right:</b> A degree or two" in html


def test_an_image_that_is_no_picture_is_only_words() -> None:
    written = render_html(Page("T", (Image("javascript:alert(1)", "A panel"),)))
    assert "<img" not in written
    assert "A panel" in written


def test_the_server_may_add_a_script_and_only_that_one_runs() -> None:
    written = render_html(Page("T", ()), script="poll()")
    assert written.count("<script>poll()</script>") == 1
    assert "script-src 'sha256-" in policy("x", "poll()")
    assert "connect-src 'self'" in written


def test_the_mono_face_is_embedded_only_where_something_is_typed(html: str) -> None:
    assert html.count("@font-face") == 7
    assert small(Text("no code")).count("@font-face") == 6


def test_a_page_is_the_same_every_time(html: str) -> None:
    assert render_html(page()) == html


def test_a_page_may_be_fixed_to_a_ground() -> None:
    assert Reader(render_html(Page("T", ()), theme="dark")).named("html") == [{"lang": "en", "data-theme": "dark"}]
