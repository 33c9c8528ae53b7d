"""Short ledgers inside a card: a mark, what it is, the middle words and the figure at the right."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark, mark_size, paint_disc, paint_mark
from beeledger.ui.widgets.painting import disc_size, fill, hairline, mark_rect, paint_text


@dataclass(frozen=True, slots=True)
class Fact:
    """One line. ``middle`` stands after the name, ``value`` at the right, ``second`` under the name."""

    name: str
    value: str = ""
    mark: Mark | None = None
    second: str = ""
    middle: str = ""
    disc: str = ""
    middle_disc: str = ""
    """A queen's disc before the middle words."""
    swatch: Token | None = None
    """A square in a chart's colour before the name: the key of a drawing above."""
    weight: int = 400
    ink: Token = "ink"
    value_ink: Token = "ink2"
    value_weight: int = 400
    tint: Token | None = None
    key: Hashable | None = None
    """A line with a key can be opened with Enter or a click."""

    def said(self) -> str:
        """What a screen reader says."""
        mark = self.mark.words if self.mark else ""
        return ", ".join(part for part in (mark, self.name, self.second, self.middle, self.value) if part)


class FactRows(QWidget):
    """Lines of facts; with ``marks`` every name keeps room for a mark before it."""

    opened = Signal(object)

    def __init__(
        self,
        facts: Sequence[Fact] = (),
        *,
        marks: bool = False,
        middle_at: int = 0,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._facts: tuple[Fact, ...] = ()
        self._marks = marks
        self._middle_at = middle_at
        self._at = -1
        self._hovered = -1
        self._splits: dict[tuple[float, int], int] = {}
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.say(facts)

    def say(self, facts: Sequence[Fact]) -> None:
        """Show other facts."""
        self._facts = tuple(facts)
        self._splits.clear()
        self._at = min(self._at, len(self._facts) - 1)
        opens = any(fact.key is not None for fact in self._facts)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if opens else Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("; ".join(fact.said() for fact in self._facts))
        self.updateGeometry()
        self.update()

    def facts(self) -> tuple[Fact, ...]:
        """What is shown."""
        return self._facts

    def sizeHint(self) -> QSize:
        return QSize(look.px(200), sum(self._height(fact) for fact in self._facts))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(120), self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        for at, (fact, rect) in enumerate(self._placed()):
            self._ground(painter, rect, fact, at)
            self._paint(painter, rect, fact)
        painter.end()

    def _ground(self, painter: QPainter, rect: QRect, fact: Fact, at: int) -> None:
        if fact.tint:
            fill(painter, rect, fact.tint)
            fill(painter, QRect(rect.left(), rect.top(), 3, rect.height()), fact.ink)
        elif at == self._at and self.hasFocus():
            fill(painter, rect, "accentsoft")
            fill(painter, QRect(rect.left(), rect.top(), 3, rect.height()), "accent")
        elif at == self._hovered and fact.key is not None:
            fill(painter, rect, "hover")
        inset = look.px(16)
        if at + 1 < len(self._facts):
            hairline(painter, rect.left() + inset, rect.bottom(), rect.width() - 2 * inset)

    def _paint(self, painter: QPainter, rect: QRect, fact: Fact) -> None:
        inset = look.px(16)
        room = rect.adjusted(inset, 0, -inset, -1)
        line = QRect(room.left(), room.top(), room.width(), room.height())
        below = self._goes_below(fact)
        if fact.second or below:
            line = QRect(room.left(), room.top() + look.px(3), room.width(), look.px(19))
        taken = look.metrics("small", fact.value_weight).horizontalAdvance(fact.value)
        paint_text(
            painter, line, fact.value, fact.value_ink,
            role="small", weight=fact.value_weight, align=Align.RIGHT,
        )  # fmt: skip
        indent = self._lead(painter, line, fact)
        words = line.adjusted(indent, 0, -taken - (look.px(8) if taken else 0), 0)
        if self._middle_at and fact.middle and not below:
            split = self._split(line.width())
            rest = QRect(line.left() + split, line.top(), words.right() - line.left() - split, line.height())
            words.setRight(min(words.right(), line.left() + split - look.px(6)))
            self._paint_middle(painter, rest, fact)
        paint_text(painter, words, fact.name, fact.ink, weight=fact.weight, shorten=True)
        under = QRect(line.left() + indent, line.bottom(), line.width() - indent, look.px(16))
        if below:
            self._paint_middle(painter, under, fact)
        elif fact.second:
            paint_text(painter, under, fact.second, "ink2", role="small", shorten=True)

    def _paint_middle(self, painter: QPainter, room: QRect, fact: Fact) -> None:
        if fact.middle_disc:
            paint_disc(painter, mark_rect(room.left(), room, disc_size()), fact.middle_disc)
        if any(each.middle_disc for each in self._facts):
            room.setLeft(room.left() + disc_size() + look.px(6))
        paint_text(painter, room, fact.middle, "ink2", role="small", shorten=True)

    def _goes_below(self, fact: Fact) -> bool:
        """Whether the middle words stand under the name: beside it they would be cut."""
        if not (self._middle_at and fact.middle) or fact.second:
            return False
        width = self.width() - 2 * look.px(16)
        return self._split(width) + self._rest_width(fact) > width

    def _height(self, fact: Fact) -> int:
        return look.px(41) if fact.second or self._goes_below(fact) else look.row_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.sizeHint().height() != self.height():
            self.updateGeometry()

    def _split(self, width: int) -> int:
        """Where the middle words begin: after the longest name, else at ``middle_at`` if they are not cut there.

        Measured once for a width and size of text: every line asks for it, at each painting.
        """
        size = (look.base_pt(), width)
        if size not in self._splits:
            self._splits[size] = self._measured_split(width)
        return self._splits[size]

    def _measured_split(self, width: int) -> int:
        named = [fact for fact in self._facts if fact.middle]
        least = min(max((self._name_width(fact) for fact in named), default=0), width * 2 // 3)
        rest = max((self._rest_width(fact) for fact in named), default=0)
        return max(least, min(look.px(self._middle_at), width - rest))

    def _name_width(self, fact: Fact) -> int:
        name = look.metrics("base", fact.weight).horizontalAdvance(fact.name)
        return self._indent(fact) + name + look.px(8)

    def _rest_width(self, fact: Fact) -> int:
        disc = disc_size() + look.px(6) if fact.middle_disc else 0
        value = look.metrics("small", fact.value_weight).horizontalAdvance(fact.value)
        return disc + look.metrics("small").horizontalAdvance(fact.middle) + value + look.px(10)

    def _indent(self, fact: Fact) -> int:
        if fact.disc and not fact.mark and not fact.swatch:
            return disc_size() + look.px(8)
        return mark_size() + look.px(9) if fact.mark or fact.swatch or self._marks else 0

    def _lead(self, painter: QPainter, line: QRect, fact: Fact) -> int:
        if fact.mark:
            paint_mark(painter, mark_rect(line.left(), line, mark_size()), fact.mark)
        elif fact.swatch:
            fill(painter, mark_rect(line.left(), line, mark_size()).toRect(), fact.swatch)
        elif fact.disc:
            paint_disc(painter, mark_rect(line.left(), line, disc_size()), fact.disc)
        return self._indent(fact)

    def _placed(self) -> list[tuple[Fact, QRect]]:
        placed, y = [], 0
        for fact in self._facts:
            height = self._height(fact)
            placed.append((fact, QRect(0, y, self.width(), height)))
            y += height
        return placed

    def _line_at(self, y: float) -> int:
        for at, (_fact, rect) in enumerate(self._placed()):
            if rect.top() <= y <= rect.bottom():
                return at
        return -1

    def _open(self, at: int) -> None:
        if 0 <= at < len(self._facts) and self._facts[at].key is not None:
            self.opened.emit(self._facts[at].key)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._hovered = self._line_at(event.position().y())
        opens = self._hovered >= 0 and self._facts[self._hovered].key is not None
        self.setCursor(Qt.CursorShape.PointingHandCursor if opens else Qt.CursorShape.ArrowCursor)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._hovered = -1
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._at = self._line_at(event.position().y())
        self._open(self._at)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
        if step is not None:
            self._at = max(0, min(len(self._facts) - 1, self._at + step))
            self.setAccessibleDescription(self._facts[self._at].said())
            self.update()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._open(self._at)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._at = max(0, self._at)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()
