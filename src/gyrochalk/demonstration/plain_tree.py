"""A tree of written values as plain Python lists and dictionaries of texts."""

from __future__ import annotations

from typing import Any

from gyrochalk.demonstration.yaml_source import Mapping, Node, Scalar


def plain(node: Node) -> Any:
    """Texts, lists and dictionaries, without places. (At most 20 levels deep: see `yaml_source`.)"""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Mapping):
        return {key.text: plain(value) for key, value in node.entries}
    return [plain(item) for item in node.items]
