"""The built pages of a workspace, kept fresh: what is on disk is looked at, and what has changed is built again."""

from __future__ import annotations

import dataclasses
import threading
from collections.abc import Mapping
from pathlib import Path

from gyrochalk.classroom.pages import followed
from gyrochalk.errors import MaterialError
from gyrochalk.lesson import Entry, Workspace, build_index, build_lesson, course_entries

INPUTS = ("demonstrations", "flights", "images")
"""Folders a lesson may draw on; a change in any of them concerns every lesson."""

Stamp = tuple[tuple[str, int, int], ...]


@dataclasses.dataclass(frozen=True, slots=True)
class Shown:
    """What the server shows: `entries` in teaching order, `problems` of the course file in words,
    `pages` as they are sent, by name; `edition` grows with every change."""

    edition: int = 0
    ready: bool = False
    entries: tuple[Entry, ...] = ()
    problems: tuple[str, ...] = ()
    pages: Mapping[str, bytes] = dataclasses.field(default_factory=dict)

    def entry(self, name: str) -> Entry | None:
        """The lesson of this name, if it is listed."""
        return next((entry for entry in self.entries if entry.name == name), None)


class Shelf:
    """The pages of one workspace. `look` is called by one thread; `shown` may be read by any."""

    def __init__(self, workspace: Workspace) -> None:
        self.workspace = workspace
        self.shown = Shown()
        self._stamps: dict[str, Stamp] = {}
        self._entries: dict[str, Entry] = {}
        self._pages: dict[str, bytes] = {}
        self._lock = threading.Lock()

    def look(self) -> bool:
        """Look at the files once and build what has changed; True if anything was built."""
        with self._lock:
            shared = _stamp(self.workspace.root / "course.yaml", *(self.workspace.root / name for name in INPUTS))
            lessons = sorted(self.workspace.lessons.glob("*.md"))
            stamps = {path.stem: shared + _stamp(path) for path in lessons}
            if stamps == self._stamps and self.shown.ready:
                return False
            changed = [path for path in lessons if stamps[path.stem] != self._stamps.get(path.stem)]
            self._stamps = stamps
            faults = [fault for path in changed if (fault := self._build(path)) is not None]
            self._publish(set(stamps))
            if faults:
                raise faults[0]
            return True

    def _build(self, path: Path) -> Exception | None:
        """Build one page; a fault of ours is returned, so that the other pages are built all the same."""
        try:
            built = build_lesson(path, self.workspace)
            if built.page is not None:
                self._pages[path.stem] = followed(built.page)
        except Exception as fault:  # noqa: BLE001
            self._entries[path.stem] = Entry(path.stem, path.stem, problems=("gyrochalk failed on this lesson.",))
            return fault
        self._entries[path.stem] = built.entry
        return None

    def _publish(self, names: set[str]) -> None:
        self._entries = {name: entry for name, entry in self._entries.items() if name in names}
        problems: tuple[str, ...] = ()
        entries: tuple[Entry, ...] = tuple(self._entries.values())
        try:
            entries = course_entries(self.workspace, self._entries)
            self._pages["index"] = followed(build_index(self.workspace, entries))
        except MaterialError as error:
            problems = tuple(str(problem) for problem in error.problems)
        self.shown = Shown(self.shown.edition + 1, True, entries, problems, dict(self._pages))


def _stamp(*paths: Path) -> Stamp:
    """Names, times and sizes of some files and of the files directly in some folders."""
    found = []
    for path in paths:
        for file in sorted(path.iterdir()) if path.is_dir() else [path]:
            try:
                status = file.stat()
            except OSError:
                continue
            found.append((str(file), status.st_mtime_ns, status.st_size))
    return tuple(found)
