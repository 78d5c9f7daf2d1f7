"""Reads YAML as it was written: every value as text, with its line and column, and nothing guessed.

See docs/decisions/0021. The tree is built from the parser's events without recursion; aliases, anchors, tags, further
documents and deep nesting are refused, duplicate keys reported.
"""

from __future__ import annotations

import dataclasses
import stat
from pathlib import Path

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)
from ruamel.yaml.reader import ReaderError

from gyrochalk.errors import MaterialError, Problem, ProblemList

MAX_BYTES = 1_000_000
MAX_DEPTH = 20
MAX_VALUES = 20_000


@dataclasses.dataclass(frozen=True, slots=True)
class Place:
    """Line and column in a file, both from 1."""

    line: int
    column: int


@dataclasses.dataclass(frozen=True, slots=True)
class Scalar:
    """One value exactly as written; `quoted` if it stood in quotation marks or in a text block."""

    text: str
    place: Place
    quoted: bool = False


@dataclasses.dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    items: tuple[Node, ...]
    place: Place


@dataclasses.dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and their values, in the order written."""

    entries: tuple[tuple[Scalar, Node], ...]
    place: Place

    def get(self, key: str) -> Node | None:
        """The value of a key, or None."""
        return next((value for name, value in self.entries if name.text == key), None)

    def key_place(self, key: str) -> Place | None:
        """Where a key stands, or None."""
        return next((name.place for name, _ in self.entries if name.text == key), None)


Node = Scalar | Sequence | Mapping


def read_text(path: Path, most_bytes: int = MAX_BYTES) -> str:
    """Read a text file of at most `most_bytes`; `MaterialError` if it is missing, too large, binary or not UTF-8."""
    file = path.as_posix()
    try:
        about = path.stat()
        if not (stat.S_ISREG(about.st_mode) or stat.S_ISDIR(about.st_mode)):
            raise MaterialError(_not_a_file().at(file))
        size = about.st_size
        if size > most_bytes:
            raise MaterialError(_too_large(size, most_bytes).at(file))
        raw = path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        raise MaterialError(_missing().at(file)) from None
    except OSError as error:
        raise MaterialError(_unreadable(path, error).at(file)) from None
    return decode(raw, file)


def decode(raw: bytes, file: str) -> str:
    """Bytes of a text file as text; `MaterialError` if they are not UTF-8 or hold control characters."""
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise MaterialError(_not_text(f"byte 0x{raw[error.start]:02X} is not UTF-8 text").at(file, line)) from None
    for position, character in enumerate(text):
        if ord(character) < 32 and character not in "\t\n\r":
            before = text[:position]
            place = (before.count("\n") + 1, position - (before.rfind("\n") + 1) + 1)
            what = f"the control character 0x{ord(character):02X} stands in it"
            raise MaterialError(_not_text(what).at(file, *place))
    return text


def read_tree(text: str, file: str) -> Mapping:
    """The keys and values of a YAML text; `MaterialError` with every problem of its layout."""
    builder = _Builder()
    try:
        for event in YAML(typ="rt", pure=True).parse(text):
            builder.take(event)
    except MarkedYAMLError as error:
        builder.problems.add(_syntax(error))
    except (ReaderError, YAMLError, ValueError) as error:
        builder.problems.add(_yaml(f"the text cannot be read: {_first_line(error)}", "plain YAML"))
    except _StoppedError:
        pass
    root = builder.root
    if not builder.problems.problems and not isinstance(root, Mapping):
        place = root.place if root is not None else Place(1, 1)
        builder.problems.add(
            _yaml("the file holds no keys", 'lines of "key: value"', 'begin with "gyrochalk: 1"', place)
        )
    located = ProblemList()
    for problem in builder.problems.problems:
        located.add(problem.at(file, problem.line, problem.column))
    located.refuse_if_any()
    assert isinstance(root, Mapping)
    return root


class _StoppedError(Exception):
    """The file is refused without reading further."""


@dataclasses.dataclass
class _Open:
    """A list or mapping that is still being read."""

    place: Place
    mapping: bool
    items: list[Node] = dataclasses.field(default_factory=list)
    entries: list[tuple[Scalar, Node]] = dataclasses.field(default_factory=list)
    keys: dict[str, Scalar] = dataclasses.field(default_factory=dict)
    key: Scalar | None = None
    key_expected: bool = True


class _Builder:
    """Builds the tree event by event."""

    def __init__(self) -> None:
        self.problems = ProblemList()
        self.root: Node | None = None
        self._stack: list[_Open] = []
        self._count = 0
        self._documents = 0

    def take(self, event: Event) -> None:
        """Add one event of the parser."""
        place = Place(event.start_mark.line + 1, event.start_mark.column + 1)
        if isinstance(event, DocumentStartEvent):
            self._begin_document(place)
        elif isinstance(event, AliasEvent):
            self._stop(_alias(f'the alias "*{event.anchor}"', place))
        elif isinstance(event, ScalarEvent | MappingStartEvent | SequenceStartEvent):
            self._check(event, place)
            if isinstance(event, ScalarEvent):
                self._put(Scalar(event.value, place, event.style is not None))
            else:
                self._stack.append(_Open(place, isinstance(event, MappingStartEvent)))
        elif isinstance(event, MappingEndEvent | SequenceEndEvent):
            self._put(_closed(self._stack.pop()))

    def _begin_document(self, place: Place) -> None:
        self._documents += 1
        if self._documents > 1:
            cure = 'remove the line "---" or split the file'
            self._stop(_yaml("a second document begins", "one document in a file", cure, place))

    def _check(self, event: ScalarEvent | MappingStartEvent | SequenceStartEvent, place: Place) -> None:
        if event.anchor is not None:
            self._stop(_alias(f'the anchor "&{event.anchor}"', place))
        if event.tag is not None:
            self.problems.add(_alias(f'the tag "{_shown(str(event.tag))}"', place))
        self._count += 1
        if self._count > MAX_VALUES:
            self._stop(_too_large_values(place))
        if len(self._stack) >= MAX_DEPTH:
            self._stop(
                _yaml("the nesting is too deep", f"{MAX_DEPTH} levels at most", "remove the extra brackets", place)
            )

    def _put(self, node: Node) -> None:
        if not self._stack:
            self.root = node
            return
        top = self._stack[-1]
        if not top.mapping:
            top.items.append(node)
        elif top.key_expected:
            self._put_key(top, node)
        else:
            self._put_value(top, node)

    def _put_key(self, top: _Open, node: Node) -> None:
        top.key_expected = False
        top.key = None
        if not isinstance(node, Scalar):
            what = "a key is a list or a group"
            self.problems.add(_yaml(what, "a key that is one word", "write key: value", node.place))
        elif node.text in top.keys:
            self.problems.add(_duplicate(node, top.keys[node.text]))
        else:
            top.key = top.keys[node.text] = node

    def _put_value(self, top: _Open, node: Node) -> None:
        top.key_expected = True
        if top.key is not None:
            top.entries.append((top.key, node))

    def _stop(self, problem: Problem) -> None:
        self.problems.add(problem)
        raise _StoppedError


def _closed(open_node: _Open) -> Node:
    if open_node.mapping:
        return Mapping(tuple(open_node.entries), open_node.place)
    return Sequence(tuple(open_node.items), open_node.place)


def _first_line(error: Exception) -> str:
    return str(error).split("\n", 1)[0]


def _shown(tag: str) -> str:
    return tag.replace("tag:yaml.org,2002:", "!!")


def _yaml(what: str, allowed: str, cure: str = "mend the line", place: Place | None = None) -> Problem:
    problem = Problem("yaml-unreadable", what, allowed, cure)
    return problem if place is None else problem.at(None, place.line, place.column)


_SYNTAX = {
    "mapping values are not allowed": (
        "a colon stands where no key can",
        'one "key: value" a line, lines of one group equally far in',
        "put a text that holds a colon in quotes, or mend the indentation",
    ),
    "unexpected end of stream": ("a quotation mark is not closed", "text between two equal marks", "close it"),
    "expected ',' or": (
        "a bracket is not closed, or a comma is missing",
        "values between brackets, with commas between them",
        "close the bracket or add the comma",
    ),
    "found character '\\t'": ("a tab stands in the indentation", "spaces", "replace the tab by spaces"),
    "sequence entries are not allowed": (
        "a list begins behind a key on the same line",
        "a list on the lines below its key, each line beginning with a hyphen",
        "move the hyphen to the next line",
    ),
}


def _syntax(error: MarkedYAMLError) -> Problem:
    mark = error.problem_mark or error.context_mark
    place = Place(mark.line + 1, mark.column + 1) if mark is not None else Place(1, 1)
    text = str(error.problem or "").replace("\t", "\\t")
    for start, words in _SYNTAX.items():
        if start in text:
            return _yaml(*words, place)
    return _yaml(f"the text cannot be read as YAML ({text})", 'lines of "key: value"', "put the text in quotes", place)


def _duplicate(key: Scalar, first: Scalar) -> Problem:
    return Problem(
        "key-duplicate",
        f'the key "{key.text}" stands twice, first in line {first.place.line}',
        "each key once in its group",
        "remove one of the two",
        None,
        key.place.line,
        key.place.column,
    )


def _alias(what: str, place: Place) -> Problem:
    return Problem(
        "yaml-alias",
        f"{what} stands in the file",
        "plain keys and values, without anchors, aliases and tags",
        "write the value out; put a text that begins with & * or ! in quotes",
        None,
        place.line,
        place.column,
    )


def _too_large(size: int, most_bytes: int) -> Problem:
    return Problem(
        "file-too-large",
        f"the file has {size} bytes",
        f"at most {most_bytes} bytes",
        "split it; a recorded flight belongs in a CSV file",
    )


def _too_large_values(place: Place) -> Problem:
    return Problem(
        "file-too-large",
        f"the file holds more than {MAX_VALUES} values",
        f"at most {MAX_VALUES} values",
        "split it; a recorded flight belongs in a CSV file",
        None,
        place.line,
        place.column,
    )


def _not_a_file() -> Problem:
    what = "this is a device or a pipe, not a file"
    return Problem("file-missing", what, "an ordinary file", "save the text in a file")


def _missing() -> Problem:
    return Problem("file-missing", "there is no such file", "a file that exists", "check the name and the folder")


def _unreadable(path: Path, error: OSError) -> Problem:
    if path.is_dir():
        return Problem("file-missing", "this is a folder", "a file", "name a file in it")
    what = f"the file cannot be read ({type(error).__name__})"
    return Problem("file-missing", what, "a file you may read", "check who may read it")


def _not_text(what: str) -> Problem:
    return Problem("not-text", f"the file is not plain text: {what}", "UTF-8 text", "save it as UTF-8 text")
