"""How the command line shows things: tables for people, JSON for programs, problems on stderr."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence

from gyrochalk.errors import Problem


def show_problems(problems: Iterable[Problem]) -> None:
    """Each problem on a line of stderr."""
    for problem in problems:
        print(problem, file=sys.stderr)


def show_json(answer: object) -> None:
    """One JSON value on stdout, signs written out."""
    print(json.dumps(answer, ensure_ascii=False, indent=2, allow_nan=False))


def show_table(title: str, header: Sequence[str], rows: Iterable[Sequence[str]], right: Sequence[str] = ()) -> None:
    """A table on stdout.

    `right` names the columns set flush right. On a terminal the table fits its width; into a file or a pipe it is as
    wide as it needs to be, so that nothing is cut.
    """
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(title=Text(title), title_justify="left", box=box.SIMPLE, pad_edge=False, highlight=False)
    for name in header:
        table.add_column(Text(name), justify="right" if name in right else "left", overflow="fold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    console = Console(highlight=False, emoji=False, markup=False, width=None if on_terminal() else WIDEST)
    if not console.is_terminal:
        console.width = console.measure(table).maximum
    console.print(table)


WIDEST = 2000
"""No table is wider than so many columns."""


def on_terminal() -> bool:
    """Whether stdout is a terminal."""
    return sys.stdout.isatty()


def roomy(columns: int = 120) -> bool:
    """Whether there is room for a wide table: on a terminal of at least so many columns, and wherever else it goes."""
    import shutil

    return not on_terminal() or shutil.get_terminal_size().columns >= columns


def counted(number: int, one: str, many: str | None = None) -> str:
    """A number with its noun: "1 claim", "3 claims"."""
    return f"{number} {one if number == 1 else many or one + 's'}"
