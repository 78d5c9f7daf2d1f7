"""`gyrochalk figure`: one picture of a demonstration as a file, with its caption."""

from __future__ import annotations

from pathlib import Path

from gyrochalk.demonstration.course import load_course
from gyrochalk.figures import THEMES, FigureOptions
from gyrochalk.figures.raster import to_png
from gyrochalk.lesson import Flights, find_workspace
from gyrochalk.lesson.drawing import draw_link
from gyrochalk.lesson.naming import words_of
from gyrochalk.lesson.workspace import COURSE_FILE
from gyrochalk.lesson.writing import write_whole


def figure(demonstration: str, options: str, *, svg: Path | None, png: Path | None, theme: str | None) -> None:
    """Draw `demonstration` with `options` as they stand in a `figure:` link; say what it shows if no file is named.

    `theme` names a theme (None: the one the options name, else light); `svg` and `png` are the files to write.
    """
    chosen = None
    if theme is not None:
        chosen = THEMES[FigureOptions.parse({"theme": theme}).theme]
    link = f"{demonstration}?{options}" if options else demonstration
    workspace = find_workspace(Path())
    words = words_of(load_course(workspace.root / COURSE_FILE))
    drawn = draw_link(link, Flights(workspace), chosen, words)
    if svg is not None:
        write_whole(svg, drawn.with_caption().encode("utf-8"))
    if png is not None:
        write_whole(png, to_png(drawn))
    for path in (svg, png):
        if path is not None:
            print(path)
    if svg is None and png is None:
        print(f"{drawn.alt}\n{drawn.caption}")
