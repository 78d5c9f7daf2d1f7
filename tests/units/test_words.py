"""The catalogue of words: complete in English, honest about what another language lacks, every key used."""

from __future__ import annotations

import re
import string
from itertools import product
from pathlib import Path

import pytest

from gyrochalk.units import format_heading, format_quantity
from gyrochalk.units.words import ENGLISH, LANGUAGES, VOCABULARY, entries, language_of, reword, speech_of, untranslated
from gyrochalk.units.words.catalogue import chosen_terms, terms

SOURCE = Path(__file__).parents[2] / "src" / "gyrochalk"
OUTSIDE_ENGLISH = ("event.", "channel.")
"""What a run says of itself is English in the run; another language names it by kind or channel."""
FRENCH_LACKS = {
    *(f"measure.actual_heading_at_{way}" for way in ("north", "east", "south", "west")),
    *(f"measure.heading_passing_{way}" for way in ("north", "east", "south", "west")),
    *(f"measure.slaved_{span}_duration" for span in ("fast", "hold", "free", "cut_off")),
    *(
        f"measure.field_{which}"
        for name in ("horizontal", "dip", "variation")
        for which in (f"start_{name}", f"end_{name}", f"lowest_{name}", f"highest_{name}", f"{name}_change")
    ),
    *(f"measure.actual_{when}_{what}" for when in ("start", "end") for what in ("heading", "heading_true")),
    *(f"measure.actual_{when}_{what}" for when in ("start", "end") for what in ("latitude", "longitude")),
    *(f"measure.actual_{way}_{what}" for way in ("lowest", "highest") for what in ("height", "load")),
    *(f"measure.detector_{which}_field" for which in ("lowest", "highest", "mean")),
    "measure.actual_end_track",
    "measure.actual_heading_change",
    "measure.actual_peak_pitch",
    "measure.actual_peak_turn_rate",
    "measure.actual_track_change",
    "measure.actual_turn_duration",
    "measure.actual_turn_heading_change",
    "measure.actual_turns",
    "measure.card_peak_fluid_rate",
    "measure.end_tilt",
    "measure.gyro_time_of_topple",
    "measure.peak_tilt",
    "measure.slaved_fast_starts",
    "measure.slaved_peak_indicator",
    "measure.slaved_time_of_alignment",
}
"""What is said in English in a French course. A translation added is a line removed here."""


def fields(template: str) -> set[str]:
    return {name.split(".")[0] for _, name, _, _ in string.Formatter().parse(template) if name}


def test_french_lacks_what_is_listed_and_nothing_else() -> None:
    assert set(untranslated("fr")) == FRENCH_LACKS


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_language_has_a_sentence_english_lacks(language: str) -> None:
    extra = {key for key in entries(language) if key not in entries("en") and not key.startswith(OUTSIDE_ENGLISH)}
    assert extra == set()


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_translation_fills_in_the_same_things(language: str) -> None:
    """Terms apart, which a language may name or leave out."""
    free = set(terms("en"))
    differ = {
        key: (fields(entries("en")[key]) - free, fields(text) - free)
        for key, text in entries(language).items()
        if key in entries("en") and fields(entries("en")[key]) - free != fields(text) - free
    }
    assert differ == {}


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_names_every_term(language: str) -> None:
    assert set(terms(language)) == set(terms("en"))


@pytest.mark.parametrize("language", LANGUAGES)
def test_names_follow_only_from_words_a_course_may_choose(language: str) -> None:
    assert set(chosen_terms(language)) <= {word for choices in VOCABULARY.values() for word in choices}


def test_every_key_is_used() -> None:
    """Literally, or as the end of a key made from parts, such as f"ribbon.column_{what}"."""
    text = "\n".join(path.read_text(encoding="utf-8") for path in SOURCE.rglob("*.py"))
    literal = set(re.findall(r"[\"']([a-z]+\.[a-z_0-9]+)[\"']", text))
    made = [
        re.sub(r"\\\{[^}]*\\\}", ".+", re.escape(key)) for key in re.findall(r"f[\"']([a-z]+\.[^\"'\s]*)[\"']", text)
    ]
    made += ["note\\.verdict_.+", "faces\\.mode_[0-3]"]
    unused = [key for key in entries("en") if key not in literal and not any(re.fullmatch(m, key) for m in made)]
    assert unused == []


def test_the_usual_vocabulary_changes_nothing_ours_says() -> None:
    usual = speech_of("en-GB", {key: words[0] for key, words in VOCABULARY.items()})
    fill = dict.fromkeys(set().union(*(fields(text) for text in entries("en").values())) - set(terms("en")), "7")
    assert {key for key in entries("en") if usual.say(key, **fill) != ENGLISH.say(key, **fill)} == set()


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        ({"detector": "flux valve"}, "The flux valve feeds it; detector.error and detectors stay."),
        ({"detector": "detector unit"}, "The detector unit feeds it; detector.error and detectors stay."),
        ({}, "The detector feeds it; detector.error and detectors stay."),
    ],
)
def test_a_sentence_in_the_courses_words(choice: dict[str, str], said: str) -> None:
    assert reword("The detector feeds it; detector.error and detectors stay.", choice) == said


@pytest.mark.parametrize(
    ("word", "usual", "said"),
    [
        ("unslaved gyro (DI)", "an unslaved gyro", "an unslaved gyro (DI)"),
        ("unslaved heading indicator", "Unslaved gyro set", "Unslaved heading indicator set"),
        ("gyro-magnetic compass", "the slaved card's reading", "the gyro-magnetic compass's reading"),
        ("remote-indicating compass", "slaved compass", "remote-indicating compass"),
        (
            "standard rate",
            "For a rate-one turn; a turn at rate one",
            "For a standard-rate turn; a turn at standard rate",
        ),
        ("drift", "An unslaved gyro wanders: the wander is 2°", "An unslaved gyro drifts: the drift is 2°"),
        ("synchronisation indicator", "an annunciator", "a synchronisation indicator"),
    ],
)
def test_every_synonym_reaches_a_sentence(word: str, usual: str, said: str) -> None:
    assert reword(usual, {"": word}) == said


def test_rewording_twice_changes_nothing_more() -> None:
    sentences = ("The detector wanders off the unslaved gyro (DG)", "an annunciator at rate one on a slaved card")
    for choice, text in product(product(*VOCABULARY.values()), sentences):
        chosen = dict(zip(VOCABULARY, choice, strict=True))
        assert reword(reword(text, chosen), chosen) == reword(text, chosen)


def test_what_a_language_lacks_is_said_wholly_in_english() -> None:
    french = speech_of("fr", {"detector": "flux valve"})
    assert french.say("measure.detector_mean_field") == "the mean field in the flux valve's plane"
    assert french.say("traces.error_of", name=french.term("detector")) == "erreur de la vanne de flux"


def test_numbers_are_written_as_the_language_writes_them() -> None:
    with speech_of("fr", {}).numbers():
        assert (format_quantity(-2.05, "deg/h", 1), format_heading(43.5, "magnetic", 1)) == ("−2,1 °/h", "043,5° M")
    assert format_quantity(-2.05, "deg/h", 1) == "−2.1 °/h"


def test_a_tag_without_a_file_is_served_in_english() -> None:
    assert [language_of(tag) for tag in ("en-GB", "fr-CA", "FR", "pl")] == ["en", "fr", "fr", "en"]


def test_a_word_that_is_no_choice_is_refused() -> None:
    with pytest.raises(KeyError):
        speech_of("en", {"detector": "sniffer"})
