"""State marks and queen discs: drawn, not typed, told apart by shape alone.

A mark never stands without its word; ``Mark.words`` is what a screen reader says for it.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from beeledger.ui.widgets import look
from beeledger.ui.widgets.look import Token


class Mark(Enum):
    """What a state mark means: its name, its colour token and the words spoken for it."""

    LATE = ("late", "now", "late")
    CANNOT = ("cannot", "now", "cannot be true")
    AGAINST = ("against", "watch", "against the record")
    TODAY = ("today", "watch", "due")
    ODD = ("odd", "watch", "odd, look at it")
    SOON = ("soon", "ink3", "soon")
    HELD = ("held", "now", "held")
    MET = ("met", "good", "met")
    ADVICE = ("advice", "info", "advice")

    @property
    def token(self) -> Token:
        """The colour token of the mark."""
        return self.value[1]

    @property
    def words(self) -> str:
        """What a screen reader says for the mark."""
        return self.value[2]


MARK_SIZE = 10.0
"""Side of a mark in a row at the base size of 13 px."""


def mark_size() -> int:
    """Side of a mark in a row, following the text size."""
    return look.px(MARK_SIZE)


def paint_mark(painter: QPainter, rect: QRectF, mark: Mark, token: Token | None = None) -> None:
    """Draw ``mark`` filling ``rect`` (a square); ``token`` overrides its own colour."""
    colour = look.current().colour(token or mark.token)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.topLeft())
    painter.scale(rect.width() / MARK_SIZE, rect.height() / MARK_SIZE)
    _DRAWN[mark](painter, colour)
    painter.restore()


def paint_disc(painter: QPainter, rect: QRectF, word: str) -> None:
    """Draw the disc of a queen's marking colour, named by its word, with its outline.

    KeyError when the word is none of the five of the international code.
    """
    fill = QColor(look.QUEEN_MARKS[word])
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(look.current().colour("ink2"), 1.25))
    painter.setBrush(fill)
    painter.drawEllipse(rect.adjusted(0.625, 0.625, -0.625, -0.625))
    painter.restore()


def _triangle(inset: float = 0.0) -> QPainterPath:
    path = QPainterPath(QPointF(5, 0.6 + inset * 1.9))
    path.lineTo(10 - inset * 1.6, 9.5 - inset)
    path.lineTo(inset * 1.6, 9.5 - inset)
    path.closeSubpath()
    return path


def _stroke(painter: QPainter, colour: QColor, width: float) -> None:
    pen = QPen(colour, width)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _late(painter: QPainter, colour: QColor) -> None:
    painter.fillPath(_triangle(), colour)


def _cannot(painter: QPainter, colour: QColor) -> None:
    hole = QPainterPath()
    hole.addRect(QRectF(4.2, 3.2, 1.6, 3.2))
    hole.addRect(QRectF(4.2, 7.1, 1.6, 1.5))
    painter.fillPath(_triangle().subtracted(hole), colour)


def _against(painter: QPainter, colour: QColor) -> None:
    _stroke(painter, colour, 1.3)
    painter.drawPath(_triangle(0.65))


def _today(painter: QPainter, colour: QColor) -> None:
    painter.fillRect(QRectF(1, 1, 8, 8), colour)


def _odd(painter: QPainter, colour: QColor) -> None:
    _stroke(painter, colour, 1.4)
    path = QPainterPath(QPointF(5, 0.9))
    for x, y in ((9.1, 5), (5, 9.1), (0.9, 5)):
        path.lineTo(x, y)
    path.closeSubpath()
    painter.drawPath(path)


def _soon(painter: QPainter, colour: QColor) -> None:
    _stroke(painter, colour, 1.4)
    painter.drawEllipse(QRectF(1.1, 1.1, 7.8, 7.8))


def _held(painter: QPainter, colour: QColor) -> None:
    _stroke(painter, colour, 1.5)
    painter.drawEllipse(QRectF(0.85, 0.85, 8.3, 8.3))
    painter.drawLine(QPointF(2.3, 7.7), QPointF(7.7, 2.3))


def _met(painter: QPainter, colour: QColor) -> None:
    _stroke(painter, colour, 1.7)
    path = QPainterPath(QPointF(1.0, 5.4))
    path.lineTo(3.9, 8.3)
    path.lineTo(9.2, 2.0)
    painter.drawPath(path)


def _advice(painter: QPainter, colour: QColor) -> None:
    _stroke(painter, colour, 1.2)
    painter.drawEllipse(QRectF(0.7, 0.7, 8.6, 8.6))
    painter.fillRect(QRectF(4.4, 4.4, 1.2, 3.2), colour)
    painter.fillRect(QRectF(4.4, 2.4, 1.2, 1.2), colour)


_DRAWN: dict[Mark, Callable[[QPainter, QColor], None]] = {
    Mark.LATE: _late,
    Mark.CANNOT: _cannot,
    Mark.AGAINST: _against,
    Mark.TODAY: _today,
    Mark.ODD: _odd,
    Mark.SOON: _soon,
    Mark.HELD: _held,
    Mark.MET: _met,
    Mark.ADVICE: _advice,
}
