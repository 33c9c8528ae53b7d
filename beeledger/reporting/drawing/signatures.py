"""Lines to sign on: for whom, name, date."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable

from beeledger.reporting.look.fonts import CELL_STRONG, MM, QUIET
from beeledger.reporting.look.ink import ink
from beeledger.reporting.look.text import draw, wrapped

_PLACES = ("Signature", "Name", "Date")
_HIGH = 11 * MM
"""Room to write in above each line."""
SIGNED_ROOM = 148
"""Points that a section's head and a block to sign take together."""


class Signatures(Flowable):
    """One block of lines for each who signs, side by side; never split."""

    def __init__(self, who: Sequence[str], says: str = "") -> None:
        super().__init__()
        self.who, self.says = list(who), says
        self.spaceBefore = 6

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The room it takes."""
        self.room = aW
        self.one = (aW - 24 * (len(self.who) - 1)) / len(self.who)
        self.lines = wrapped(self.says, QUIET, aW)
        self.names = [wrapped(f"For {name}", CELL_STRONG, self.one) for name in self.who]
        self.head = max(len(lines) for lines in self.names) * 12.0
        self.high = len(self.lines) * 12 + 6 + self.head + 2 * _HIGH + 12
        return aW, self.high

    def split(self, aW: float, aH: float) -> list[Flowable]:  # noqa: ARG002, N803
        """A block to sign stays whole."""
        return []

    def draw(self) -> None:
        """What is signed, then the lines."""
        canvas, y = self.canv, self.high
        for index, line in enumerate(self.lines):
            draw(canvas, 0, y - 9.5 - 12 * index, line, QUIET)
        y -= len(self.lines) * 12 + 6
        canvas.setStrokeColor(ink("edge"))
        canvas.setLineWidth(0.6)
        for place, lines in enumerate(self.names):
            x = place * (self.one + 24)
            for index, line in enumerate(lines):
                draw(canvas, x, y - 9.5 - 12 * index, line, CELL_STRONG)
            self._block(x, y - self.head)

    def _block(self, x: float, y: float) -> None:
        canvas, first = self.canv, y - _HIGH
        canvas.line(x, first, x + self.one, first)
        draw(canvas, x, first - 10, _PLACES[0], QUIET)
        second, cut = first - _HIGH, self.one * 0.62
        canvas.line(x, second, x + cut - 8, second)
        draw(canvas, x, second - 10, _PLACES[1], QUIET)
        canvas.line(x + cut, second, x + self.one, second)
        draw(canvas, x + cut, second - 10, _PLACES[2], QUIET)
