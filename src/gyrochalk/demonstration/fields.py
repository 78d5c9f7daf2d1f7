"""Reads the keys of a small hand-written form (course file, front matter, question) and notes what is wrong with each.

The form of a demonstration is large and has a schema of its own; this reader serves the short ones.
"""

from __future__ import annotations

from collections.abc import Sequence as Items

from gyrochalk.demonstration.yaml_source import Mapping, Node, Place, Scalar, Sequence
from gyrochalk.errors import Problem, ProblemList
from gyrochalk.units import nearest

FORMAT_VERSION = 1


class Fields:
    """The keys of one mapping; unknown ones are reported at once, each with the nearest known."""

    def __init__(self, mapping: Mapping, file: str, problems: ProblemList, known: Items[str]) -> None:
        self._mapping, self._file, self._problems = mapping, file, problems
        for key, _ in mapping.entries:
            if key.text not in known:
                near = nearest(key.text, known)
                cure = f'did you mean "{near}"?' if near else "remove the line"
                allowed = "known keys are " + ", ".join(known)
                self.report("key-unknown", f'the key "{key.text}" is unknown', allowed, cure, key.place)

    def report(self, code: str, what: str, allowed: str, cure: str, place: Place | None = None) -> None:
        """Note a problem at a place of the form (default: its beginning)."""
        at = place or self._mapping.place
        self._problems.add(Problem(code, what, allowed, cure, self._file, at.line, at.column))

    def node(self, key: str) -> Node | None:
        """Whatever stands behind a key, or None."""
        return self._mapping.get(key)

    def scalar(self, key: str) -> Scalar | None:
        """The single value behind a key, or None; a list or a group is reported."""
        node = self._mapping.get(key)
        if node is None or isinstance(node, Scalar):
            return node
        self.report("value-kind", f'"{key}" is a list or a group', "one value", f"write {key}: …", node.place)
        return None

    def text(self, key: str, default: str = "", *, required: bool = False) -> str:
        """The text behind a key; reported if it is required and missing or empty."""
        scalar = self.scalar(key)
        if scalar is not None and scalar.text.strip():
            return scalar.text.strip()
        if required and (scalar is not None or self._mapping.get(key) is None):
            place = scalar.place if scalar else None
            self.report("key-missing", f'"{key}" is missing', f"a text for {key}", f"add a line {key}: …", place)
        return default

    def choice(self, key: str, choices: Items[str], default: str) -> str:
        """One of several words; any other is reported with the nearest."""
        scalar = self.scalar(key)
        if scalar is None or scalar.text in choices:
            return scalar.text if scalar else default
        near = nearest(scalar.text, choices)
        cure = f'did you mean "{near}"?' if near else f'write for example "{choices[0]}"'
        what = f'"{scalar.text}" is not a choice for {key}'
        self.report("choice-unknown", what, "choices are " + ", ".join(choices), cure, scalar.place)
        return default

    def items(self, key: str) -> tuple[Node, ...]:
        """The items of a list, empty if there is none; anything but a list is reported."""
        node = self._mapping.get(key)
        if node is None or (isinstance(node, Scalar) and not node.text and not node.quoted):
            return ()
        if isinstance(node, Sequence):
            return node.items
        self.report(
            "value-kind", f'"{key}" is not a list', "lines that begin with a hyphen", "write it as a list", node.place
        )
        return ()

    def texts(self, key: str) -> list[Scalar]:
        """The items of a list of single values; others are reported."""
        kept = []
        for item in self.items(key):
            if isinstance(item, Scalar) and item.text.strip():
                kept.append(item)
            else:
                self.report(
                    "value-kind", f'an item of "{key}" is not a text', "one text an item", "mend it", item.place
                )
        return kept

    def groups(self, key: str) -> list[Mapping]:
        """The items of a list of groups; others are reported."""
        kept = []
        for item in self.items(key):
            if isinstance(item, Mapping):
                kept.append(item)
            else:
                self.report("value-kind", f'an item of "{key}" has no keys', "key: value lines", "mend it", item.place)
        return kept

    def check_format(self) -> None:
        """The file must begin with the version of the format it is written in."""
        scalar = self.scalar("gyrochalk")
        allowed = f"this gyrochalk reads version {FORMAT_VERSION}"
        if scalar is None:
            if self._mapping.get("gyrochalk") is None:
                self.report("key-missing", "the format version is missing", allowed, "begin with gyrochalk: 1")
        elif scalar.text != str(FORMAT_VERSION):
            newer = scalar.text.isdecimal() and int(scalar.text) > FORMAT_VERSION
            cure = "update gyrochalk" if newer else f"write gyrochalk: {FORMAT_VERSION}"
            what = f"the format version is {scalar.text or 'empty'}"
            self.report("version-newer" if newer else "version-unknown", what, allowed, cure, scalar.place)
