"""The gallery: every example picture in every theme, a page for each theme, made like any page of a lesson."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from gyrochalk import __version__
from gyrochalk.document import Block, CodeText, FigureBlock, Heading, Link, Origin, Page, Paragraph, Text, render_html
from gyrochalk.figures import DARK, GREY, LIGHT, PROJECTOR, Theme
from gyrochalk.figures.examples import EXAMPLES, Example
from gyrochalk.lesson.drawing import draw_link
from gyrochalk.lesson.flights import Flights
from gyrochalk.lesson.writing import write_whole

GALLERY_THEMES: tuple[Theme, ...] = (LIGHT, DARK, GREY, PROJECTOR)
"""The themes of the gallery, a page for each."""


def build_gallery(
    flights: Flights, folder: Path, examples: Iterable[Example] = EXAMPLES, themes: Iterable[Theme] = GALLERY_THEMES
) -> tuple[Path, ...]:
    """Write the gallery's pages into `folder` and return where they are.

    `flights` are the runs of the workspace that holds the demonstrations shown. Raises `MaterialError`.
    """
    chosen = tuple(examples)
    paths = []
    for theme in themes:
        page = render_html(gallery_page(flights, theme, chosen), theme=theme.name)
        path = folder / _file(theme)
        write_whole(path, page.encode("utf-8"))
        paths.append(path)
    return tuple(paths)


def gallery_page(flights: Flights, theme: Theme, examples: Iterable[Example] = EXAMPLES) -> Page:
    """The gallery in one theme."""
    blocks: list[Block] = [Paragraph((Text("The same pictures as: "), *_others()))]
    for example in examples:
        blocks += _shown(example, flights, theme)
    return Page(f"Every picture, {theme.name}", tuple(blocks), Origin(version=__version__), over_title="Gallery")


def _shown(example: Example, flights: Flights, theme: Theme) -> tuple[Block, ...]:
    written = f"![{example.good_for}](<figure:{example.link}>)"
    return (
        Heading(2, (Text(_title(example)),)),
        Paragraph((Text(f"{example.good_for} Written in a lesson as "), CodeText(written))),
        FigureBlock(draw_link(example.link, flights, theme)),
    )


def _title(example: Example) -> str:
    return example.name.replace("-", " ").capitalize()


def _others() -> list[Link | Text]:
    out: list[Link | Text] = []
    for theme in GALLERY_THEMES:
        out += (
            [Text(", "), Link(_file(theme), (Text(theme.name),))] if out else [Link(_file(theme), (Text(theme.name),))]
        )
    return [*out, Text(".")]


def _file(theme: Theme) -> str:
    return f"gallery-{theme.name}.html"
