"""What a page is made of, before anyone decides whether it becomes a web page, a print, slides or a film."""

from __future__ import annotations

import dataclasses
from typing import Literal

from gyrochalk.document.inline import Runs
from gyrochalk.figures import Figure

Align = Literal["left", "right", "centre"]


@dataclasses.dataclass(frozen=True, slots=True)
class Heading:
    """A heading of `level` 2 (a section) to 4."""

    level: int
    runs: Runs


@dataclasses.dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph."""

    runs: Runs


@dataclasses.dataclass(frozen=True, slots=True)
class Stop:
    """One place of a slider: the value there as text, and the picture of the run with that value."""

    label: str
    figure: Figure


@dataclasses.dataclass(frozen=True, slots=True)
class FigureBlock:
    """A picture drawn from a run; `caption` is the author's, the picture's own follows it; `source` says which run.

    `stops` are the places of a slider called `slider`, the first with `figure` itself; none: no slider.
    """

    figure: Figure
    caption: Runs = ()
    source: str = ""
    stops: tuple[Stop, ...] = ()
    slider: str = ""


@dataclasses.dataclass(frozen=True, slots=True)
class Image:
    """The instructor's own picture as a `data:` address, with its `alt` text, which is its caption too."""

    data_address: str
    alt: str


@dataclasses.dataclass(frozen=True, slots=True)
class Table:
    """A table: `header` cells, `rows` of cells, one `align` a column (missing: left), a `caption` or none."""

    header: tuple[Runs, ...]
    rows: tuple[tuple[Runs, ...], ...]
    align: tuple[Align, ...] = ()
    caption: Runs = ()


@dataclasses.dataclass(frozen=True, slots=True)
class Equation:
    """A displayed equation: `tex`, and `alt`, the same in words."""

    tex: str
    alt: str


@dataclasses.dataclass(frozen=True, slots=True)
class ListBlock:
    """A list; each item is a few blocks. `start` numbers the first item of an ordered list."""

    items: tuple[tuple[Block, ...], ...]
    ordered: bool = False
    start: int = 1


@dataclasses.dataclass(frozen=True, slots=True)
class Code:
    """Lines to be shown as typed."""

    text: str
    language: str = ""


@dataclasses.dataclass(frozen=True, slots=True)
class Quote:
    """Blocks quoted from elsewhere."""

    blocks: tuple[Block, ...]


@dataclasses.dataclass(frozen=True, slots=True)
class Note:
    """Blocks set apart under a `title`; `kind` is note, caution or problem."""

    blocks: tuple[Block, ...]
    title: str = "Note"
    kind: Literal["note", "caution", "problem"] = "note"


@dataclasses.dataclass(frozen=True, slots=True)
class Break:
    """A line across the column."""


@dataclasses.dataclass(frozen=True, slots=True)
class AskOption:
    """One answer to choose from; `note` says, after the run, what lies behind it."""

    runs: Runs
    right: bool
    note: str = ""


@dataclasses.dataclass(frozen=True, slots=True)
class Ask:
    """A question to be answered before the run is seen.

    `answer` is what the run says, `source` where that comes from, `after` further blocks shown with it.
    """

    question: Runs
    options: tuple[AskOption, ...]
    answer: Runs
    source: str = ""
    after: tuple[Block, ...] = ()


Block = Heading | Paragraph | FigureBlock | Image | Table | Equation | ListBlock | Code | Quote | Note | Break | Ask


@dataclasses.dataclass(frozen=True, slots=True)
class Origin:
    """Where a page's numbers come from: field model and its date, version, the demonstrations flown, warnings."""

    field_models: tuple[str, ...] = ()
    version: str = ""
    demonstrations: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()


@dataclasses.dataclass(frozen=True, slots=True)
class Page:
    """A whole page: `title`, `blocks`, what stands over and under the title, language, and where it comes from."""

    title: str
    blocks: tuple[Block, ...]
    origin: Origin = Origin()
    over_title: str = ""
    under_title: str = ""
    language: str = "en"
