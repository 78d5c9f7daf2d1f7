"""Equations: TeX made into MathML that a browser shows and a screen reader speaks, nothing else let through."""

from __future__ import annotations

import functools
import re
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


@functools.lru_cache(maxsize=512)
def tex_fault(tex: str) -> tuple[str, str] | None:
    """What is wrong with an equation and what to do about it, or None if it can be shown as meant."""
    if len(tex) > LONGEST_TEX:
        return f"the equation has {len(tex)} characters", f"keep it to {LONGEST_TEX}, cut it into several"
    braces = _braces_fault(tex)
    if braces is not None:
        return braces
    try:
        root = _converted(tex, block=False)
    except Exception as error:  # noqa: BLE001 the converter raises many kinds for what an author may type
        words = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(error).__name__.removesuffix("Error")).lower()
        return f"the equation {_shown(tex)} cannot be read ({words})", "complete its commands"
    letters = (node.text or "" for node in root.iter() if node.tag.rsplit("}", 1)[-1] != "mtext")
    unknown = next((text for text in letters if re.fullmatch(r"\\[A-Za-z]+\*?", text)), None)
    unknown = unknown or next((rf"\begin{{{n}}}" for n in _ENVIRONMENT.findall(tex) if not _environment_known(n)), None)
    return None if unknown is None else (f"the equation's command {unknown} is not known", "check its spelling")


_ENVIRONMENT = re.compile(r"\\begin\{([^{}]*)\}")


def _environment_known(name: str) -> bool:
    from latex2mathml.commands import MATRICES

    return rf"\{name}" in MATRICES


def _braces_fault(tex: str) -> tuple[str, str] | None:
    open_ones = 0
    for brace in re.findall(r"\\.|[{}]", tex, re.DOTALL):
        open_ones += {"{": 1, "}": -1}.get(brace, 0)
        if open_ones < 0:
            return f"the equation {_shown(tex)} has a }} with no {{ before it", "take it out, or write \\}"
    if open_ones:
        return f"the equation {_shown(tex)} has a {{ that is never closed", "close it with }"
    return None


def _shown(tex: str) -> str:
    words = " ".join(tex.split())
    return words if len(words) <= 60 else f"{words[:59]}…"


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
