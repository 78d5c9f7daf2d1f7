"""What the published sources of the textbook rules are called, where people read it."""

from __future__ import annotations

TITLES: dict[str, str] = {
    "ifh-5-22": "FAA Instrument Flying Handbook, 5-22",
    "cfr-25.1327": "14 CFR 25.1327 (also 27.1327, 29.1327)",
    "mil-g-19027": "MIL-G-19027D, 4.5.3.7.9–10",
    "afpam-11-216": "AFPAM 11-216 (2001), 14.18.2–3",
}
"""By the id of `docs/sources.md`, as it stands there."""
