"""Contrast and colour difference as published, for the tests of the look.

Contrast: relative luminance and contrast ratio of WCAG 2.2 (W3C Recommendation, 2023), definitions.
Colour difference: CIE 1976 L*a*b* and its Euclidean distance (CIE 15), from sRGB (IEC 61966-2-1), D65.
Colour vision: the matrices at severity 1.0 of Machado, Oliveira and Fernandes, "A physiologically-based
model for simulation of color vision deficiency", IEEE TVCG 15(6), 2009, table 1; figures from memory
(each row must sum to one, or white would not stay white: tested).
"""

from __future__ import annotations

import math

Triple = tuple[float, float, float]

UNSEEN: dict[str, tuple[Triple, Triple, Triple]] = {
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def linear(colour: str) -> Triple:
    """The linear light of a hex colour."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return red, green, blue


def luminance(colour: str) -> float:
    """Relative luminance."""
    red, green, blue = linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, from 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def seen_by(kind: str, colour: str) -> Triple:
    """A colour's linear light as somebody without one kind of cone sees it."""
    light = linear(colour)
    red, green, blue = (
        min(1.0, max(0.0, sum(a * b for a, b in zip(row, light, strict=True)))) for row in UNSEEN[kind]
    )
    return red, green, blue


def lab(light: Triple) -> Triple:
    """L*a*b* of linear sRGB light."""
    red, green, blue = light
    x = (0.4124564 * red + 0.3575761 * green + 0.1804375 * blue) / 0.95047
    y = 0.2126729 * red + 0.7151522 * green + 0.0721750 * blue
    z = (0.0193339 * red + 0.1191920 * green + 0.9503041 * blue) / 1.08883
    fx, fy, fz = (t ** (1 / 3) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116 for t in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def difference(one: Triple, other: Triple) -> float:
    """The distance of two lights in L*a*b*."""
    return math.dist(lab(one), lab(other))
