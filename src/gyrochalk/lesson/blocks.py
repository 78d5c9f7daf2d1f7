"""From the tokens of a lesson to the blocks of a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markdown_it.token import Token

from gyrochalk.document import (
    Align,
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
    Paragraph,
    Quote,
    Runs,
    Table,
    Text,
)
from gyrochalk.lesson.directives.ask import Question
from gyrochalk.lesson.examination import Examination
from gyrochalk.lesson.lines import plain_runs, runs_of
from gyrochalk.lesson.mentions import Fence, Mention, Picture

DEEPEST = 4
_ALIGN: dict[str, Align] = {"text-align:right": "right", "text-align:center": "centre"}


def blocks_of(found: Examination) -> tuple[Block, ...]:
    """The blocks of an examined lesson; a first heading that only repeats the title is left out."""
    blocks = tuple(_Blocks(found.lesson.tokens, found).until(None))
    if blocks and isinstance(blocks[0], Heading) and _plain(blocks[0].runs) == found.lesson.title:
        return blocks[1:]
    return blocks


def _plain(runs: Runs) -> str:
    return "".join(run.text for run in runs if isinstance(run, Text))


class _Blocks:
    """Walks the tokens once, from first to last."""

    def __init__(self, tokens: Sequence[Token], found: Examination) -> None:
        self._tokens, self._found, self._at = tokens, found, 0

    def until(self, closing: str | None) -> Iterator[Block]:
        """The blocks up to a closing token, which is passed over."""
        while self._at < len(self._tokens):
            token = self._next()
            if token.type == closing:
                return
            yield from self._blocks(token)

    def _next(self) -> Token:
        self._at += 1
        return self._tokens[self._at - 1]

    def _blocks(self, token: Token) -> Iterator[Block]:
        match token.type:
            case "heading_open":
                yield Heading(min(DEEPEST, int(token.tag[1:]) + 1), self._line("heading_close"))
            case "paragraph_open":
                yield from self._paragraph()
            case "bullet_list_open":
                yield ListBlock(tuple(self._items("bullet_list_close")))
            case "ordered_list_open":
                start = int(token.attrs.get("start", 1))
                yield ListBlock(tuple(self._items("ordered_list_close")), ordered=True, start=start)
            case "blockquote_open":
                yield Quote(tuple(self.until("blockquote_close")))
            case "table_open":
                yield self._table()
            case "fence":
                yield from self._fence(token)
            case "code_block":
                yield Code(token.content.rstrip("\n"))
            case "math_block":
                yield Equation(token.content.strip(), token.content.strip())
            case "hr":
                yield Break()

    def _line(self, closing: str) -> Runs:
        inline = self._next()
        assert self._next().type == closing
        return runs_of(inline.children or [], self._found)

    def _paragraph(self) -> Iterator[Block]:
        """A paragraph; a picture in it stands between what is before and after it."""
        children = self._next().children or []
        self._next()
        words: list[Token] = []
        for child in children:
            picture = self._picture(child) if child.type == "image" else None
            if picture is None:
                words.append(child)
                continue
            yield from self._words(words)
            words = []
            yield picture
        yield from self._words(words)

    def _words(self, children: list[Token]) -> Iterator[Block]:
        while children and children[0].type == "softbreak":
            children = children[1:]
        while children and children[-1].type == "softbreak":
            children = children[:-1]
        runs = runs_of(children, self._found)
        if any(not isinstance(run, Text) or run.text.strip() for run in runs):
            yield Paragraph(runs)

    def _picture(self, token: Token) -> Block | None:
        mention = token.meta.get("mention")
        if isinstance(mention, Mention) and mention in self._found.pictures:
            drawn = self._found.pictures[mention]
            flight = self._found.course.speech.say("note.flight", title=drawn.title)
            caption = runs_of(token.children or [], self._found)
            return FigureBlock(drawn.figure, caption, flight, drawn.stops, drawn.slider)
        if isinstance(mention, Picture) and mention in self._found.images:
            return Image(self._found.images[mention], mention.text)
        return None

    def _items(self, closing: str) -> Iterator[tuple[Block, ...]]:
        while (token := self._next()).type != closing:
            assert token.type == "list_item_open"
            yield tuple(self.until("list_item_close"))

    def _table(self) -> Table:
        rows: list[tuple[Runs, ...]] = []
        align: list[Align] = []
        row: list[Runs] = []
        while (token := self._next()).type != "table_close":
            if token.type == "tr_open":
                row = []
            elif token.type == "tr_close":
                rows.append(tuple(row))
            elif token.type in ("th_open", "td_open"):
                if not rows:
                    align.append(_ALIGN.get(str(token.attrs.get("style", "")), "left"))
                row.append(self._line(token.type.replace("open", "close")))
        return Table(rows[0], tuple(rows[1:]), tuple(align))

    def _fence(self, token: Token) -> Iterator[Block]:
        fence = token.meta.get("fence")
        if not isinstance(fence, Fence):
            yield Code(token.content.rstrip("\n"), token.info.strip())
        elif fence in self._found.equations:
            equation = self._found.equations[fence]
            yield Equation(equation.tex, equation.alt)
        elif fence in self._found.questions:
            yield self._ask(self._found.questions[fence])

    def _ask(self, question: Question) -> Ask:
        options = tuple(
            AskOption(plain_runs(option.text, self._found), right=index == question.right)
            for index, option in enumerate(question.options)
        )
        answer = (Text(question.answer),)
        return Ask(plain_runs(question.text, self._found), options, answer, question.source)
