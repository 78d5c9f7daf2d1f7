"""Going through a page: every checked number, whether any code or equation stands in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from gyrochalk.document.blocks import (
    Ask,
    Block,
    Code,
    FigureBlock,
    Heading,
    ListBlock,
    Note,
    Paragraph,
    Quote,
    Table,
)
from gyrochalk.document.inline import ClaimMark, CodeText, Emphasis, Inline, Link, Runs, Strong, marks_in


def every_block(blocks: Iterable[Block]) -> Iterator[Block]:
    """Each block, then those inside it, in reading order."""
    for block in blocks:
        yield block
        match block:
            case ListBlock(items=items):
                for item in items:
                    yield from every_block(item)
            case Quote(blocks=inside) | Note(blocks=inside) | Ask(after=inside):
                yield from every_block(inside)
            case _:
                pass


def runs_of(block: Block) -> tuple[Runs, ...]:
    """The lines of text a block itself holds."""
    match block:
        case Heading(runs=runs) | Paragraph(runs=runs):
            return (runs,)
        case FigureBlock(caption=caption):
            return (caption,)
        case Table(header=header, rows=rows, caption=caption):
            return (caption, *header, *(cell for row in rows for cell in row))
        case Ask(question=question, options=options, answer=answer):
            return (question, *(option.runs for option in options), answer)
        case _:
            return ()


def every_mark(blocks: Iterable[Block]) -> tuple[ClaimMark, ...]:
    """Every checked number of a page, in reading order."""
    return tuple(mark for block in every_block(blocks) for runs in runs_of(block) for mark in marks_in(runs))


def has_slider(blocks: Iterable[Block]) -> bool:
    """Whether a figure of the page has a slider."""
    return any(isinstance(block, FigureBlock) and block.stops for block in every_block(blocks))


def has_code(blocks: Iterable[Block]) -> bool:
    """Whether anything on a page is set in the mono face."""
    return any(
        isinstance(block, Code) or any(_code_in(run) for runs in runs_of(block) for run in runs)
        for block in every_block(blocks)
    )


def _code_in(run: Inline) -> bool:
    if isinstance(run, CodeText):
        return True
    return isinstance(run, Emphasis | Strong | Link) and any(_code_in(inner) for inner in run.runs)
