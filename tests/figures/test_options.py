"""Options are read, or refused with the nearest known one."""

from __future__ import annotations

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.figures import FigureOptions, draw
from gyrochalk.figures.options import OPTIONS, kinds
from gyrochalk.figures.words import INSTRUMENTS
from tests.figures.sample_runs import orbit


def refused(query: dict[str, str]) -> list[str]:
    """The messages a query is refused with."""
    with pytest.raises(MaterialError) as caught:
        FigureOptions.parse(query)
    return [str(problem) for problem in caught.value.problems]


def refused_drawing(query: dict[str, str]) -> list[str]:
    """The messages with which a picture of the circle is refused."""
    with pytest.raises(MaterialError) as caught:
        draw(orbit(), FigureOptions.parse(query))
    return [str(problem) for problem in caught.value.problems]


def test_no_options_are_sensible() -> None:
    assert FigureOptions.parse({}) == FigureOptions()


def test_every_option_is_read() -> None:
    query = {
        "show": "card, detector",
        "kind": "ribbon",
        "as": "headings",
        "channels": "slaved.correction",
        "from": "30 s",
        "to": "2 min",
        "at": "start, 45 s, turn ends + 10 s",
        "instants": "6",
        "size": "small",
        "scale": "5",
        "labels": "off",
        "title": "Mine",
        "theme": "dark",
    }
    assert FigureOptions.parse(query) == FigureOptions(
        kind="ribbon",
        form="headings",
        show=("card", "detector"),
        channels=("slaved.correction",),
        from_s=30.0,
        to_s=120.0,
        at=("start", 45.0, "turn ends + 10 s"),
        instants=6,
        size="small",
        scale="5",
        labels=False,
        title="Mine",
        theme="dark",
    )


def test_a_kind_may_stand_in_show() -> None:
    assert FigureOptions.parse({"show": "faces,gyro"}) == FigureOptions(kind="faces", show=("gyro",))


def test_unknown_option_names_the_nearest() -> None:
    assert refused({"sise": "small"}) == [
        f"sise is not an option of a picture; allowed are {', '.join(OPTIONS)}; did you mean size?  [figure-option]"
    ]


def test_unknown_instrument_names_the_nearest() -> None:
    assert refused({"show": "card,detecter"}) == [
        f"show=detecter is unknown; allowed are {', '.join((*INSTRUMENTS, *kinds()))}; "
        "did you mean detector?  [figure-value]"
    ]


def test_all_problems_come_at_once() -> None:
    assert refused({"size": "huge", "labels": "maybe", "from": "30"}) == [
        "size=huge is unknown; allowed are small, medium, large; write for example small  [figure-value]",
        "labels=maybe is unknown; allowed are on, off; write for example on  [figure-value]",
        str(refused({"from": "30"})[0]),
    ]
    assert refused({"from": "30"})[0].endswith("[unit-missing]")


def test_times_in_the_wrong_order() -> None:
    assert refused({"from": "2 min", "to": "30 s"}) == [
        "from=2 min is not before to=30 s; a picture begins before it ends; exchange the two  [figure-value]"
    ]


def test_a_time_before_the_run() -> None:
    assert refused({"at": "-5 s"}) == [
        "at=-5 s lies before the run begins; times count from the start of the run, 0 s; write 0 s  [figure-value]"
    ]


def test_too_many_instants() -> None:
    assert refused({"instants": "40"}) == [
        "instants=40 is not possible; a strip has 2 to 12 instants; write instants=6  [figure-value]"
    ]


def test_unknown_event() -> None:
    assert refused({"at": "turn end"})[0].endswith("[choice-unknown]")


def test_a_channel_the_run_does_not_have() -> None:
    assert refused_drawing({"channels": "slaved.corection"}) == [
        "this run has no channel slaved.corection; it has 14 channels; "
        "did you mean slaved.correction?  [figure-channel]"
    ]


def test_a_time_after_the_run() -> None:
    assert refused_drawing({"to": "10 min"}) == [
        "the picture asks for 600.0 s; the run ends at 180.0 s; choose an earlier time or fly longer  [figure-time]"
    ]
    assert refused_drawing({"from": "3 min"}) == [
        "the picture begins at 180.0 s, where the run ends; the run ends at 180.0 s; begin earlier  [figure-time]"
    ]


def test_an_event_that_does_not_happen() -> None:
    assert refused_drawing({"kind": "faces", "at": "toppled"})[0].endswith("[event-missing]")
