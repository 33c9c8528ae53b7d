"""The one door through which text enters paper and workbooks.

Text is drawn as it is and never read as markup, so ``<``, ``&`` and ``=`` mean nothing. It is
normalised, freed of control and direction characters, and wrapped; it is never shortened.
"""

from __future__ import annotations

from functools import lru_cache

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from beeledger.base.text import tidy
from beeledger.reporting.look.fonts import QUIET, Role, text_width, width
from beeledger.reporting.look.ink import ink

_BREAK_AFTER = "-/–·"


def clean(text: object) -> str:
    """Any value as one line of text that can be drawn; None is blank."""
    return "" if text is None else tidy(str(text))


def paragraphs(text: str) -> list[str]:
    """Text with line ends as clean lines; blank lines fall away."""
    return [line for line in (clean(part) for part in str(text).splitlines()) if line]


@lru_cache(maxsize=20_000)
def wrapped(text: str, role: Role, room: float) -> tuple[str, ...]:
    """Clean ``text`` as lines no wider than ``room`` points; a word too long is broken."""
    line = clean(text)
    if not line:
        return ()
    if text_width(line, role) <= room:
        return (line,)
    lines: list[str] = []
    current = ""
    for word in line.split(" "):
        joined = f"{current} {word}" if current else word
        if text_width(joined, role) <= room:
            current = joined
            continue
        if current:
            lines.append(current)
        *whole, current = _pieces(word, role, room)
        lines.extend(whole)
    return (*lines, current)


def balanced(text: str, role: Role, room: float) -> tuple[str, ...]:
    """As ``wrapped``, in as many lines but of lengths as even as they come: no lonely last word."""
    lines = wrapped(text, role, room)
    if len(lines) < 2:
        return lines
    low, high = room / 2, room
    while high - low > 0.5:
        middle = (low + high) / 2
        if len(wrapped(text, role, middle)) <= len(lines):
            high = middle
        else:
            low = middle
    return wrapped(text, role, high)


def _pieces(word: str, role: Role, room: float) -> list[str]:
    """A word cut into pieces that fit, after a hyphen or stroke where one stands late enough."""
    pieces: list[str] = []
    while width(word, role.font, role.size) > room and len(word) > 1:
        fit = _how_many(word, role, room)
        after = max((word.rfind(mark, 0, fit) for mark in _BREAK_AFTER), default=-1) + 1
        cut = after if after > fit // 2 else fit
        pieces.append(word[:cut])
        word = word[cut:]
    return [*pieces, word]


def _how_many(word: str, role: Role, room: float) -> int:
    low, high = 1, len(word)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(word[:middle], role) <= room:
            low = middle
        else:
            high = middle - 1
    return low


def draw(canvas: Canvas, x: float, y: float, text: str, role: Role, align: str = "left") -> None:
    """Draw one line of text with its baseline at ``y``; ``x`` is its left, right or middle."""
    line = clean(text)
    if not line:
        return
    canvas.setFont(role.font, role.size)
    canvas.setFillColor(ink(role.ink))
    if align == "right":
        canvas.drawRightString(x, y, line)
    elif align == "centre":
        canvas.drawCentredString(x, y, line)
    else:
        canvas.drawString(x, y, line)


class Lines(Flowable):
    """Running text: paragraphs wrapped to the column, splitting between lines."""

    def __init__(self, text: str, role: Role = QUIET, *, above: float = 0, below: float = 4) -> None:
        super().__init__()
        self.parts = paragraphs(text)
        self.role = role
        self.spaceBefore, self.spaceAfter = above, below
        self.lines: tuple[str, ...] = ()

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The height the text takes at this width."""
        self.lines = tuple(line for part in self.parts for line in wrapped(part, self.role, aW))
        return aW, len(self.lines) * self.role.leading

    def split(self, aW: float, aH: float) -> list[Flowable]:  # noqa: N803
        """Two pieces, neither with a lonely line."""
        self.wrap(aW, aH)
        fit = int(aH // self.role.leading)
        fit = min(fit, len(self.lines) - 2)
        if fit < 2:
            return []
        first, rest = (Lines("\n".join(part), self.role) for part in (self.lines[:fit], self.lines[fit:]))
        return [first, rest]

    def draw(self) -> None:
        """Draw the lines from the top."""
        top = len(self.lines) * self.role.leading
        for index, line in enumerate(self.lines):
            draw(self.canv, 0, top - index * self.role.leading - self.role.size, line, self.role)
