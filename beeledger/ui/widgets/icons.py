"""Our own icons: strokes on a grid of sixteen, painted as paths so that they are sharp at any scale.

A drawing is a line of short orders: ``M x y`` move, ``L x y`` line, ``C`` a cubic curve by six
figures, ``Z`` close, ``O x y r`` a circle, ``R x y w h r`` a box with round corners.
An icon never stands without its word, except in the folded place list and on back and forward.
"""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QIconEngine, QPainter, QPainterPath, QPen, QPixmap

from beeledger.ui.widgets import look
from beeledger.ui.widgets.look import Token

GRID = 16.0
STROKE = 1.5

_DRAWINGS = {
    "today": "R 2 3 12 11 1.5 M 2 6.5 L 14 6.5 M 5 1.5 L 5 4 M 11 1.5 L 11 4 M 5.6 10.2 L 7.3 11.9 L 10.6 8.6",
    "rounds": "M 2 3.5 L 11 3.5 M 2 7 L 8 7 M 2 10.5 L 5.5 10.5 "
    "M 7.5 13.5 L 8.1 10.9 L 12.9 6.1 L 14.9 8.1 L 10.1 12.9 L 7.5 13.5",
    "sites": "M 8 14.5 C 5 11 3 8.8 3 6.4 C 3 3.6 5.2 1.5 8 1.5 C 10.8 1.5 13 3.6 13 6.4 C 13 8.8 11 11 8 14.5 Z "
    "O 8 6.4 1.7",
    "colonies": "R 3.5 2 9 3.6 0.6 R 3.5 5.6 9 3.6 0.6 R 3.5 9.2 9 3.6 0.6 M 2 14.2 L 14 14.2",
    "queens": "O 8 4.6 2.9 M 4 14.2 L 4 13.4 C 4 10.6 5.6 9.2 8 9.2 C 10.4 9.2 12 10.6 12 13.4 L 12 14.2 "
    "M 6.2 11.9 L 9.8 11.9",
    "harvest": "M 1.5 2.5 L 14.5 2.5 M 3 2.5 L 3 9.8 L 13 9.8 L 13 2.5 M 5.4 5 L 10.6 5 M 5.4 7.3 L 10.6 7.3 "
    "M 8 9.8 L 8 12 M 8 14.2 L 8 14.3",
    "batches": "R 4.6 1.5 6.8 2.7 0.6 M 5.2 4.2 C 3.6 5 3 5.8 3 7.2 L 3 13 C 3 13.9 3.6 14.5 4.5 14.5 "
    "L 11.5 14.5 C 12.4 14.5 13 13.9 13 13 L 13 7.2 C 13 5.8 12.4 5 10.8 4.2 M 5.6 8.6 L 10.4 8.6 M 5.6 11.2 L 8.6 11.2",
    "dispatch": "M 3 11.5 L 1.3 11.5 L 1.3 3.5 L 9.3 3.5 L 9.3 11.5 L 6.2 11.5 "
    "M 9.3 6.2 L 12.4 6.2 L 14.7 8.8 L 14.7 11.5 L 13.6 11.5 M 10.4 11.5 L 9.3 11.5 O 4.6 11.9 1.6 O 12 11.9 1.6",
    "pollination": "O 8 8 1.5 O 8 3.9 2.2 O 11.9 6.7 2.2 O 10.4 11.3 2.2 O 5.6 11.3 2.2 O 4.1 6.7 2.2",
    "moves": "M 2 5 L 14 5 M 10.9 1.9 L 14 5 L 10.9 8.1 M 14 11 L 2 11 M 5.1 7.9 L 2 11 L 5.1 14.1",
    "stock": "M 2 1.8 L 2 14.2 M 14 1.8 L 14 14.2 M 2 7.6 L 14 7.6 M 2 13.2 L 14 13.2 "
    "R 4.2 3.6 4 4 0.3 R 8 9.2 4 4 0.3",
    "medicines": "R 5.4 1.5 5.2 2.6 0.6 R 3.4 4.1 9.2 10.4 1.4 M 8 7 L 8 11.6 M 5.7 9.3 L 10.3 9.3",
    "reports": "M 9.4 1.5 L 4 1.5 C 3.4 1.5 3 1.9 3 2.5 L 3 13.5 C 3 14.1 3.4 14.5 4 14.5 L 12 14.5 "
    "C 12.6 14.5 13 14.1 13 13.5 L 13 5.1 Z M 9.4 1.5 L 9.4 5.1 L 13 5.1 M 5.6 8.4 L 10.4 8.4 M 5.6 11.2 L 10.4 11.2",
    "history": "O 8 8 6.4 M 8 4.2 L 8 8.3 L 10.7 9.8",
    "settings": "M 1.8 4.6 L 8.2 4.6 M 12.2 4.6 L 14.2 4.6 O 10.2 4.6 1.9 "
    "M 1.8 11.4 L 3.8 11.4 M 7.8 11.4 L 14.2 11.4 O 5.8 11.4 1.9",
    "search": "O 6.8 6.8 4.8 M 10.4 10.4 L 14.3 14.3",
    "filter": "M 1.5 4 L 14.5 4 M 4 8 L 12 8 M 6.4 12 L 9.6 12",
    "back": "M 10.4 2.8 L 5.2 8 L 10.4 13.2",
    "forward": "M 5.6 2.8 L 10.8 8 L 5.6 13.2",
    "undo": "M 5.6 2.4 L 2.4 5.6 L 5.6 8.8 M 2.4 5.6 L 9.8 5.6 C 12.2 5.6 13.8 7.3 13.8 9.5 "
    "C 13.8 11.7 12.2 13.4 9.8 13.4 L 6.4 13.4",
    "print": "M 4.4 5.6 L 4.4 1.8 L 11.6 1.8 L 11.6 5.6 M 4.4 11.6 L 2 11.6 L 2 5.6 L 14 5.6 L 14 11.6 L 11.6 11.6 "
    "M 4.4 9 L 11.6 9 L 11.6 14.2 L 4.4 14.2 Z",
    "plus": "M 8 2.8 L 8 13.2 M 2.8 8 L 13.2 8",
    "close": "M 3.8 3.8 L 12.2 12.2 M 12.2 3.8 L 3.8 12.2",
    "fold": "M 3.4 6 L 8 10.4 L 12.6 6",
    "unfold": "M 6 3.4 L 10.4 8 L 6 12.6",
}  # fmt: skip

NAMES = tuple(_DRAWINGS)


def icon_path(name: str) -> QPainterPath:
    """The strokes of an icon on the grid of sixteen; KeyError when there is no such icon."""
    return QPainterPath(_path(name))


def paint_icon(painter: QPainter, rect: QRectF, name: str, token: Token = "ink2") -> None:
    """Draw an icon in ``rect`` (a square) in the colour of ``token``."""
    _paint(painter, rect, name, look.current().colour(token))


def icon(name: str, token: Token = "ink2") -> QIcon:
    """An icon for a button or menu; it follows the look in force when it is painted."""
    return QIcon(_Strokes(name, token))


class _Strokes(QIconEngine):
    """Paints the strokes at whatever size and screen ratio is asked for."""

    def __init__(self, name: str, token: Token) -> None:
        super().__init__()
        self._name = name
        self._token: Token = token

    def paint(self, painter: QPainter, rect: QRect, mode: QIcon.Mode, _state: QIcon.State) -> None:
        token: Token = "ink3" if mode == QIcon.Mode.Disabled else self._token
        side = min(rect.width(), rect.height())
        place = QRectF(0, 0, side, side)
        place.moveCenter(QRectF(rect).center())
        paint_icon(painter, place, self._name, token)

    def pixmap(self, size: QSize, mode: QIcon.Mode, state: QIcon.State) -> QPixmap:
        pixmap = QPixmap(size)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        self.paint(painter, QRect(0, 0, size.width(), size.height()), mode, state)
        painter.end()
        return pixmap

    def clone(self) -> QIconEngine:
        return _Strokes(self._name, self._token)


def _paint(painter: QPainter, rect: QRectF, name: str, colour: QColor) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.topLeft())
    painter.scale(rect.width() / GRID, rect.height() / GRID)
    pen = QPen(colour, STROKE)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(_path(name))
    painter.restore()


@cache
def _path(name: str) -> QPainterPath:
    words = _DRAWINGS[name].split()
    path = QPainterPath()
    at = 0
    while at < len(words):
        order = words[at]
        count = {"M": 2, "L": 2, "C": 6, "Z": 0, "O": 3, "R": 5}[order]
        _stroke(path, order, [float(word) for word in words[at + 1 : at + 1 + count]])
        at += 1 + count
    return path


def _stroke(path: QPainterPath, order: str, n: list[float]) -> None:
    if order == "M":
        path.moveTo(n[0], n[1])
    elif order == "L":
        path.lineTo(n[0], n[1])
    elif order == "C":
        path.cubicTo(n[0], n[1], n[2], n[3], n[4], n[5])
    elif order == "Z":
        path.closeSubpath()
    elif order == "O":
        path.addEllipse(QPointF(n[0], n[1]), n[2], n[2])
    else:
        path.addRoundedRect(QRectF(n[0], n[1], n[2], n[3]), n[4], n[4])
