"""Where the characters of a piece of running text stand in the file.

The Markdown parser hands over each paragraph, heading or table cell as a *content* string from which block quote
marks, list markers and indentation are gone. `content_offsets` finds each of its characters in the file again.
"""

from __future__ import annotations

from collections.abc import Sequence

from markdown_it.token import Token

from gyrochalk.lesson.source import Source

Offsets = Sequence[int]
"""For each character of a content string, and once more for its end, the offset in the lesson's text."""


def paragraph_offsets(source: Source, content: str, first_line: int) -> Offsets:
    """Offsets for text that fills its lines to the end (paragraph, underlined heading, body of a fenced block).

    `first_line` counts from 0. What the parser takes off a line it takes off in front, so a line of content is found
    by counting back from the end of the line it stands on.
    """
    offsets: list[int] = []
    for number, piece in enumerate(content.split("\n"), start=first_line):
        line = source.lines[number] if number < len(source.lines) else ""
        visible = len(line.rstrip()) - len(piece.rstrip())
        start = source.starts[min(number, len(source.starts) - 1)] + max(0, visible)
        offsets.extend(range(start, start + len(piece) + 1))
    return offsets


def heading_offsets(source: Source, content: str, line: int) -> Offsets:
    """Offsets for the text of a `# heading`."""
    text = source.lines[line]
    at = text.index("#")
    while at < len(text) and text[at] == "#":
        at += 1
    while at < len(text) and text[at] in " \t":
        at += 1
    start = source.starts[line] + at
    return range(start, start + len(content) + 1)


def row_offsets(source: Source, contents: Sequence[str], line: int) -> list[Offsets]:
    """Offsets for every cell of one table row."""
    text = source.lines[line].rstrip()
    cells = _split_row(text)
    if len(cells) > 1 and not cells[-1]:
        cells.pop()
    first = "".join(text[i] for i in cells[0]).strip()
    if not contents[0] or not first.endswith(contents[0]):
        cells.pop(0)
    return [_cell_offsets(source, text, line, cells, index, content) for index, content in enumerate(contents)]


def _split_row(text: str) -> list[list[int]]:
    """Indices of the characters that belong to each cell; the backslash of an escaped bar belongs to none."""
    cells: list[list[int]] = [[]]
    escaped = False
    for index, character in enumerate(text):
        if character == "|" and not escaped:
            cells.append([])
        else:
            if character == "|":
                cells[-1].pop()
            cells[-1].append(index)
        escaped = character == "\\"
    return cells


def _cell_offsets(source: Source, text: str, line: int, cells: list[list[int]], index: int, content: str) -> Offsets:
    start = source.starts[line]
    if index >= len(cells):
        return [start + len(text)] * (len(content) + 1)
    characters = "".join(text[i] for i in cells[index])
    skip = characters.find(content) if content else 0
    found = [start + i for i in cells[index][skip : skip + len(content)]]
    end = found[-1] + 1 if found else start + (cells[index][0] if cells[index] else len(text))
    return [*found, end]


def content_offsets(source: Source, tokens: Sequence[Token]) -> dict[int, Offsets]:
    """Offsets of every inline token of a parsed lesson, by its index in `tokens`."""
    found: dict[int, Offsets] = {}
    row: list[int] = []
    for index, token in enumerate(tokens):
        if token.type == "tr_open":
            row = []
        elif token.type == "tr_close" and row:
            line = (tokens[row[0]].map or [0, 0])[0]
            offsets = row_offsets(source, [tokens[i].content for i in row], line)
            found.update(zip(row, offsets, strict=True))
        elif token.type == "inline" and token.map is not None:
            opener = tokens[index - 1]
            if opener.type in ("th_open", "td_open"):
                row.append(index)
            elif opener.type == "heading_open" and opener.markup.startswith("#"):
                found[index] = heading_offsets(source, token.content, token.map[0])
            else:
                found[index] = paragraph_offsets(source, token.content, token.map[0])
    return found
