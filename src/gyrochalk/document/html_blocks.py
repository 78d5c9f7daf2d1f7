"""The blocks of a page, as HTML."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape

from gyrochalk.document.blocks import (
    Ask,
    AskOption,
    Block,
    Break,
    Code,
    Equation,
    FigureBlock,
    Heading,
    Image,
    ListBlock,
    Note,
    Paragraph,
    Quote,
    Table,
)
from gyrochalk.document.heights import block_height, note_height
from gyrochalk.document.html_inline import Numbers, inline_html, note_html
from gyrochalk.document.html_slider import slider_html
from gyrochalk.document.inline import Runs, plain_text
from gyrochalk.document.mathml import equation
from gyrochalk.figures import DataTable

FLOWING = (Paragraph, ListBlock, Table, Equation, Quote)
"""Blocks that may share a row with those before them."""


class BlockWriter:
    """Writes blocks one after another; `anchor` gives each heading its place in the page."""

    def __init__(self, numbers: Numbers, anchor: Callable[[Heading], str]) -> None:
        self.numbers = numbers
        self.anchor = anchor

    def say(self, key: str, **values: object) -> str:
        """One of the page's own words, as HTML."""
        return escape(self.numbers.speech.say(key, **values))

    def write(self, blocks: Iterable[Block]) -> str:
        """Blocks of the page itself, with their notes in the margin.

        A block whose notes are likely to reach further down than itself shares its row with the paragraphs, lists and
        tables after it, so that no hole is torn into the text.
        """
        rows: list[str] = []
        group: list[str] = []
        spare = 0.0
        for block in blocks:
            if group and not (spare < 0 and isinstance(block, FLOWING)):
                rows.append(self._row(group))
                group, spare = [], 0.0
            group.append(self.block(block))
            spare += block_height(block) - sum(note_height(self.numbers.marks[n - 1]) for n in self.numbers.new_marks())
        return "\n".join([*rows, self._row(group)] if group else rows)

    def plain(self, blocks: Iterable[Block]) -> str:
        """Blocks inside another block, whose notes stand beside that one."""
        return "".join(self.block(block) for block in blocks)

    def block(self, block: Block) -> str:
        """One block."""
        match block:
            case Heading(level=level, runs=runs):
                return f'<h{level} id="{self.anchor(block)}">{inline_html(runs, self.numbers)}</h{level}>'
            case Paragraph(runs=runs):
                return f"<p>{inline_html(runs, self.numbers)}</p>"
            case FigureBlock():
                return self.figure(block)
            case Image(data_address=address, alt=alt):
                return self.image(address, alt)
            case Table():
                return self.table(block)
            case Equation(tex=tex, alt=alt):
                return f'<div class="equation">{equation(tex, alt, block=True)}</div>'
            case ListBlock():
                return self.list(block)
            case Code(text=text):
                return f'<pre tabindex="0"><code>{escape(text, quote=False)}</code></pre>'
            case Quote(blocks=inside):
                return f"<blockquote>{self.plain(inside)}</blockquote>"
            case Note(blocks=inside, title=title, kind=kind):
                head = f'<p class="note-title">{escape(title, quote=False)}</p>'
                return f'<div class="note {kind}" role="note">{head}{self.plain(inside)}</div>'
            case Ask():
                return self.ask(block)
            case Break():
                return "<hr>"

    def _row(self, group: list[str]) -> str:
        """Blocks and, beside them, the notes on the numbers they hold."""
        html = f'<div class="column">{"".join(group)}</div>' if len(group) > 1 else group[0]
        waiting = self.numbers.take_waiting()
        if not waiting:
            return f'<div class="row">{html}</div>'
        notes = "".join(note_html(self.numbers.marks[n - 1], n, self.numbers.speech) for n in waiting)
        label = self.say("page.origin_many" if len(waiting) > 1 else "page.origin_one")
        return f'<div class="row">{html}<div class="margin" role="note" aria-label="{label}">{notes}</div></div>'

    def figure(self, block: FigureBlock) -> str:
        """A picture with its numbered caption and, folded away, its numbers."""
        self.numbers.figures += 1
        number, figure = self.numbers.figures, block.figure
        caption = self._caption(self.say("page.figure_caption", number=number), block.caption, figure.caption)
        name = self.say("page.figure", number=number)
        source = f' <span class="quiet">{escape(block.source, quote=False)}</span>' if block.source else ""
        picture = f'<div class="scroll" tabindex="0" role="group" aria-label="{name}">{figure.svg}</div>'
        data = self._data(figure.table, number)
        if block.stops:
            picture, data = slider_html(block, number, name, self._data), ""
        return (
            f'<figure id="figure-{number}" class="drawn">{picture}'
            f"<figcaption>{caption}{source}{data}</figcaption></figure>"
        )

    def _caption(self, name: str, runs: Runs, own: str = "") -> str:
        words = inline_html(runs, self.numbers)
        stop = "" if not words or plain_text(runs).rstrip()[-1:] in ".?!:…" else "."
        said = f"{words}{stop} " if words else ""
        return f"<b>{name}</b> {said}{escape(own, quote=False)}"

    def _data(self, table: DataTable, number: int) -> str:
        head = "".join(
            f'<th scope="col">{escape(cell, quote=False)}</th>' if cell else "<td></td>" for cell in table.header
        )
        rows = "".join(
            f'<tr><th scope="row">{escape(row[0], quote=False)}</th>'
            + "".join(f"<td>{escape(cell, quote=False)}</td>" for cell in row[1:])
            + "</tr>"
            for row in table.rows
        )
        inner = f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
        label, summary = self.say("page.numbers_of", number=number), self.say("page.the_numbers_of", number=number)
        region = f'<div class="scroll" tabindex="0" role="group" aria-label="{label}">{inner}</div>'
        return f'<details class="data"><summary>{summary}</summary>{region}</details>'

    def image(self, address: str, alt: str) -> str:
        """The instructor's own picture."""
        if not address.startswith("data:image/"):
            return f"<p>{escape(alt, quote=False)}</p>"
        self.numbers.figures += 1
        number = self.numbers.figures
        words = escape(alt)
        return (
            f'<figure id="figure-{number}"><img src="{escape(address)}" alt="{words}">'
            f"<figcaption><b>{self.say('page.figure_caption', number=number)}</b> {words}</figcaption></figure>"
        )

    def table(self, block: Table) -> str:
        """A table with its numbered caption."""
        self.numbers.tables += 1
        named = self.say("page.table_caption", number=self.numbers.tables)
        caption = f"<caption>{self._caption(named, block.caption)}</caption>"
        head = self._cells(block.header, block, "th")
        rows = "".join(f"<tr>{self._cells(row, block, 'td')}</tr>" for row in block.rows)
        label = self.say("page.table", number=self.numbers.tables)
        body = f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody>"
        return (
            f'<div class="scroll" tabindex="0" role="group" aria-label="{label}"><table>{caption}{body}</table></div>'
        )

    def _cells(self, cells: tuple[Runs, ...], block: Table, tag: str) -> str:
        out = []
        for i, cell in enumerate(cells):
            align = block.align[i] if i < len(block.align) else "left"
            css = "" if align == "left" else f' class="{align}"'
            inner = inline_html(cell, self.numbers)
            used = tag if inner or tag == "td" else "td"
            scope = ' scope="col"' if used == "th" else ""
            out.append(f"<{used}{css}{scope}>{inner}</{used}>")
        return "".join(out)

    def list(self, block: ListBlock) -> str:
        """A list; an item of a single paragraph is set without space round it."""
        tag = "ol" if block.ordered else "ul"
        start = f' start="{block.start}"' if block.ordered and block.start != 1 else ""
        items = "".join(f"<li>{self._item(item)}</li>" for item in block.items)
        return f"<{tag}{start}>{items}</{tag}>"

    def _item(self, item: tuple[Block, ...]) -> str:
        if item and isinstance(item[0], Paragraph):
            return inline_html(item[0].runs, self.numbers) + self.plain(item[1:])
        return self.plain(item)

    def ask(self, block: Ask) -> str:
        """A question: choose first, then open the answer. No script: the browser's own controls do it."""
        self.numbers.asks += 1
        name = f"ask-{self.numbers.asks}"
        choices = "".join(
            f'<label><input type="radio" name="{name}" value="{i}"> '
            f"<span>{inline_html(option.runs, self.numbers)}</span></label>"
            for i, option in enumerate(block.options, start=1)
        )
        right, wrong = self.say("page.right"), self.say("page.not_so")
        outcomes = "".join(
            f'<li class="{"is-right" if option.right else "not-so"}"><b>{right if option.right else wrong}:</b> '
            f"{inline_html(option.runs, self.numbers)}{_note(option)}</li>"
            for option in block.options
        )
        source = f' <span class="quiet">{escape(block.source, quote=False)}</span>' if block.source else ""
        answer = f"<p><b>{self.say('page.run_says')}</b> {inline_html(block.answer, self.numbers)}.{source}</p>"
        return (
            f'<section class="ask" aria-label="{self.say("page.question", number=self.numbers.asks)}">'
            f'<p class="note-title">{self.say("page.predict")}</p>'
            f"<fieldset><legend>{inline_html(block.question, self.numbers)}</legend>{choices}</fieldset>"
            f'<p class="first">{self.say("page.choose")}</p><details class="reveal">'
            f'<summary>{self.say("page.what_run_says")}</summary>{answer}<ul class="outcomes">{outcomes}</ul>'
            f"{self.plain(block.after)}</details></section>"
        )


def _note(option: AskOption) -> str:
    stop = "" if plain_text(option.runs).rstrip()[-1:] in (".", "?", "!", ":") else "."
    return f"{stop} {escape(option.note, quote=False)}" if option.note else stop
