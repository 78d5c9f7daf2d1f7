"""The text of a lesson as it lies on disk: characters, lines, and where each line begins."""

from __future__ import annotations

import bisect
import dataclasses
import re
import stat
from pathlib import Path

from gyrochalk.errors import MaterialError, Problem

LARGEST_BYTES = 2_000_000
"""A lesson longer than this is refused: about 300 000 words, far beyond what a lesson can be."""

_LINE_END = re.compile(r"\r\n|\n|\r")
_MARK = "\ufeff"


@dataclasses.dataclass(frozen=True, slots=True)
class Place:
    """A place in a file as people count it: line and column from 1, the column in characters."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclasses.dataclass(frozen=True, slots=True)
class Source:
    """A lesson's text without any byte-order mark, its line endings as they were written.

    `file` is the name printed in messages; `lines` (without endings) and `starts` (offset of each line's first
    character in `text`) are of one length; `mark` says that the file began with a byte-order mark.
    """

    path: Path
    file: str
    text: str
    lines: tuple[str, ...]
    starts: tuple[int, ...]
    mark: bool = False

    def place(self, offset: int) -> Place:
        """Line and column of the character at `offset` of `text`."""
        index = bisect.bisect_right(self.starts, offset) - 1
        return Place(self.file, index + 1, offset - self.starts[index] + 1)

    def encode(self, text: str) -> bytes:
        """A changed text as bytes, with the byte-order mark the file had."""
        return ((_MARK if self.mark else "") + text).encode("utf-8")


def source_of(text: str, path: Path, file: str | None = None) -> Source:
    """Split a text into lines; a byte-order mark at its start is taken off and remembered."""
    mark = text.startswith(_MARK)
    text = text.removeprefix(_MARK)
    starts, lines, begin = [], [], 0
    for end in _LINE_END.finditer(text):
        starts.append(begin)
        lines.append(text[begin : end.start()])
        begin = end.end()
    starts.append(begin)
    lines.append(text[begin:])
    return Source(path, file or str(path), text, tuple(lines), tuple(starts), mark)


def read_source(path: Path, file: str | None = None) -> Source:
    """Read a lesson from disk; refuses a missing file, one that is too large, and one that is not UTF-8 text."""
    file = file or str(path)
    try:
        about = path.stat()
        if not (stat.S_ISREG(about.st_mode) or stat.S_ISDIR(about.st_mode)):
            raise MaterialError(_not_a_file(file))
        data = path.read_bytes() if about.st_size <= LARGEST_BYTES else None
    except OSError as error:
        raise MaterialError(_unreadable(file, error)) from error
    if data is None:
        raise MaterialError(_too_large(file, path.stat().st_size))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise MaterialError(_not_text(file, data, error.start)) from error
    junk = re.search(r"[\x00-\x08\x0b\x0e-\x1f]", text)
    if junk:
        raise MaterialError(_not_text(file, data, len(text[: junk.start()].encode("utf-8"))))
    return source_of(text, path, file)


def _not_a_file(file: str) -> Problem:
    what = "this is a device or a pipe, not a lesson"
    return Problem("file-missing", what, "a Markdown file", "save the text in a file", file)


def _unreadable(file: str, error: OSError) -> Problem:
    if isinstance(error, FileNotFoundError | NotADirectoryError):
        what = "there is no such file"
    elif isinstance(error, IsADirectoryError):
        what = "this is a folder, not a lesson"
    else:
        what = f"the file cannot be read ({error.strerror or type(error).__name__})"
    return Problem("file-missing", what, "a Markdown file that exists", "check the name and the folder", file)


def _too_large(file: str, size: int) -> Problem:
    return Problem(
        "file-too-large",
        f"the lesson has {size / 1e6:.1f} MB",
        f"at most {LARGEST_BYTES / 1e6:.0f} MB of text",
        "cut it into lessons; pictures belong in images/",
        file,
    )


def _not_text(file: str, data: bytes, at: int) -> Problem:
    begin = max(data.rfind(b"\n", 0, at), data.rfind(b"\r", 0, at)) + 1
    line = len(_LINE_END.findall(data[:begin].decode("utf-8", "replace"))) + 1
    column = len(data[begin:at].decode("utf-8", "replace")) + 1
    what = f"the file is not plain text: byte 0x{data[at]:02X} stands here"
    return Problem("not-text", what, "UTF-8 text", "save it as UTF-8 text", file, line, column)
