"""How soon a picture is drawn, and a page with eight of them built, once its runs are kept."""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from gyrochalk.figures import FigureOptions, draw
from gyrochalk.lesson import Flights, Workspace, build_lesson
from tools.environment import ROOT
from tools.evidence import Row, below, equal, rows

SOURCE = "timed here, median"
EIGHT = (
    "orbit",
    "orbit?kind=faces&at=worst",
    "orbit?kind=ribbon&at=worst",
    "orbit?kind=path&at=worst",
    "orbit?kind=earth",
    "orbit?kind=against-heading",
    "orbit?kind=compare&show=slaved&against=orbit.textbook",
    "cold-start?show=slaved",
)
"""The figures of the timed page: every kind but strip, and a long run."""


@rows("how soon pictures are drawn")
def drawing() -> Iterator[Row]:
    """A face and a ribbon of the demo circle, each drawn two hundred times."""
    run = Flights(Workspace(ROOT / "course")).run("orbit")
    one_face = FigureOptions.parse({"kind": "faces", "show": "slaved", "at": "worst"})
    for name, options in (
        ("one face", one_face),
        ("the ribbon", FigureOptions.parse({"kind": "ribbon", "at": "worst"})),
    ):
        median_s = median(lambda options=options: draw(run, options), 200)  # type: ignore[misc]
        yield Row(f"{name} is drawn in", 1000.0 * median_s, below(1.0), "ms", SOURCE)


@rows("how soon a page with eight figures is built")
def page() -> Iterator[Row]:
    """A lesson of eight figures, its runs kept on disk: read, checked, drawn and written, by fresh `Flights`."""
    with tempfile.TemporaryDirectory() as folder:
        workspace = Workspace(Path(folder))
        for name in ("lessons", "demonstrations"):
            (workspace.root / name).mkdir()
        for path in (ROOT / "course" / "demonstrations").glob("*.yaml"):
            (workspace.root / "demonstrations" / path.name).write_bytes(path.read_bytes())
        (workspace.root / "course.yaml").write_text("gyrochalk: 1\ntitle: Eight figures\n", encoding="utf-8")
        lesson = workspace.lessons / "eight.md"
        figures = "\n\n".join(f"![A picture](<figure:{link}>)" for link in EIGHT)
        lesson.write_text(f"---\ngyrochalk: 1\ntitle: Eight figures\n---\n{figures}\n", encoding="utf-8")
        built = build_lesson(lesson, workspace)
        yield Row("problems of the page with eight figures", len(built.report.all_problems), equal(0), "", "built here")
        found = median(lambda: build_lesson(lesson, workspace, Flights(workspace)), 7)
        yield Row("a page with eight figures, runs kept, is built in", found, below(0.5), "s", SOURCE)


def median(what: Callable[[], object], times: int) -> float:
    """The median time of a call [s], after one that does not count."""
    what()
    taken = []
    for _ in range(times):
        began = time.perf_counter()
        what()
        taken.append(time.perf_counter() - began)
    return statistics.median(taken)
