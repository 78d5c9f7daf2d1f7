"""Can it be seen: contrast of two colours, and what they become for an eye with a colour-vision deficiency."""

from __future__ import annotations

TEXT_CONTRAST = 4.5
MARK_CONTRAST = 3.0
"""Least contrast for text and for marks (WCAG 2.2, success criteria 1.4.3 and 1.4.11)."""

Rgb = tuple[float, float, float]

# Full dichromacy in linear RGB: Machado, Oliveira, Fernandes, "A physiologically-based model for simulation of color
# vision deficiency", IEEE TVCG 15(6), 2009, severity 1.0 (figures from memory; each row must sum to 1, a test).
DEFICIENCIES: dict[str, tuple[Rgb, Rgb, Rgb]] = {
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def linear_rgb(colour: str) -> Rgb:
    """Linear-light red, green, blue [0..1] of `colour` (#RRGGBB, sRGB)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return r, g, b


def luminance(colour: str) -> float:
    """Relative luminance [0 black .. 1 white] of `colour` (#RRGGBB), as WCAG 2.2 defines it."""
    r, g, b = linear_rgb(colour)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """Contrast ratio [1..21] of two colours (#RRGGBB), as WCAG 2.2 defines it."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def seen_with(deficiency: str, colour: str) -> str:
    """What `colour` (#RRGGBB) looks like with a `deficiency` named in `DEFICIENCIES`, as #RRGGBB."""
    rgb = linear_rgb(colour)
    seen = (sum(k * c for k, c in zip(row, rgb, strict=True)) for row in DEFICIENCIES[deficiency])
    return "#" + "".join(f"{_encode(c):02X}" for c in seen)


def _encode(light: float) -> int:
    """One sRGB byte from linear light, clipped to what a screen can show."""
    light = min(1.0, max(0.0, light))
    return round(255 * (12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055))
