"""Key figures in one row: name, figure with its unit and mark, where and when it comes from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QRect, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark, mark_size, paint_mark
from beeledger.ui.widgets.painting import fill, mark_rect, paint_text, upright

_HEIGHT = 70


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure. Blank ``value`` means not known; ``source`` says counted, hefted, from which drum."""

    name: str
    value: str
    unit: str = ""
    source: str = ""
    mark: Mark | None = None
    ink: Token = "ink"


class KeyFigures(QWidget):
    """The row of figures at the top of a card."""

    def __init__(self, figures: Sequence[Figure] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._figures: tuple[Figure, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.say(figures)

    def say(self, figures: Sequence[Figure]) -> None:
        """Show other figures."""
        self._figures = tuple(figures)
        self.setAccessibleName("Key figures")
        self.setAccessibleDescription("; ".join(_spoken(figure) for figure in figures))
        self.updateGeometry()
        self.update()

    def figures(self) -> tuple[Figure, ...]:
        """What is shown."""
        return self._figures

    def sizeHint(self) -> QSize:
        return QSize(sum(_width(figure) for figure in self._figures), look.px(_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, QRect(0, 0, self.width(), 1), "line5")
        x = look.px(8)
        spare = max(0, self.width() - self.sizeHint().width()) // max(1, len(self._figures))
        for at, figure in enumerate(self._figures):
            if at:
                upright(painter, x, look.px(6), self.height() - look.px(12), "line")
            width = _width(figure) + min(spare, look.px(40))
            self._paint(painter, QRect(x + look.px(8), 0, width - look.px(8), self.height()), figure)
            x += width
        painter.end()

    def _paint(self, painter: QPainter, rect: QRect, figure: Figure) -> None:
        line = look.px(19)
        top = rect.top() + look.px(7)
        paint_text(painter, _line(rect, top, line), figure.name, "ink2", role="small")
        middle = _line(rect, top + line - look.px(1), look.px(22))
        x = paint_text(painter, middle, figure.value, figure.ink, role="place", weight=600)
        if figure.unit and figure.value:
            place = middle.adjusted(x + look.px(4), look.px(2), 0, 0)
            x += look.px(4) + paint_text(painter, place, figure.unit, "ink2", role="small")
        if figure.mark:
            left = rect.left() + x + look.px(8)
            paint_mark(painter, mark_rect(left, middle.adjusted(0, 2, 0, 0), mark_size()), figure.mark)
        last = _line(rect, top + line + look.px(20), line)
        paint_text(painter, last, figure.source, "ink3", role="small")

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


def _line(rect: QRect, top: int, height: int) -> QRect:
    return QRect(rect.left(), top, rect.width(), height)


def _width(figure: Figure) -> int:
    small = look.metrics("small")
    middle = look.metrics("place", 600).horizontalAdvance(figure.value)
    if figure.unit:
        middle += look.px(4) + small.horizontalAdvance(figure.unit)
    if figure.mark:
        middle += look.px(8) + mark_size()
    lines = (small.horizontalAdvance(figure.name), middle, small.horizontalAdvance(figure.source))
    return max(lines) + look.px(18)


def _spoken(figure: Figure) -> str:
    value = f"{figure.value} {figure.unit}".strip() if figure.value else "not known"
    parts = [f"{figure.name} {value}", figure.source, figure.mark.words if figure.mark else ""]
    return ", ".join(part for part in parts if part)
