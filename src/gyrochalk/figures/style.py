"""What each class of a picture looks like: as a stylesheet for pages, or written into each shape for export."""

from __future__ import annotations

import base64
import functools
import re
from collections.abc import Iterable, Mapping

from gyrochalk.figures.lettering import FONTS
from gyrochalk.figures.theme import FIGURE_STACK, LINES, Theme

Declarations = dict[str, str]
_LETTERS = ("A", "C", "G", "S", "D", "acting")
_ROLES = ("ink", "quiet", "alert")


def _rules(line_scale: float) -> dict[str, Declarations]:
    """Class → SVG properties; `@role` stands for a colour of the theme."""

    def px(width: float) -> str:
        return f"{width * line_scale:g}"

    rules: dict[str, Declarations] = {
        "ground": {"fill": "@ground"},
        "shade": {"fill": "@shade"},
        "hair": {"fill": "none", "stroke": "@hair", "stroke-width": px(1)},
        "axis": {"fill": "none", "stroke": "@axis", "stroke-width": px(1)},
        "rim": {"fill": "none", "stroke": "@quiet", "stroke-width": px(1.2)},
        "mark": {"fill": "none", "stroke": "@ink", "stroke-width": px(1.2)},
        "hair-mark": {"fill": "none", "stroke": "@axis", "stroke-width": px(0.9)},
        "window": {"fill": "@ground", "stroke": "@quiet", "stroke-width": px(1.2)},
        "acting-dot": {"fill": "@acting"},
        "heavy": {"fill": "none", "stroke": "@ink", "stroke-width": px(2.2)},
        "solid": {"fill": "@ink"},
        "quiet-solid": {"fill": "@quiet"},
        "leader": {"fill": "none", "stroke": "@axis", "stroke-width": px(0.8)},
        "event": {"fill": "none", "stroke": "@axis", "stroke-width": px(1), "stroke-dasharray": "2 3"},
        "t": {"font-family": FIGURE_STACK},
        "num": {"font-variant-numeric": "tabular-nums"},
        "halo": {"stroke": "@ground", "stroke-width": px(3.5), "paint-order": "stroke", "stroke-linejoin": "round"},
        "fixed": {"fill": "none", "stroke": "@ink", "stroke-width": px(2.2)},
        "bold": {"font-weight": "700"},
        "middle": {"text-anchor": "middle"},
        "end": {"text-anchor": "end"},
        "badge": {"fill": "@ground", "stroke-width": px(1.8)},
        "broken": {"fill": "none", "stroke": "@alert", "stroke-width": px(2.2)},
        "edge-alert": {"stroke": "@alert"},
        "fill-alert": {"fill": "@alert"},
        "wire-D": {"fill": "none", "stroke": "@D", "stroke-width": px(1.2)},
        "craft": {"fill": "@shade", "stroke": "@quiet", "stroke-width": px(1.2), "stroke-linejoin": "round"},
        "gone": {"stroke-dasharray": "2 3", "opacity": "0.45"},
    }
    rules |= {role: {"fill": f"@{role}"} for role in _ROLES}
    for key in _LETTERS:
        line = LINES[key]
        trace = {"fill": "none", "stroke": f"@{key}", "stroke-width": px(line.width), "stroke-linejoin": "round"}
        if line.dash:
            trace |= {"stroke-dasharray": _scale_dash(line.dash, line_scale), "stroke-linecap": line.cap}
        rules[f"trace-{key}"] = trace
        rules[f"other-{key}"] = trace | {"stroke-width": px(1.1)}
        rules[f"arc-{key}"] = {"fill": "none", "stroke": f"@{key}", "stroke-width": px(3.4)}
        rules[f"edge-{key}"] = {"stroke": f"@{key}"}
        rules[f"fill-{key}"] = {"fill": f"@{key}"}
    return rules


def _scale_dash(dash: str, scale: float) -> str:
    return " ".join(f"{float(part) * scale:g}" for part in dash.split())


@functools.cache
def stylesheet(scope: str = ".picture", line_scale: float = 1.0) -> str:
    """Rules for every class of a picture inside `scope`, colours as custom properties `--g-…` the page defines."""
    lines = []
    for name, declared in _rules(line_scale).items():
        body = ";".join(f"{key}:{_variable(value)}" for key, value in declared.items())
        lines.append(f"{scope} .{name}{{{body}}}")
    return "\n".join(lines)


def _variable(value: str) -> str:
    return f"var(--g-{value[1:]})" if value.startswith("@") else value


def colour_properties(theme: Theme) -> str:
    """The custom properties a page sets to dress its pictures in `theme`."""
    return ";".join(f"--g-{role}:{colour}" for role, colour in theme.colours.items())


_CLASS = re.compile(r' class="([^"]*)"')


def write_out(svg: str, theme: Theme) -> str:
    """The same picture with every property written into its shapes, needing no stylesheet."""
    rules = _resolved(theme)

    def properties(match: re.Match[str]) -> str:
        declared: Declarations = {}
        for name in match[1].split():
            declared |= rules.get(name, {})
        return "".join(_attribute(key, value) for key, value in declared.items())

    return _CLASS.sub(properties, svg)


def _attribute(key: str, value: str) -> str:
    if key in ("font-variant-numeric", "paint-order"):
        return f' style="{key}:{value}"'
    return f' {key}="{value}"'


def _resolved(theme: Theme) -> Mapping[str, Declarations]:
    return {
        name: {key: theme.colours[value[1:]] if value.startswith("@") else value for key, value in declared.items()}
        for name, declared in _rules(theme.line_scale).items()
    }


FONT_FACES: tuple[tuple[str, str, str, str], ...] = (
    ("Literata", "400", "normal", "literata-latin-400-normal.woff2"),
    ("Literata", "400", "italic", "literata-latin-400-italic.woff2"),
    ("Literata", "700", "normal", "literata-latin-700-normal.woff2"),
    ("Literata", "400", "normal", "literata-greek-400-normal.woff2"),
    ("Atkinson Hyperlegible Next", "400", "normal", "atkinson-hyperlegible-next-latin-400-normal.woff2"),
    ("Atkinson Hyperlegible Next", "700", "normal", "atkinson-hyperlegible-next-latin-700-normal.woff2"),
    ("Atkinson Hyperlegible Mono", "400", "normal", "atkinson-hyperlegible-mono-latin-400-normal.woff2"),
)
"""Family, weight, style and file of each shipped font."""

_GREEK = "U+0370-03FF"
_LATIN = (
    "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,U+2191,U+2193,U+2212"
)


@functools.cache
def font_faces(families: Iterable[str] = ("Literata", "Atkinson Hyperlegible Next")) -> str:
    """`@font-face` rules with the fonts inside them as data, so that a page needs no network."""
    wanted = tuple(families)
    return "\n".join(_font_face(*face) for face in FONT_FACES if face[0] in wanted)


def _font_face(family: str, weight: str, style: str, file: str) -> str:
    data = base64.b64encode((FONTS / file).read_bytes()).decode("ascii")
    covers = _GREEK if "-greek-" in file else _LATIN
    return (
        f"@font-face{{font-family:'{family}';font-weight:{weight};font-style:{style};font-display:block;"
        f"src:url(data:font/woff2;base64,{data}) format('woff2');unicode-range:{covers}}}"
    )
