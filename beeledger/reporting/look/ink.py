"""The inks of paper: the light look's tokens, and only those a printer holds.

On paper hairlines are a shade darker than on a screen, since a laser printer breaks a pale line
into dots; grounds are left out for the same reason, and rules make the groups.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from reportlab.lib.colors import Color, HexColor

Ink = Literal[
    "ink", "ink2", "ink3", "line", "line5", "edge", "accent", "now", "watch", "good", "info", "nowsoft",
    "paper", "c1", "c2", "c3", "c4", "white", "yellow", "red", "green", "blue",
]  # fmt: skip

INKS: dict[str, str] = {
    "ink": "#19201C", "ink2": "#46514A", "ink3": "#5B6660", "line": "#BEC6BE", "line5": "#78837B",
    "edge": "#78837B", "accent": "#74366B", "now": "#A4231B", "watch": "#80520A", "good": "#266437",
    "info": "#2A5A86", "nowsoft": "#FBE9E6", "paper": "#FFFFFF", "c1": "#0B4373", "c2": "#B2501A",
    "c3": "#2E8A78", "c4": "#9C58B0",
    # the marking colours of queens, used for nothing else
    "white": "#FFFFFF", "yellow": "#F4C414", "red": "#D0312B", "green": "#2C9A4B", "blue": "#2D6BD1",
}  # fmt: skip

HAIR = 0.35
"""Width of a row's line, points."""
FIFTH = 0.8
"""Width of every fifth row's line, and of the line that opens a section."""
SERIES: tuple[Ink, ...] = ("c1", "c2", "c3", "c4")
QUEEN_COLOURS = ("white", "yellow", "red", "green", "blue")


@cache
def ink(name: Ink) -> Color:
    """The colour of a token."""
    return HexColor(INKS[name])


def contrast(text: str, ground: str) -> float:
    """How far two tokens stand apart, 1 to 21 (WCAG 2.2, contrast ratio and relative luminance)."""
    light, dark = sorted((_luminance(INKS[name]) for name in (text, ground)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
