"""The demo lesson in another course's words: every picture that speaks through the catalogue, every ready-made note."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from gyrochalk.figures import Figure
from gyrochalk.lesson import Flights, Workspace, parse
from gyrochalk.lesson.examination import Examination, examine
from gyrochalk.quantities import CHANNELS, measures_for
from tests.lesson.test_vocabulary import REPLACED

COURSE = Path(__file__).parents[2] / "course"
NOT_YET = re.compile(r"kind=(?:path|earth|strip)")
"""Pictures that take the instruments' names but say the rest in English."""
CHOSEN = {
    "detector: detector": "detector: flux valve",
    "unslaved gyro: unslaved gyro (DG)": "unslaved gyro: unslaved heading indicator",
    "rate one: rate one": "rate one: standard rate",
    "wander: wander": "wander: drift\n  slaved compass: gyro-magnetic compass",
}


def spoken(folder: Path, language: str) -> Examination:
    """The demo lesson, examined in a copy of the course that speaks otherwise."""
    shutil.copytree(COURSE, folder / "course", ignore=shutil.ignore_patterns("out"))
    file = folder / "course" / "course.yaml"
    text = file.read_text(encoding="utf-8").replace("language: en-GB", f"language: {language}")
    for usual, other in CHOSEN.items():
        assert text.count(usual) == 1
        text = text.replace(usual, other)
    file.write_text(text, encoding="utf-8")
    flights = Flights(Workspace(folder / "course"))
    return examine(parse(folder / "course" / "lessons" / "01-why-join-them.md"), flights)


def said(figure: Figure) -> str:
    cells = [cell for row in (figure.table.header, *figure.table.rows) for cell in row]
    return "\n".join([figure.title, figure.alt, figure.caption, *cells, *(label.text for label in figure.labels)])


def pictures(found: Examination) -> list[str]:
    return [said(drawn.figure) for mention, drawn in found.pictures.items() if not NOT_YET.search(mention.address)]


@pytest.fixture(scope="module")
def english(tmp_path_factory: pytest.TempPathFactory) -> Examination:
    return spoken(tmp_path_factory.mktemp("en"), "en-GB")


@pytest.fixture(scope="module")
def french(tmp_path_factory: pytest.TempPathFactory) -> Examination:
    return spoken(tmp_path_factory.mktemp("fr"), "fr")


def test_no_picture_holds_a_usual_term(english: Examination) -> None:
    """But for the comparison, which names its two flights by the titles their author gave them."""
    shown = pictures(english)
    assert len(shown) >= 10
    left = [word for text in shown for word in REPLACED.findall(text)]
    assert {word.lower() for word in left} <= {"rate-one"}
    with_titles = [text for text in shown if re.search("rate-one", text, re.IGNORECASE)]
    assert ["drawn over one another" in text for text in with_titles] == [True]


def test_no_note_on_a_ready_made_measure_holds_a_usual_term(english: Examination) -> None:
    ready = measures_for(CHANNELS)
    notes = [found.source for found in english.findings.values() if found.measure in ready]
    assert len(notes) >= 10
    assert [note for note in notes if REPLACED.search(note)] == []


def test_every_number_still_holds_in_other_words(english: Examination) -> None:
    assert [found.stated for found in english.findings.values() if not found.good] == []


def test_french_pictures_write_no_decimal_point(french: Examination) -> None:
    assert [re.findall(r"\d\.\d", text) for text in pictures(french) if re.search(r"\d\.\d", text)] == []


def test_claims_hold_in_french_and_values_ask_for_a_comma(french: Examination) -> None:
    bad = [found for found in french.findings.values() if not found.good]
    assert [found.stated for found in bad if found.kind == "claim"] == []
    assert bad
    assert [found.computed for found in bad] == [found.stated.replace(".", ",") for found in bad]
