"""The channels known before a flight are the channels a flight records."""

from __future__ import annotations

from gyrochalk.quantities import CHANNELS, EVENTS, SPANS, TIME, evaluate_all, measures_for
from gyrochalk.systems.places import Place, StatedField
from gyrochalk.systems.plans import FlightPlan, Hold, Turn
from gyrochalk.systems.setup import Setup
from gyrochalk.systems.simulate import simulate

FLIGHT = FlightPlan((Hold(10.0), Turn(by_deg=30.0), Hold(60.0)))
RUN = simulate(Setup(Place(52.5, 1.0), FLIGHT, StatedField(19.0, 67.0)))


def test_a_run_records_every_channel_and_no_other() -> None:
    recorded = {name: (column.unit, column.north) for name, column in RUN.columns.items()}
    assert recorded == {name: (known.unit, known.north) for name, known in CHANNELS.items() if name != TIME}


def test_a_run_knows_no_other_events_and_spans() -> None:
    assert {event.kind for event in RUN.events} <= set(EVENTS)
    assert {span.kind for span in RUN.spans} <= set(SPANS)


def test_every_ready_made_measure_has_a_value_or_a_reason() -> None:
    ready = measures_for(RUN)
    values, problems = evaluate_all(RUN, ready)
    assert values.keys() | problems.keys() == ready.keys() == measures_for(CHANNELS).keys()
    assert {problem.code for found in problems.values() for problem in found} <= {"event-missing", "bound-not-reached"}
    assert values["actual.turn_heading_change"].text(1) == "30.0°"
    assert values["actual.duration"].number == RUN.time_s[-1]
