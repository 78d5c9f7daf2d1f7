"""Reading a picture back: where its parts stand, as someone with a ruler would find it."""

from __future__ import annotations

import re
from xml.etree import ElementTree

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


def parse(svg: str) -> ElementTree.Element:
    """The picture as a tree."""
    return ElementTree.fromstring(svg)


def parts(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    """Every element of the picture whose part has this name."""
    return [node for node in root.iter() if node.get("data-part") == name]


def only(root: ElementTree.Element, name: str) -> ElementTree.Element:
    """The one element of this name."""
    (node,) = parts(root, name)
    return node


def words(node: ElementTree.Element) -> str:
    """The text of a label."""
    return "".join(node.itertext())


def written(text: str) -> float:
    """The number in a label: "−21.3°" is −21.3, "006° M" is 6."""
    match = re.search(r"[+−]?[0-9]+(\.[0-9]+)?", text)
    assert match, text
    return float(match[0].replace("−", "-").replace("+", ""))


def points(node: ElementTree.Element) -> list[Point]:
    """Every point of a path of straight lines."""
    pairs = re.findall(r"(-?[0-9.]+) (-?[0-9.]+)", node.get("d") or "")
    return [(float(x), float(y)) for x, y in pairs]


def strokes(node: ElementTree.Element) -> list[list[Point]]:
    """The points of each unbroken stroke of a path."""
    pieces = [piece for piece in (node.get("d") or "").split("M") if piece]
    return [[(float(x), float(y)) for x, y in re.findall(r"(-?[0-9.]+) (-?[0-9.]+)", piece)] for piece in pieces]


def axis(root: ElementTree.Element, mark: str, along: str) -> tuple[float, float]:
    """Offset and slope of an axis, from its first and last label: value = offset + slope · pixel."""
    labels = parts(root, mark)
    pixels = [float(node.get(along) or "nan") for node in labels]
    values = [written(words(node)) for node in labels]
    slope = (values[-1] - values[0]) / (pixels[-1] - pixels[0])
    return values[0] - slope * pixels[0], slope


def turned(node: ElementTree.Element) -> float:
    """By how many degrees a part is turned clockwise."""
    match = re.search(r"rotate\((-?[0-9.]+)\)", node.get("transform") or "")
    assert match
    return float(match[1])
