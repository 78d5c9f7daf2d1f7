"""About how tall blocks and notes become on a wide page, to see whether notes outgrow the text they stand beside."""

from __future__ import annotations

import math

from gyrochalk.document.blocks import Ask, Block, Code, Equation, FigureBlock, Heading, ListBlock, Note, Quote, Table
from gyrochalk.document.inline import ClaimMark, plain_text
from gyrochalk.document.walking import runs_of

LINE_REM, CHARACTERS = 1.8, 72
"""Height of a line of text [rem] and how many characters fill one."""
NOTE_LINE_REM, NOTE_CHARACTERS = 1.15, 33
"""The same for a note."""


def note_height(mark: ClaimMark) -> float:
    """About how tall the note on a checked number is [rem]."""
    said = f"{mark.stated} Run: {mark.computed}. {mark.provenance}"
    if mark.beside is not None:
        said = mark.stated + mark.beside.rule + mark.beside.rule_says + mark.beside.physics_says + "Rule Physics" * 2
    return 0.45 + NOTE_LINE_REM * math.ceil(len(said) / NOTE_CHARACTERS)


def block_height(block: Block) -> float:
    """About how tall a block is [rem]."""
    match block:
        case Heading():
            return 3.5
        case FigureBlock(figure=figure):
            return 6.0 + figure.height_px / 16
        case Table(rows=rows):
            return 3.5 + 1.9 * len(rows)
        case Equation():
            return 3.5
        case Code(text=text):
            return 3.0 + 1.5 * (text.count("\n") + 1)
        case ListBlock(items=items):
            return sum(block_height(inner) - 0.7 for item in items for inner in item) + 1.3
        case Quote(blocks=inside) | Note(blocks=inside):
            return 3.0 + sum(block_height(inner) for inner in inside)
        case Ask(options=options):
            return 8.0 + 2.2 * len(options)
        case _:
            length = sum(len(plain_text(runs)) for runs in runs_of(block))
            return 1.3 + LINE_REM * math.ceil(length / CHARACTERS)
