"""A picture leaves as PNG and SVG with its caption."""

from __future__ import annotations

import struct

import pytest

from gyrochalk.figures import DARK, LIGHT, THEMES
from gyrochalk.figures.raster import to_png
from tests.figures.loop_pictures import loop_picture
from tests.figures.read_back import parse


def size_of(png: bytes) -> tuple[int, int]:
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", png[16:24])
    return width, height


@pytest.mark.parametrize("theme", THEMES.values(), ids=lambda t: t.name)
def test_a_png_has_the_shape_of_the_svg(theme: object) -> None:
    figure = loop_picture("earth-turn", THEMES[theme.name])  # type: ignore[attr-defined]
    _, _, width, height = (float(part) for part in parse(figure.with_caption()).get("viewBox", "").split())
    across, down = size_of(to_png(figure, width_px=800))
    assert across == 800
    assert down == pytest.approx(800 * height / width, abs=1.0)


def test_letters_are_drawn_and_themes_differ() -> None:
    figure = loop_picture("earth-turn", LIGHT)
    wordless = type(figure)(**{name: getattr(figure, name) for name in figure.__slots__} | {"caption": " "})
    assert to_png(figure) != to_png(wordless)
    assert to_png(figure) != to_png(figure, DARK)


def test_the_caption_is_in_the_svg() -> None:
    figure = loop_picture("earth-turn", LIGHT)
    lines = ["".join(node.itertext()) for node in parse(figure.with_caption(fonts=False)) if node.tag.endswith("text")]
    assert " ".join(lines) == figure.caption
