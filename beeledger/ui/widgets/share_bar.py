"""Parts of a whole as one bar, cut where the parts meet; the names stand in the lines below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect, QRectF, QSize
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.canvas import Canvas, ChartTable, Spot
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import fill

PART_INKS: tuple[Token, ...] = ("c1", "c2", "c3", "c4")
REST_INK: Token = "edge"
"""From the fifth part on: they are named in the lines below, and share one ground."""


@dataclass(frozen=True, slots=True)
class Share:
    """A part: its name, its weight in any unit, and its figure in words."""

    name: str
    amount: int
    figure: str = ""


class ShareBar(Canvas):
    """The largest parts first, as they are given."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("", "", parent)
        self._shares: tuple[Share, ...] = ()
        self.setAccessibleName("Shares")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_shares(self, shares: Sequence[Share]) -> None:
        """Show other parts. ValueError when one is below nought."""
        if any(one.amount < 0 for one in shares):
            raise ValueError("a part of a whole is not below nought")
        self._shares = tuple(shares)
        self.describe(", ".join(f"{one.name} {one.figure}".strip() for one in shares))

    def table(self) -> ChartTable:
        return ChartTable(
            ("Part", "Amount", "Share"), tuple((s.name, str(s.amount), s.figure) for s in self._shares)
        )

    def sizeHint(self) -> QSize:
        return QSize(look.px(240), look.px(26))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(120), look.px(26))

    def paint_plot(self, painter: QPainter, room: QRect) -> None:
        pad = look.px(16)
        whole = sum(one.amount for one in self._shares)
        width = room.width() - 2 * pad
        done = 0
        for at, one in enumerate(self._shares):
            if whole == 0:
                break
            left = pad + round(done / whole * width)
            done += one.amount
            right = pad + round(done / whole * width)
            last = at + 1 == len(self._shares)
            place = QRect(left, room.top() + look.px(6), right - left - (0 if last else 2), look.px(14))
            fill(painter, place, part_ink(at))
            self.spots.append(Spot(QRectF(place).center(), f"{one.name} {one.figure}".strip()))


def part_ink(at: int) -> Token:
    """The colour of a part by its place, for the square before its name."""
    return PART_INKS[at] if at < len(PART_INKS) else REST_INK
