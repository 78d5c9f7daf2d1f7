"""Equations: TeX made into MathML that a browser shows and a screen reader speaks, nothing else let through."""

from __future__ import annotations

import functools
from html import escape
from xml.etree import ElementTree

MATHML = "http://www.w3.org/1998/Math/MathML"
ELEMENTS = frozenset(
    [
        "math",
        "mrow",
        "mi",
        "mn",
        "mo",
        "ms",
        "mtext",
        "mspace",
        "mfrac",
        "msqrt",
        "mroot",
        "msub",
        "msup",
        "msubsup",
        "munder",
        "mover",
        "munderover",
        "mmultiscripts",
        "mtable",
        "mtr",
        "mtd",
        "mstyle",
        "mpadded",
        "mphantom",
        "menclose",
        "mprescripts",
        "none",
        "semantics",
    ]
)
ATTRIBUTES = frozenset(
    [
        "display",
        "displaystyle",
        "scriptlevel",
        "mathvariant",
        "stretchy",
        "fence",
        "form",
        "separator",
        "accent",
        "accentunder",
        "lspace",
        "rspace",
        "minsize",
        "maxsize",
        "symmetric",
        "linethickness",
        "columnalign",
        "rowspacing",
        "columnspacing",
        "width",
        "height",
        "depth",
        "largeop",
        "movablelimits",
        "notation",
        "columnlines",
        "rowlines",
    ]
)
LONGEST_TEX = 2000


@functools.lru_cache(maxsize=512)
def equation(tex: str, alt: str, *, block: bool) -> str:
    """MathML for `tex` with `alt` as its words; what cannot be read as TeX is shown as typed."""
    try:
        root = _converted(tex, block=block)
        body = _safe(root, alt or tex)
    except Exception:  # noqa: BLE001 the converter raises many kinds for what an author may type
        return f'<code class="tex">{escape(tex)}</code>'
    return body


def _converted(tex: str, *, block: bool) -> ElementTree.Element:
    if len(tex) > LONGEST_TEX:
        raise ValueError("the equation is too long")
    from latex2mathml.converter import convert

    return ElementTree.fromstring(convert(tex, display="block" if block else "inline"))


def _safe(root: ElementTree.Element, alt: str) -> str:
    inner = "".join(_element(child) for child in root)
    display = "block" if root.get("display") == "block" else "inline"
    return f'<math xmlns="{MATHML}" display="{display}" alttext="{escape(alt)}">{inner}</math>'


def _element(node: ElementTree.Element) -> str:
    """An element with only known names and attributes; an unknown one leaves only what is inside it."""
    name = node.tag.rsplit("}", 1)[-1]
    inner = escape(node.text or "", quote=False) + "".join(
        _element(child) + escape((child.tail or "").strip(), quote=False) for child in node
    )
    if name not in ELEMENTS:
        return inner
    given = "".join(f' {key}="{escape(value)}"' for key, value in node.attrib.items() if key in ATTRIBUTES)
    return f"<{name}{given}>{inner}</{name}>"
