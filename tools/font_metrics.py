"""Measure the shipped fonts once and write `figures/fonts/widths.json` (needs fonttools and brotli)."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

FONTS = Path(__file__).parents[1] / "src/gyrochalk/figures/fonts"
FILES = {
    "text-400": ["literata-latin-400-normal.woff2", "literata-greek-400-normal.woff2"],
    "text-700": ["literata-latin-700-normal.woff2"],
    "figure-400": ["atkinson-hyperlegible-next-latin-400-normal.woff2"],
    "figure-700": ["atkinson-hyperlegible-next-latin-700-normal.woff2"],
    "mono-400": ["atkinson-hyperlegible-mono-latin-400-normal.woff2"],
}


def tabular(font: TTFont) -> dict[str, str]:
    """Glyph substitutions of the tabular-figures feature."""
    found: dict[str, str] = {}
    if "GSUB" not in font:
        return found
    table = font["GSUB"].table
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == "tnum":
            for index in record.Feature.LookupListIndex:
                for sub in table.LookupList.Lookup[index].SubTable:
                    found.update(getattr(sub, "ExtSubTable", sub).mapping)
    return found


def measure(names: list[str]) -> dict[str, int]:
    """Advance widths in thousandths of an em by character, the wider form of digits (proportional or tabular)."""
    widths: dict[str, int] = {}
    for name in names:
        font = TTFont(FONTS / name)
        scale = 1000 / font["head"].unitsPerEm
        swap = tabular(font)
        for code, glyph in font.getBestCmap().items():
            widths.setdefault(
                chr(code), round(max(font["hmtx"][g][0] for g in (glyph, swap.get(glyph, glyph))) * scale)
            )
    return dict(sorted(widths.items()))


def main() -> None:
    """Write the table."""
    files = sorted({name for names in FILES.values() for name in names})
    table = {
        "sha256": {name: hashlib.sha256((FONTS / name).read_bytes()).hexdigest() for name in files},
        "widths": {key: measure(names) for key, names in FILES.items()},
    }
    (FONTS / "widths.json").write_text(json.dumps(table, ensure_ascii=False, indent=0) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
