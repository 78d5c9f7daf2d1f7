"""`gyrochalk run`: fly a demonstration, show its measures, save its channels."""

from __future__ import annotations

from pathlib import Path

from gyrochalk.cli.console import show_json, show_table
from gyrochalk.demonstration import Demonstration, Variant, demonstration_file, fly, load, parse_address, save_run
from gyrochalk.errors import Problem
from gyrochalk.lesson import find_workspace, problem_for_program
from gyrochalk.lesson.measuring import described
from gyrochalk.lesson.naming import speech_at
from gyrochalk.quantities import Measure, Value, evaluate_all, measures_for
from gyrochalk.systems.run import Run
from gyrochalk.units import format_quantity
from gyrochalk.units.words import Speech


def run(
    file: Path, variant: str | None, *, as_json: bool, csv: Path | None, npz: Path | None, parquet: Path | None
) -> None:
    """Fly a demonstration.

    `file` is its file, or its address in this workspace; `variant` the name of a variant. Each of `csv`, `npz` and
    `parquet` names a file to write every channel to.
    """
    demonstration, named = _find(file)
    chosen = demonstration.variant(variant or named)
    flown = fly(demonstration, chosen.name or None)
    for path, ending in ((csv, ".csv"), (npz, ".npz"), (parquet, ".parquet")):
        if path is not None:
            save_run(flown, path if path.suffix.lower() == ending else Path(f"{path}{ending}"), chosen.title)
    speech = speech_at(file)
    with speech.numbers():
        _tell(demonstration, chosen, flown, speech, as_json=as_json)


def _tell(demonstration: Demonstration, chosen: Variant, flown: Run, speech: Speech, *, as_json: bool) -> None:
    measures = {**measures_for(flown, speech), **demonstration.measures}
    values, problems = evaluate_all(flown, measures)
    if as_json:
        show_json(_for_program(demonstration, chosen, flown, measures, values, problems))
    else:
        _show(demonstration, chosen, flown, measures, values, speech)


def _find(file: Path) -> tuple[Demonstration, str | None]:
    if file.exists() or file.suffix in (".yaml", ".yml") or len(file.parts) > 1:
        return load(file), None
    identity, variant = parse_address(str(file))
    return load(demonstration_file(find_workspace(Path()).root, identity)), variant


def _show(
    demonstration: Demonstration,
    chosen: Variant,
    flown: Run,
    measures: dict[str, Measure],
    values: dict[str, Value],
    speech: Speech,
) -> None:
    address = f"{demonstration.id}.{chosen.name}" if chosen.name else demonstration.id
    own = demonstration.measures
    rows = [
        (
            name,
            value.text(2),
            "" if value.time_s is None else format_quantity(value.time_s, "s", 1),
            described(measures[name], speech),
        )
        for name, value in sorted(values.items(), key=lambda pair: (pair[0] not in own, pair[0]))
    ]
    show_table(f"{address}: {chosen.title}", ("measure", "value", "at", "what it is"), rows, right=("value", "at"))
    if chosen.look_for:
        print(f"Look for: {chosen.look_for}")
    origin = flown.provenance
    field = ", ".join(part for part in (origin.field_model, origin.field_date) if part)
    print(f"Field: {field}. Headings exact to {origin.tolerance_deg:g}°.")
    for warning in origin.warnings:
        print(f"Note: {warning}")


def _for_program(
    demonstration: Demonstration,
    chosen: Variant,
    flown: Run,
    measures: dict[str, Measure],
    values: dict[str, Value],
    problems: dict[str, tuple[Problem, ...]],
) -> dict[str, object]:
    from gyrochalk import __version__

    origin = flown.provenance
    return {
        "gyrochalk": __version__,
        "demonstration": demonstration.id,
        "variant": chosen.name or None,
        "title": chosen.title,
        "look_for": chosen.look_for,
        "duration_s": float(flown.time_s[-1]),
        "measures": {
            name: {
                "value": value.number,
                "unit": value.unit,
                "north": value.north,
                "time_s": value.time_s,
                "text": value.text(2),
                "description": measures[name].description,
            }
            for name, value in values.items()
        },
        "not_measured": {name: [problem_for_program(p) for p in found] for name, found in problems.items()},
        "channels": {
            column.name: {"unit": column.unit, "north": column.north, "description": column.description}
            for column in flown.columns.values()
        },
        "events": [{"time_s": e.time_s, "kind": e.kind, "text": e.text} for e in flown.events],
        "spans": [{"start_s": s.start_s, "end_s": s.end_s, "kind": s.kind, "text": s.text} for s in flown.spans],
        "field_model": origin.field_model,
        "field_date": origin.field_date,
        "tolerance_deg": origin.tolerance_deg,
        "warnings": list(origin.warnings),
    }
