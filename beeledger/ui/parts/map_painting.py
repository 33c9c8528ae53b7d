"""What is drawn of the map's ground: grid, circle, scale bar, the house."""

from __future__ import annotations

from math import sqrt

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from beeledger.ui.parts.map_ground import Ground, bar_m, grid_figure, grid_lines, square_letters
from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.painting import fill, hairline, paint_text, upright


def radius(colonies: int) -> float:
    """Half the side of a shape: it grows with the square root of the colonies."""
    return look.px(2) + 0.85 * look.px(10) / 10 * sqrt(min(colonies, 150))


def paint_grid(painter: QPainter, ground: Ground, *, lettered: bool) -> None:
    """The lines of the grid, with their figures and the letters of the square."""
    lines = grid_lines(ground, look.px(9))
    kinds: tuple[tuple[Token, tuple[tuple[int, ...], tuple[int, ...]]], ...] = (
        ("line", lines.fine),
        ("line5", lines.firm),
    )
    for token, (easts, norths) in kinds:
        for east in easts:
            upright(painter, round(ground.pixel(east, 0)[0]), 0, ground.height, token)
        for north in norths:
            hairline(painter, 0, round(ground.pixel(0, north)[1]), ground.width, token)
    if not lettered:
        return
    tall = look.px(16)
    for east in lines.firm[0]:
        x = round(ground.pixel(east, 0)[0])
        if look.px(24) < x < ground.width - look.px(20):
            place = QRect(x - look.px(14), ground.height - tall - 2, look.px(28), tall)
            paint_text(painter, place, grid_figure(east), "ink3", role="small", align=Align.CENTRE)
    for north in lines.firm[1]:
        y = round(ground.pixel(0, north)[1])
        if look.px(24) < y < ground.height - look.px(20):
            place = QRect(look.px(5), y - tall // 2, look.px(24), tall)
            paint_text(painter, place, grid_figure(north), "ink3", role="small")
    paint_text(painter, QRect(look.px(5), look.px(3), look.px(40), tall), square_letters(ground), "ink3", role="small", weight=600)  # fmt: skip


def paint_circle(
    painter: QPainter, ground: Ground, spot: tuple[float, float], metres: int, word: str = ""
) -> None:
    """A dashed circle of so many metres around a spot, with its word; one that bears a name is drawn whole."""
    x, y = ground.pixel(*spot)
    far = metres / ground.metres_a_pixel
    token: Token = "now" if word else "accent"
    pen = QPen(look.current().colour(token), 1)
    if not word:
        pen.setDashPattern([4, 3])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(QPointF(x, y), far, far)
    place = circle_word(ground, spot, metres, word)
    fill(painter, place, "sunk")
    paint_text(painter, place.adjusted(look.px(3), 0, 0, 0), _circle_words(metres, word), token, role="small")


def _circle_words(metres: int, word: str) -> str:
    far = f"{metres / 1000:g} km"
    return f"{word} {far}" if word else far


def circle_word(ground: Ground, spot: tuple[float, float], metres: int, word: str = "") -> QRect:
    """Where the word of a circle stands, which no label may cover: at its left, with a name under it."""
    x, y = ground.pixel(*spot)
    far = metres / ground.metres_a_pixel
    wide = look.metrics("small").horizontalAdvance(_circle_words(metres, word))
    middle_x, middle_y = (x, y + far) if word else (x - far, y)
    return QRect(
        round(middle_x) - wide // 2 - look.px(3), round(middle_y) - look.px(8), wide + look.px(6), look.px(16)
    )


def paint_bar(painter: QPainter, ground: Ground) -> None:
    """The scale bar at the bottom right."""
    length = bar_m(ground, look.px(96))
    wide = round(length / ground.metres_a_pixel)
    right, y = ground.width - look.px(20), ground.height - look.px(28)
    for part in range(4):
        token: Token = "ink2" if part % 2 == 0 else "line5"
        x = right - wide + part * wide // 4
        fill(painter, QRect(x, y, (part + 1) * wide // 4 - part * wide // 4, look.px(4)), token)
    line = QRect(right - wide - look.px(10), y - look.px(18), wide + look.px(20), look.px(16))
    paint_text(painter, line.adjusted(look.px(6), 0, 0, 0), "0", "ink2", role="small")
    words = f"{length // 1000} km" if length >= 1000 else f"{length} m"
    paint_text(painter, line.adjusted(0, 0, look.px(4), 0), words, "ink2", role="small", align=Align.RIGHT)


def paint_house(painter: QPainter, x: float, y: float, size: float) -> None:
    """The farm's home."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(look.current().colour("ink"))
    roof = [QPointF(x - size, y), QPointF(x, y - size), QPointF(x + size, y)]
    painter.drawPolygon(QPolygonF(roof))
    painter.drawRect(QRectF(x - size * 0.68, y - 1, size * 1.36, size * 0.9))
