"""Comparing a picture with the one kept: the same words and shapes, coordinates to a twentieth of a pixel."""

from __future__ import annotations

import os
import re
from pathlib import Path

KEPT = Path(__file__).parent / "kept"
CHANGED = Path(__file__).parents[2] / "out" / "golden"
UPDATE = os.environ.get("GYROCHALK_UPDATE_GOLDEN") == "1"
NEAR_PX = 0.05
_NUMBER = re.compile(r"-?[0-9]+\.[0-9]+|-?[0-9]+")


def normalised(svg: str) -> str:
    """One shape a line, coordinates to a tenth of a pixel, so that a change can be read."""
    rounded = re.sub(r"-?[0-9]+\.[0-9]+", lambda m: f"{float(m[0]) + 0.0:.1f}".replace("-0.0", "0.0"), svg)
    return rounded.replace("><", ">\n<") + "\n"


def difference(old: str, new: str) -> str | None:
    """Where two normalised pictures first differ by more than the rounding, or None."""
    old_lines, new_lines = old.splitlines(), new.splitlines()
    for n, (before, after) in enumerate(zip(old_lines, new_lines, strict=False), start=1):
        if not _alike(before, after):
            return f"line {n}:\n- {before[:300]}\n+ {after[:300]}"
    return None if len(old_lines) == len(new_lines) else f"{len(old_lines)} shapes became {len(new_lines)}"


def _alike(before: str, after: str) -> bool:
    if before == after:
        return True
    if _NUMBER.sub("#", before) != _NUMBER.sub("#", after):
        return False
    pairs = zip(_NUMBER.findall(before), _NUMBER.findall(after), strict=True)
    return all(abs(float(a) - float(b)) <= 2 * NEAR_PX + 1e-9 if "." in a else a == b for a, b in pairs)


def check(name: str, svg: str) -> None:
    """Compare with the kept picture; `GYROCHALK_UPDATE_GOLDEN=1` keeps the new one instead.

    A difference leaves a page in `out/golden/` with the old picture, the new one, and one laid over the other.
    """
    path = KEPT / f"{name}.svg"
    new = normalised(svg)
    if UPDATE:
        path.parent.mkdir(exist_ok=True)
        path.write_text(new, encoding="utf-8", newline="\n")
        return
    assert path.exists(), f"{path.name} is not kept yet: run the tests once with GYROCHALK_UPDATE_GOLDEN=1"
    old = path.read_text(encoding="utf-8")
    changed = difference(old, new)
    if changed:
        page = CHANGED / f"{name}.html"
        page.parent.mkdir(parents=True, exist_ok=True)
        page.write_text(_side_by_side(name, old, new), encoding="utf-8")
        raise AssertionError(f"{name} is drawn otherwise ({page}), first at {changed}")


def _side_by_side(name: str, old: str, new: str) -> str:
    css = "svg{width:720px;display:block}.over{position:relative}"
    css += ".over div+div{position:absolute;inset:0;mix-blend-mode:difference}"
    over = f'<h2>Laid over each other</h2><div class="over"><div>{old}</div><div>{new}</div></div>'
    return (
        f'<!doctype html><html lang="en"><meta charset="utf-8"><title>{name}</title><style>{css}</style>'
        f"<h1>{name}</h1><h2>Old</h2>{old}<h2>New</h2>{new}{over}</html>"
    )
