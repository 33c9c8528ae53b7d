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
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
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
        width = sum(_width(figure) for figure in self._figures) + look.px(8)
        return QSize(width, self.heightForWidth(max(self.width(), self.minimumSizeHint().width())))

    def minimumSizeHint(self) -> QSize:
        return QSize(
            max((_width(figure) for figure in self._figures), default=0) + look.px(16), look.px(_HEIGHT)
        )

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return max(1, len(_lines(self._figures, width))) * look.px(_HEIGHT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, QRect(0, 0, self.width(), 1), "line5")
        for at, line in enumerate(_lines(self._figures, self.width())):
            self._paint_line(painter, at * look.px(_HEIGHT), line)
        painter.end()

    def _paint_line(self, painter: QPainter, y: int, line: Sequence[Figure]) -> None:
        x = look.px(8)
        taken = sum(_width(figure) for figure in line) + x
        spare = min(max(0, self.width() - taken) // max(1, len(line)), look.px(24))
        for at, figure in enumerate(line):
            if at:
                upright(painter, x, y + look.px(6), look.px(_HEIGHT - 12), "line")
            width = _width(figure) + spare
            self._paint(painter, QRect(x + look.px(8), y, width - look.px(8), look.px(_HEIGHT)), figure)
            x += width

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


def _lines(figures: Sequence[Figure], width: int) -> list[list[Figure]]:
    """The figures in as many lines as the width asks for: a figure is never cut."""
    lines: list[list[Figure]] = []
    x = width + 1
    for figure in figures:
        if x + _width(figure) > width:
            lines.append([])
            x = look.px(8)
        lines[-1].append(figure)
        x += _width(figure)
    return lines


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
