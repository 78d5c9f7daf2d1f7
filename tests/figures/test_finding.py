"""Titles say what the run shows."""

from __future__ import annotations

import numpy as np
import pytest

from gyrochalk.figures import FigureOptions, Words, draw
from gyrochalk.figures.finding import seconds, side
from gyrochalk.quantities import evaluate, measures_for
from tests.figures.sample_runs import cold_start, drift, make_run, orbit


def title(options: FigureOptions) -> str:
    """The title of a picture of the circle."""
    return draw(orbit(), options).title


def test_the_detector_is_out_and_the_slaved_compass_hardly() -> None:
    assert title(FigureOptions(show=("detector", "slaved"))) == "The detector is up to 38° out; the slaved compass 1.4°"


def test_the_title_says_what_a_claim_would() -> None:
    value = evaluate(orbit(), measures_for(orbit())["detector.peak_error"])
    assert value.text(0) in title(FigureOptions(show=("detector",)))


def test_an_alignment() -> None:
    shown = FigureOptions(show=("slaved",))
    assert draw(cold_start(), shown).title == "The slaved compass comes in from 90° to within 1° in 29.8 min"


def test_a_drift_that_grows() -> None:
    assert draw(drift(), FigureOptions(show=("gyro", "slaved"))).title == (
        "The unslaved gyro is 11° out after 55 min; the slaved compass is 0.2° out after 60 min"
    )


def test_a_window_changes_the_finding() -> None:
    assert title(FigureOptions(show=("detector",), to_s=15.0)) == "The detector is right throughout"


def test_an_instant() -> None:
    assert title(FigureOptions(kind="faces", at=(27.0,))) == (
        "At 27 s the compass card reads 21° low, the unslaved gyro 0.5° high, the slaved compass 0.4° low"
    )


def test_a_toppled_gyro_reads_nothing() -> None:
    picture = draw(drift(), FigureOptions(kind="faces", at=("end",)))
    assert picture.title.startswith("At 60 min the unslaved gyro is without a valid reading, ")
    assert "Unslaved gyro: no valid reading." in picture.alt


def test_the_course_chooses_the_words() -> None:
    words = Words(gyro="directional gyro", detector="flux valve")
    picture = draw(orbit(), FigureOptions(show=("detector", "gyro")), words=words)
    assert picture.title == "The flux valve is up to 38° out; the directional gyro 1.3°"
    assert "detector" not in picture.alt


def test_an_author_may_choose_the_title() -> None:
    assert title(FigureOptions(title="What to see")) == "What to see"


def test_alt_text_says_what_happens_and_how_much() -> None:
    assert draw(orbit(), FigureOptions(show=("detector",))).alt == (
        "Traces over time from 0 s to 180 s. The detector is up to 38° out. Error of the detector: 0.0° at first, "
        "least −38.0° at 138.1 s, most 38.2° at 80.0 s, 0.0° at the end. 20 s to 140 s: right turn, rate one."
    )


@pytest.mark.parametrize(
    ("error", "words"), [(-22.4, "22° low"), (0.3, "0.3° high"), (0.01, "right"), (float("nan"), "without meaning")]
)
def test_errors_in_words(error: float, words: str) -> None:
    assert side(error) == words


def test_times_in_words() -> None:
    assert [seconds(t) for t in (6.7, 30, 300, 1788, 3600, 18000)] == [
        "6.7 s",
        "30 s",
        "300 s",
        "29.8 min",
        "60 min",
        "5 h",
    ]


def test_a_run_without_any_valid_reading_says_so() -> None:
    time_s = np.arange(0.0, 10.0)
    nothing = {"gyro": np.zeros(10, dtype=bool)}
    run = make_run(time_s, time_s, {"gyro": time_s}, valid=nothing)
    assert draw(run, FigureOptions(show=("gyro",))).title == "No instrument shows a heading here"
