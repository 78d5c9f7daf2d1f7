"""The demo lesson: every claim holds, and none would hold if it were changed by more than its own tolerance."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

import pytest

from gyrochalk.lesson import Finding, Flights, Lesson, Report, Workspace, check_lesson, parse, parse_text
from gyrochalk.lesson.directives.claim import examine_claim
from gyrochalk.lesson.mentions import Mention
from gyrochalk.quantities import parse_stated

COURSE = Path(__file__).parents[2] / "course"
PATH = COURSE / "lessons" / "01-why-join-them.md"
FLIGHTS = Flights(Workspace(COURSE))
LESSON = parse(PATH)
CLAIMS = [mention for mention in LESSON.mentions if mention.scheme == "claim"]
_NUMBER = re.compile(r"[−-]?[0-9]+(?:\.[0-9]+)?")


@pytest.fixture(scope="module")
def report() -> Report:
    return check_lesson(PATH, FLIGHTS)


def name(claim: Mention) -> str:
    return f"{claim.place.line}:{claim.place.column}"


def examined(claim: Mention) -> Finding:
    return examine_claim(claim, FLIGHTS)


def changed(claim: Mention, way: int) -> str:
    """The claim's text with the least change, in units of its last digit, that is more than its tolerance."""
    stated = parse_stated(claim.text)
    unit = Decimal(1).scaleb(-stated.decimals)
    tolerance = Decimal(repr(examined(claim).tolerance))
    steps = tolerance // unit + 1
    written = _NUMBER.search(claim.raw)
    assert written is not None
    number = Decimal(written[0].replace("−", "-")) + way * steps * unit
    text = f"{number:.{stated.decimals}f}".replace("-", "−")
    if stated.heading or examined(claim).measure.endswith("heading"):
        text = f"{int(number) % 360:03d}"
    return claim.raw.replace(written[0], text, 1)


def with_change(claim: Mention, way: int) -> tuple[Lesson, Mention]:
    """The lesson with one claim changed, and that claim in it."""
    text = LESSON.source.text
    lesson = parse_text(text[: claim.start] + changed(claim, way) + text[claim.end :], PATH)
    return lesson, next(mention for mention in lesson.mentions if mention.start == claim.start)


def test_everything_holds(report: Report) -> None:
    assert [str(problem) for problem in report.all_problems] == []
    assert report.holds


def test_it_is_a_whole_lesson(report: Report) -> None:
    assert report.count("claim", "holds") >= 15
    assert report.count("value", "fresh") >= 4
    assert {finding.demonstration for finding in report.findings} >= {
        "rule",
        *(d.text for d in LESSON.front.demonstrations),
    }
    drawn = {
        mention.address.partition("?")[0].partition(".")[0] for mention in LESSON.mentions if mention.scheme == "figure"
    }
    assert drawn == {demonstration.text for demonstration in LESSON.front.demonstrations}
    assert {fence.kind for fence in LESSON.fences} >= {"ask", "equation", "private"}


@pytest.mark.parametrize("way", [1, -1], ids=["more", "less"])
@pytest.mark.parametrize("claim", CLAIMS, ids=name)
def test_a_changed_claim_is_found_at_its_place(claim: Mention, way: int) -> None:
    assert examined(claim).state == "holds"
    _, mention = with_change(claim, way)
    finding = examined(mention)
    assert finding.state == "false", f"{mention.text} would also hold"
    (problem,) = finding.problems
    assert (problem.code, problem.line, problem.column) == ("claim-false", claim.place.line, claim.place.column)


@pytest.mark.parametrize("way", [1, -1], ids=["more", "less"])
def test_check_fails_at_every_changed_claim(way: int, tmp_path: Path) -> None:
    """All claims changed in one file, which `check` reads from disk."""
    text, end, pieces = LESSON.source.text, 0, []
    for claim in CLAIMS:
        pieces += [text[end : claim.start], changed(claim, way)]
        end = claim.end
    path = tmp_path / "changed.md"
    path.write_text("".join([*pieces, text[end:]]), encoding="utf-8", newline="")
    report = check_lesson(path, FLIGHTS)
    assert not report.holds
    told = [(problem.line, problem.column) for problem in report.all_problems if problem.code == "claim-false"]
    assert told == [(m.place.line, m.place.column) for m in parse(path).mentions if m.scheme == "claim"]
