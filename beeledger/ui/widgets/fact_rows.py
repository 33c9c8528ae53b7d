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
from beeledger.ui.widgets.wrapping import wrapped


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


_NAME = 19
"""Height of a line of a name where there is more than one line."""
_SMALL = 16


@dataclass(frozen=True, slots=True)
class _Laid:
    """The lines of a fact: nothing of it is cut, it goes on below."""

    names: list[str]
    seconds: list[str]
    under: int
    """Small lines under the name: the second ones or the middle words."""
    values: list[str]
    """The figure, where it has no room beside the name."""
    below: bool

    @property
    def lines(self) -> int:
        return len(self.names) + self.under + len(self.values)


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
        self._lays: dict[Fact, _Laid] = {}
        self._laid_at: tuple[float, int] | None = None
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.say(facts)

    def say(self, facts: Sequence[Fact]) -> None:
        """Show other facts."""
        self._facts = tuple(facts)
        self._splits.clear()
        self._lays.clear()
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
        laid = self._laid(fact)
        line = room
        if laid.lines > 1:
            line = QRect(room.left(), room.top() + look.px(3), room.width(), look.px(_NAME))
        indent = self._lead(painter, line, fact)
        if not laid.below and self._middle_at and fact.middle:
            split = self._split(line.width())
            rest = line.adjusted(split, 0, -self._value_width(fact), 0)
            self._paint_middle(painter, rest, fact)
        words = line.adjusted(indent, 0, 0, 0)
        for at, text in enumerate(laid.names):
            place = words.translated(0, at * look.px(_NAME))
            paint_text(painter, place, text, fact.ink, weight=fact.weight, shorten=True)
        under = QRect(words.left(), line.bottom(), words.width(), look.px(_SMALL))
        under.translate(0, (len(laid.names) - 1) * look.px(_NAME))
        if laid.below:
            self._paint_middle(painter, under, fact)
        else:
            self._paint_lines(painter, under, laid.seconds, "ink2")
        value = line if not laid.values else under.translated(0, laid.under * look.px(_SMALL))
        shown = laid.values or [fact.value]
        self._paint_lines(painter, value, shown, fact.value_ink, weight=fact.value_weight, align=Align.RIGHT)

    def _paint_lines(
        self,
        painter: QPainter,
        room: QRect,
        lines: Sequence[str],
        ink: Token,
        *,
        weight: int = 400,
        align: Align = Align.LEFT,
    ) -> None:
        for at, text in enumerate(lines):
            place = room.translated(0, at * look.px(_SMALL))
            paint_text(painter, place, text, ink, role="small", weight=weight, align=align, shorten=True)

    def _paint_middle(self, painter: QPainter, room: QRect, fact: Fact) -> None:
        if fact.middle_disc:
            paint_disc(painter, mark_rect(room.left(), room, disc_size()), fact.middle_disc)
        if any(each.middle_disc for each in self._facts):
            room.setLeft(room.left() + disc_size() + look.px(6))
        lines = wrapped(fact.middle, room.width(), role="small") if self._goes_below(fact) else [fact.middle]
        self._paint_lines(painter, room, lines, "ink2")

    def _laid(self, fact: Fact) -> _Laid:
        """How a line is broken: names beside the figure, small words below, a long figure last."""
        size = (look.base_pt(), self.width())
        if size != self._laid_at:
            self._laid_at = size
            self._lays.clear()
        if fact not in self._lays:
            self._lays[fact] = self._measured(fact)
        return self._lays[fact]

    def _measured(self, fact: Fact) -> _Laid:
        whole = self.width() - 2 * look.px(16)
        inside = whole - self._indent(fact)
        below = self._goes_below(fact)
        beside = inside - self._value_width(fact)
        if self._middle_at and fact.middle and not below:
            beside = min(beside, self._split(whole) - self._indent(fact) - look.px(6))
        name = self._name_width(fact) - self._indent(fact) - look.px(8)
        values: list[str] = []
        if name > beside and beside < inside * 2 // 5:
            values, beside = wrapped(fact.value, inside, role="small", weight=fact.value_weight), inside
        disc = disc_size() + look.px(6) if any(each.middle_disc for each in self._facts) else 0
        small = fact.middle if below else fact.second
        smalls = wrapped(small, inside - (disc if below else 0), role="small") if small else []
        names = wrapped(fact.name, beside, weight=fact.weight)
        return _Laid(names, [] if below else smalls, len(smalls), values, below=below)

    def _value_width(self, fact: Fact) -> int:
        taken = look.metrics("small", fact.value_weight).horizontalAdvance(fact.value)
        return taken + look.px(8) if taken else 0

    def _goes_below(self, fact: Fact) -> bool:
        """Whether the middle words stand under the name: beside it they would be cut."""
        if not (self._middle_at and fact.middle) or fact.second:
            return False
        width = self.width() - 2 * look.px(16)
        return self._split(width) + self._rest_width(fact) > width

    def _height(self, fact: Fact) -> int:
        laid = self._laid(fact)
        if laid.lines == 1:
            return look.row_height()
        smalls = laid.under + len(laid.values)
        return look.px(6) + len(laid.names) * look.px(_NAME) + smalls * look.px(_SMALL)

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
