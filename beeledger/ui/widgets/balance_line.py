"""The balance line: in = out + out + left, with its verdict in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QRect, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align, Run
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.painting import fill, paint_runs, paint_text, runs_width

_GAP = 14
_HIGH, _VERDICT = 46, 22


@dataclass(frozen=True, slots=True)
class Part:
    """One figure of the line: the sign before it, the figure, its unit, what it is and its detail."""

    value: str
    name: str
    unit: str = ""
    detail: str = ""
    sign: str = ""


class BalanceLine(QWidget):
    """Reads as a sum. ``met`` and the sentence say whether it balances, or by how much not."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._parts: tuple[Part, ...] = ()
        self._verdict: tuple[Run, ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName("Balance")

    def say(self, parts: Sequence[Part], verdict: str, *, met: bool) -> None:
        """Show the sum and what comes of it."""
        self._parts = tuple(parts)
        mark = Mark.MET if met else Mark.LATE
        self._verdict = (Run(verdict, mark.token, 600, mark=mark, small=True),) if verdict else ()
        words = " ".join(f"{part.sign} {part.value} {part.unit} {part.name}" for part in self._parts)
        self.setAccessibleDescription(" ".join(f"{words}; {verdict}".split()))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._sum_width() + runs_width(self._verdict) + look.px(48), look.px(_HIGH))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._sum_width() + look.px(16), look.px(_HIGH))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        """Where the verdict has no room beside the sum it stands under it."""
        return look.px(_HIGH if width >= self.sizeHint().width() else _HIGH + _VERDICT)

    def _sum_width(self) -> int:
        return sum(_sign_width(part) + _width(part) + look.px(_GAP) for part in self._parts)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        fill(painter, QRect(0, 0, self.width(), 1), "line5")
        fill(painter, QRect(0, self.height() - 1, self.width(), 1), "line5")
        x = look.px(16)
        for part in self._parts:
            x += self._paint_part(painter, x, part) + look.px(_GAP)
        pad = look.px(16)
        if self.width() >= self.sizeHint().width():
            room = QRect(x, 0, max(0, self.width() - x - pad), self.height())
            paint_runs(painter, room, self._verdict, align=Align.RIGHT)
        else:
            under = QRect(pad, look.px(_HIGH - 4), self.width() - 2 * pad, look.px(_VERDICT))
            paint_runs(painter, under, self._verdict)
        painter.end()

    def _paint_part(self, painter: QPainter, x: int, part: Part) -> int:
        lead = _sign_width(part)
        width = _width(part)
        upper = QRect(x + lead, look.px(4), width + 1, look.px(20))
        lower = QRect(x + lead, look.px(23), width + 1, look.px(17))
        if part.sign:
            place = QRect(x, look.px(4), look.px(12), look.px(_HIGH - 8))
            paint_text(painter, place, part.sign, "ink3")
        taken = paint_text(painter, upper, part.value, "ink", role="quick", weight=600)
        rest = upper.adjusted(taken + look.px(4), 1, 0, 0)
        paint_text(painter, rest, part.unit, "ink2", role="small")
        name = paint_text(painter, lower, part.name, "ink2", role="small")
        detail = lower.adjusted(name + look.px(8), 0, 0, 0)
        if part.detail:
            paint_text(painter, detail, part.detail, "ink2", role="small")
        return lead + width

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


def _sign_width(part: Part) -> int:
    return look.px(12 + _GAP) if part.sign else 0


def _width(part: Part) -> int:
    small = look.metrics("small")
    upper = look.metrics("quick", 600).horizontalAdvance(part.value)
    upper += look.px(4) + small.horizontalAdvance(part.unit)
    lower = small.horizontalAdvance(part.name)
    if part.detail:
        lower += look.px(8) + small.horizontalAdvance(part.detail)
    return max(upper, lower)
