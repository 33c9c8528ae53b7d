"""The pedigree drawn: the subject at the left, older to the right, the dam's side always above.

Dam side: solid line, square box. Drone side: dashed line, two cut corners, "drones of" over the box. An
empty dashed box says which kind of unknown it is. Arrow keys walk through the boxes, Enter goes to a queen.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.queries.records.pedigree import HEADS, Pedigree, box_lines
from beeledger.rules.pedigree import Box
from beeledger.ui.parts.queen_mark import queen_disc
from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import paint_disc
from beeledger.ui.widgets.painting import disc_size, fill, mark_rect, paint_text

_PAD, _GAP, _CUT = 16, 24, 8
_BOX, _OVER, _HEAD = 44, 17, 34
_NARROWEST = 158


class PedigreeDrawing(QWidget):
    """One queen's pedigree. ``opened`` tells the id of a queen whose box was chosen, ``walked`` where one stands."""

    opened = Signal(object)
    walked = Signal(QRect)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.pedigree: Pedigree | None = None
        self._at = 0
        self.setObjectName("queens.pedigree.drawing")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("Pedigree")

    def show_pedigree(self, pedigree: Pedigree | None) -> None:
        """Draw another queen's; the same queen keeps the box one stands at."""
        if pedigree is None or self.pedigree is None or pedigree.subject != self.pedigree.subject:
            self._at = 0
        self.pedigree = pedigree
        self.setAccessibleDescription(said(pedigree) if pedigree else "no queen chosen")
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return self.minimumSizeHint()

    def minimumSizeHint(self) -> QSize:
        columns = 1 + (self.pedigree.generations if self.pedigree else 0)
        wide = 2 * _PAD + columns * _NARROWEST + (columns - 1) * _GAP
        deepest = max((box.generation for box in self.pedigree.boxes), default=0) if self.pedigree else 0
        return QSize(look.px(wide), look.px(_HEAD + (1 << deepest) * (_BOX + _OVER) + _PAD))

    def rect_of(self, box: Box) -> QRect:
        """Where a box stands."""
        columns = 1 + (self.pedigree.generations if self.pedigree else 0)
        pad, gap = look.px(_PAD), look.px(_GAP)
        width = (self.width() - 2 * pad - (columns - 1) * gap) // columns
        room = self.height() - look.px(_HEAD) - pad
        middle = look.px(_HEAD) + round(room * box.height) + (look.px(_OVER) // 2 if box.drone_side else 0)
        high = look.px(_BOX)
        return QRect(pad + box.generation * (width + gap), middle - high // 2, width, high)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        if self.pedigree is not None:
            self._paint_heads(painter)
            for box in self.pedigree.boxes:
                self._paint_line(painter, box)
            for box in self.pedigree.boxes:
                self._paint_box(painter, box)
        painter.end()

    def _paint_heads(self, painter: QPainter) -> None:
        generations = self.pedigree.generations if self.pedigree else 0
        for generation in range(min(generations + 1, len(HEADS))):
            place = self.rect_of(Box(generation, 0))
            room = QRect(place.left(), look.px(8), place.width(), look.px(18))
            paint_text(painter, room, HEADS[generation], "ink2", role="small", shorten=True)

    def _paint_line(self, painter: QPainter, box: Box) -> None:
        if not box.generation:
            return
        child = self.rect_of(Box(box.generation - 1, box.place // 2))
        own = self.rect_of(box)
        x = child.right() + look.px(_GAP) // 3 * (2 if box.drone_side else 1)
        start, end = child.center().y() + (2 if box.drone_side else -2), own.center().y()
        painter.setPen(_pen("ink2", 1.0, dashed=box.drone_side))
        painter.drawPolyline(
            [QPointF(child.right() + 1, start), QPointF(x, start), QPointF(x, end), QPointF(own.left(), end)]
        )

    def _paint_box(self, painter: QPainter, box: Box) -> None:
        assert self.pedigree is not None
        rect = self.rect_of(box)
        shared = self.pedigree.is_shared(box)
        here = self.hasFocus() and box == self._current()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        token: Token = (
            "accent"
            if here or not box.generation
            else "watch"
            if shared
            else "edge"
            if box.unknown
            else "ink2"
        )
        width = 2.0 if here or not box.generation else 1.5 if shared else 1.0
        painter.setPen(_pen(token, width, dashed=box.unknown is not None))
        ground: Token = "sunk" if box.unknown else "paper" if box.generation else "accentsoft"
        painter.setBrush(look.current().colour(ground))
        painter.drawPolygon(_outline(rect, cut=box.drone_side))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
        inside = rect.adjusted(look.px(10), look.px(3), -look.px(8), -look.px(3))
        if box.unknown is not None:
            paint_text(painter, inside, box.unknown.value, "ink2", role="small", shorten=True)
            return
        if box.drone_side:
            over = QRect(inside.left(), rect.top() - look.px(_OVER), inside.width(), look.px(_OVER))
            paint_text(painter, over, "drones of", "ink2", role="small")
        self._paint_words(painter, inside, box)

    def _paint_words(self, painter: QPainter, inside: QRect, box: Box) -> None:
        assert self.pedigree is not None
        name, year, below = box_lines(self.pedigree, box)
        if not box.generation and self.pedigree.mated_how:
            below = f"mated {self.pedigree.mated_how}"
        queens = self.pedigree.queens(box)
        disc = queen_disc(queens[0].year, queens[0].marked) if len(queens) == 1 else ""
        upper = QRect(inside.left(), inside.top(), inside.width(), inside.height() // 2)
        lower = upper.translated(0, inside.height() - upper.height())
        taken = paint_text(painter, upper, disc or year, "ink2", role="small", align=Align.RIGHT)
        if disc:
            paint_disc(painter, mark_rect(upper.left(), upper, disc_size()), disc)
            upper.setLeft(upper.left() + disc_size() + look.px(7))
        upper.setRight(upper.right() - taken - look.px(6))
        paint_text(painter, upper, name, "ink", weight=600, shorten=len(queens) > 1)
        paint_text(painter, lower, below, "ink2", role="small", shorten=True)

    def _walkable(self) -> list[Box]:
        return [box for box in self.pedigree.boxes if box.queen_ids] if self.pedigree else []

    def _current(self) -> Box | None:
        boxes = self._walkable()
        return boxes[min(self._at, len(boxes) - 1)] if boxes else None

    def _walk(self, key: Qt.Key) -> bool:
        here, boxes = self._current(), self._walkable()
        if here is None:
            return False
        column = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(key, 0)
        if column:
            near = [box for box in boxes if box.generation == here.generation + column]
        else:
            below = key == Qt.Key.Key_Down
            near = [
                box for box in boxes
                if box.generation == here.generation and (box.place > here.place if below else box.place < here.place)
            ]  # fmt: skip
        if near:
            nearest = min(near, key=lambda box: abs(box.height - here.height))
            self._at = boxes.index(nearest)
            self.walked.emit(self.rect_of(nearest))
            self.setAccessibleDescription(box_said(self.pedigree, nearest) if self.pedigree else "")
            self.update()
        return True

    def _open(self, box: Box | None) -> None:
        if box is not None and box.queen_ids:
            self.opened.emit(box.queen_ids[0])

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        boxes = self._walkable()
        for at, box in enumerate(boxes):
            if self.rect_of(box).contains(event.position().toPoint()):
                self._at = at
                self._open(box)
                return

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down) and self._walk(key):
            return
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self._current())
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


def said(pedigree: Pedigree) -> str:
    """The whole drawing as a screen reader says it."""
    return "; ".join(box_said(pedigree, box) for box in pedigree.boxes)


def box_said(pedigree: Pedigree, box: Box) -> str:
    """One box in words: which generation, which side, who or why nobody."""
    side = "" if not box.generation else "drone side, " if box.drone_side else "dam, "
    if box.unknown is not None:
        return f"{HEADS[box.generation]}, {side}{box.unknown.value}"
    queens = pedigree.queens(box)
    words = [
        " ".join(part for part in (queen_disc(one.year, one.marked), one.words) if part) for one in queens
    ]
    shared = ", on both sides" if pedigree.is_shared(box) else ""
    return (
        f"{HEADS[box.generation]}, {side}{'drones of ' if box.drone_side else ''}{', '.join(words)}{shared}"
    )


def _pen(token: Token, width: float, *, dashed: bool) -> QPen:
    pen = QPen(look.current().colour(token), width)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if dashed:
        pen.setDashPattern([4, 3])
    return pen


def _outline(rect: QRect, *, cut: bool) -> QPolygonF:
    edge = QRectF(rect).adjusted(0.5, 0.5, -0.5, -0.5)
    if not cut:
        return QPolygonF(edge)
    off = look.px(_CUT)
    return QPolygonF([
        QPointF(edge.left() + off, edge.top()), edge.topRight(), edge.bottomRight(),
        QPointF(edge.left() + off, edge.bottom()), QPointF(edge.left(), edge.bottom() - off),
        QPointF(edge.left(), edge.top() + off), QPointF(edge.left() + off, edge.top()),
    ])  # fmt: skip
