"""The page of a lesson: whole, marked, without anything private, and written only when it can be."""

from __future__ import annotations

import base64
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from gyrochalk.document import CAUTION
from gyrochalk.figures import OPTIONS
from gyrochalk.lesson import Built, Workspace, build_index, build_lesson, course_entries
from tests.lesson.desk import Desk

KNOWN = ", ".join(OPTIONS)
PNG = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
)


class Words(HTMLParser):
    """The words of a page and its elements; fonts, styles and folded numbers left out."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.text, self.tags, self._skip = "", [""], 0
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self._skip += tag in ("style", "svg", "title")

    def handle_endtag(self, tag: str) -> None:
        self._skip -= tag in ("style", "svg", "title")

    def handle_data(self, data: str) -> None:
        if not self._skip:
            self.text += data


def build(desk: Desk, body: str, front: str = "") -> Built:
    return build_lesson(desk.write(body, front=front), Workspace(desk.root))


def page(desk: Desk, body: str, front: str = "") -> Words:
    built = build(desk, body, front)
    assert built.path is not None, built.report.all_problems
    return Words(built.path.read_text(encoding="utf-8"))


def test_numbers_carry_where_they_come_from(desk: Desk) -> None:
    words = page(desk, "It is [2.0°](claim:drift/gyro.end_error) or [**2°**](value:drift.double/gyro.start_error).\n")
    text = " ".join(words.text.split())
    assert "It is 2.0° or 2° (out of date: the run says 0°)." in text
    assert "2.0° Run: 2.00°, the error of the unslaved gyro at the end, at 600 s (drift/gyro.end_error)" in text
    assert "1 of 2 marked numbers does not agree with the simulated flights: 2°." in text
    assert "Flights simulated for this page: Ten minutes of drift, Ten minutes of twice the drift." in text
    assert CAUTION in text


def test_a_false_claim_is_marked_never_mended(desk: Desk) -> None:
    words = page(desk, "It is [3.0°](claim:drift/gyro.end_error).\n")
    assert "It is 3.0° (false: the run says 2.00°)." in " ".join(words.text.split())


def test_a_rule_stands_beside_the_physics(desk: Desk) -> None:
    text = " ".join(page(desk, "It lags [40°](claim:rule/turning-lag?lat=40).\n").text.split())
    assert "Rule (Turning through north or south" in text
    assert "FAA Instrument Flying Handbook, 5-22): 40.0°" in text
    assert re.search(r"Physics: [0-9.]+°, the error of the steady card on north", text)


def test_a_false_rule_is_compared_with_the_rule(desk: Desk) -> None:
    text = page(desk, "It lags [30°](claim:rule/turning-lag?lat=40).\n").text
    assert "It lags 30° (false: the rule says 40.0°)." in " ".join(text.split())


def test_everything_markdown_has(desk: Desk) -> None:
    (desk.root / "images" / "p.png").write_bytes(PNG)
    body = """\
# A lesson

First *stressed* and **strong** `code`, [away](https://example.org), [file](other.txt), $x^2$.\\
Next line.

## Part

> quoted
>
> 2. two
> 3. three
>    - deep

| a | b |
|:-:|--:|
| [2.0°](claim:drift/gyro.end_error) | $y$ |

![Drift](figure:drift?show=gyro) after ![My own](images/p.png)

![Stills](<clip:drift?from=0 s&to=60 s>)

---

    code <b>

```python
x = 1
```

```equation y is x
y = x
```

```ask
question: Far?
decided by: drift/gyro.end_error
options: [{text: no, below: 1 deg}, {text: yes, above: 1 deg}]
```
"""
    words = page(desk, body, "minutes: 5 min\nobjectives: [T1]\n")
    text = " ".join(words.text.split())
    assert text.count("A lesson") == 1
    for piece in ("5 minutes", "After this lesson you can", "State the drift", "Figure 1. Drift.", "Figure 2. My own"):
        assert piece in text
    assert "Figure 3. Stills." in text
    assert {
        "em",
        "strong",
        "code",
        "a",
        "math",
        "br",
        "blockquote",
        "ol",
        "ul",
        "table",
        "svg",
        "img",
        "hr",
        "pre",
    } <= set(words.tags)
    assert "script" not in words.tags


def test_two_runs_in_one_picture(desk: Desk) -> None:
    text = page(desk, "![Twice](figure:drift?kind=compare&show=gyro&against=drift.double)\n").text
    assert "Flight: Ten minutes of drift, beside Ten minutes of twice the drift." in text
    assert "Flights simulated for this page: Ten minutes of drift, Ten minutes of twice the drift." in text


def test_two_runs_of_one_title_are_told_apart(desk: Desk) -> None:
    source = desk.root / "demonstrations" / "drift.yaml"
    text = source.read_text(encoding="utf-8").replace("    title: Ten minutes of twice the drift\n", "")
    source.write_text(text, encoding="utf-8")
    text = page(desk, "![Twice](figure:drift?kind=compare&show=gyro&against=drift.double)\n").text
    assert "Flight: Ten minutes of drift (as first flown), beside Ten minutes of drift (double)." in text


def test_practice_waits_in_a_private_block(desk: Desk) -> None:
    assert build(desk, "````private\n```practice\nfamily: x\n```\n````\n").path is not None


def test_hostile_text_is_printed_as_text(desk: Desk) -> None:
    body = (
        "<script>alert(1)</script> <img src=x onerror=alert(2)>\n\n[x](javascript:alert(3)) "
        "[<b>2.0°</b>](claim:drift/gyro.end_error?within=1%)\n\n![<svg onload=alert(4)>](figure:drift)\n\n"
        "```equation <i>\n<script>alert(5)</script>\n```\n\n| <u> |\n|--|\n| </table><script> |\n"
    )
    path = desk.write(body)
    path.write_text(path.read_text(encoding="utf-8").replace("title: A lesson", "title: A <script> lesson"), "utf-8")
    built = build_lesson(path, Workspace(desk.root))
    assert [problem.code for problem in built.report.all_problems] == ["number-unreadable"]
    path.write_text(path.read_text(encoding="utf-8").replace("<b>2.0°</b>", "2.0°"), "utf-8")
    built = build_lesson(path, Workspace(desk.root))
    assert built.path is not None
    words = Words(built.path.read_text(encoding="utf-8"))
    assert "<script>alert(1)</script> <img src=x onerror=alert(2)>" in words.text
    assert "[x](javascript:alert(3))" in words.text
    assert not {"script", "i", "u", "img"} & set(words.tags)


def test_nothing_private_is_on_the_page(desk: Desk) -> None:
    words = page(desk, "Seen.\n\n```private\nHidden [2.0°](claim:drift/gyro.end_error).\n```\n")
    assert "Seen." in words.text
    assert "Hidden" not in words.text
    assert "2.0°" not in words.text


def test_a_page_needs_nothing_from_anywhere(desk: Desk) -> None:
    built = build(desk, "[2.0°](claim:drift/gyro.end_error) ![f](figure:drift)\n")
    assert built.path is not None
    html = built.path.read_text(encoding="utf-8")
    assert re.findall(r"""(?:src|href|url)\s*[=(]\s*["']?(?!data:|#|["')])([^"')\s>]+)""", html) == []


def test_problems_leave_the_old_page(desk: Desk) -> None:
    first = build(desk, "Old.\n")
    assert first.path is not None
    before = first.path.read_bytes()
    second = build(desk, "New [2°](claim:none/x).\n")
    assert (second.path, second.page) == (None, None)
    assert second.entry.state == "not built: 1 problem"
    assert first.path.read_bytes() == before
    assert [path.name for path in first.path.parent.iterdir()] == ["l.html"]


def test_a_failing_disk_is_a_problem_not_a_half_page(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    built = build(desk, "Words.\n")
    assert [problem.code for problem in built.report.problems] == ["cannot-write"]
    assert list((desk.root / "out").iterdir()) == []


def test_building_twice_gives_the_same_bytes(desk: Desk) -> None:
    body = "[2.0°](claim:drift/gyro.end_error)\n\n![f](figure:drift)\n"
    first, second = (build(desk, body) for _ in range(2))
    assert first.path is not None
    assert second.path is not None
    once = first.path.read_bytes()
    assert build_lesson(desk.root / "lessons" / "l.md", Workspace(desk.root)).path == first.path
    assert first.path.read_bytes() == once


@pytest.mark.parametrize("body", ["## A ![f](figure:drift)\n", "| ![p](images/p.png) |\n|--|\n| x |\n"])
def test_no_room_for_a_picture(desk: Desk, body: str) -> None:
    built = build(desk, body)
    (problem,) = built.report.all_problems
    assert str(problem) == (
        f"lessons/l.md:5:{body.index('!') + 1}  a picture stands in a heading or a table; pictures stand in paragraphs "
        "and lists; move it to a line of its own  [picture-unusable]"
    )


@pytest.mark.parametrize(
    ("link", "message"),
    [
        (
            "![x](figure:drift?shwo=card)",
            f"shwo is not an option of a picture; allowed are {KNOWN}; did you mean show?  [figure-option]",
        ),
        (
            "![x](figure:drift?from=700s)",
            "the picture asks for 700.0 s; the run ends at 600.0 s; choose an earlier time or fly longer  "
            "[figure-time]",
        ),
        (
            "![x](figure:none)",
            'there is no demonstration "none"; the demonstrations are drift; add demonstrations/NAME.yaml  '
            "[demonstration-unknown]",
        ),
        (
            "![x](clip:drift/gyro.error)",
            "'drift/gyro.error' is not an address; the id of a demonstration, then ? and options if any; write it like "
            "![What the card shows](figure:orbit?show=card,detector)  [address-unreadable]",
        ),
    ],
)
def test_figures_that_cannot_be_drawn(desk: Desk, link: str, message: str) -> None:
    built = build(desk, f"> {link}\n")
    assert [str(problem) for problem in built.report.all_problems] == [f"lessons/l.md:5:3  {message}"]


def test_a_lesson_may_not_take_the_courses_name(desk: Desk) -> None:
    built = build_lesson(desk.write("x\n", "Index"), Workspace(desk.root))
    assert [str(problem) for problem in built.report.problems] == [
        'lessons/Index.md  a lesson cannot be called "Index"; that name is taken by the page of the course; '
        "rename the file  [name-duplicate]"
    ]


def test_the_index(desk: Desk) -> None:
    workspace = Workspace(desk.root)
    built = {
        name: build_lesson(desk.write(body, name), workspace).entry
        for name, body in (("a", "x\n"), ("b", "[2°](claim:drift/gyro.end_error)\n"), ("c", "[9°](value:drift/x)\n"))
    }
    (desk.root / "course.yaml").write_text("gyrochalk: 1\ntitle: Heading\nlessons: [b]\n", encoding="utf-8")
    entries = course_entries(workspace, built)
    assert [(entry.name, entry.state) for entry in entries] == [
        ("b", "all 1 numbers agree"),
        ("a", "states no numbers"),
        ("c", "not built: 1 problem"),
    ]
    build_index(workspace, entries)
    html = (desk.root / "out" / "index.html").read_text(encoding="utf-8")
    assert 'href="b.html"' in html
    assert "Heading" in Words(html).text
