"""The quick line: one field for a whole visit, marks that are not read underlined, read back as it is typed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QMimeData, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QSyntaxHighlighter,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextOption,
)
from PySide6.QtWidgets import QPlainTextEdit, QSizePolicy, QWidget

from beeledger.rules.rounds.reading import Token
from beeledger.ui.places.rounds.keys import command_of
from beeledger.ui.widgets import look
from beeledger.ui.widgets.key_words import takes_back
from beeledger.ui.widgets.marks import Mark, mark_size, paint_mark
from beeledger.ui.widgets.painting import fill, mark_rect, paint_text, upright

_HEIGHT = 32


class Waves(QSyntaxHighlighter):
    """A wave under each mark that was not read."""

    def __init__(self, document: QTextDocument) -> None:
        super().__init__(document)
        self._places: tuple[tuple[int, int], ...] = ()

    def show_unread(self, tokens: Sequence[Token]) -> None:
        """Underline other marks."""
        places = tuple((token.start, token.end) for token in tokens)
        if places != self._places:
            self._places = places
            self.rehighlight()

    def highlightBlock(self, _text: str) -> None:
        shape = QTextCharFormat()
        shape.setForeground(QColor(look.current().now))
        shape.setUnderlineStyle(QTextCharFormat.UnderlineStyle.WaveUnderline)
        shape.setUnderlineColor(QColor(look.current().now))
        for start, end in self._places:
            self.setFormat(start, end - start, shape)


class QuickLine(QPlainTextEdit):
    """One line; Enter takes it, up and down walk, commands go to the pane."""

    typed = Signal(str)
    entered = Signal(bool)
    """Enter; True with Shift, which goes back."""
    walked = Signal(int)
    stretched = Signal(int)
    commanded = Signal(str)
    took_focus = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("rounds.quick")
        self.setAccessibleName("Quick line")
        self.waves = Waves(self.document())
        self.setUndoRedoEnabled(False)
        self.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        self.setWordWrapMode(QTextOption.WrapMode.NoWrap)
        self.setTabChangesFocus(True)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._quiet = False
        self._dress()
        self.textChanged.connect(self._changed)

    def text(self) -> str:
        """What stands in it."""
        return self.toPlainText()

    def show_text(self, text: str, unread: Sequence[Token] = ()) -> None:
        """Another line, without telling; the cursor goes to its end."""
        if text != self.toPlainText():
            self._quiet = True
            self.setPlainText(text)
            self.moveCursor(QTextCursor.MoveOperation.End)
            self._quiet = False
        self.waves.show_unread(unread)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        name = command_of(event)
        if name:
            self.commanded.emit(name)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit(shift)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            step = 1 if key == Qt.Key.Key_Down else -1
            (self.stretched if shift else self.walked).emit(step)
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self.walked.emit(10 if key == Qt.Key.Key_PageDown else -10)
        elif event.text() == "/" and not self.text().strip():
            self.commanded.emit("find")
        elif key == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            if command_of(event):
                event.accept()
                return True
            if takes_back(event):
                event.ignore()  # it is for the window
                return True
        return super().event(event)

    def insertFromMimeData(self, source: QMimeData) -> None:
        """Pasted line ends become blanks."""
        self.insertPlainText(" ".join(source.text().split()))

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.took_focus.emit()
        self.moveCursor(QTextCursor.MoveOperation.End)

    def sizeHint(self) -> QSize:
        return QSize(look.px(400), look.px(_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(200), look.px(_HEIGHT))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "waves"):
            self._dress()

    def _dress(self) -> None:
        self.setFont(look.font("quick", 500))
        self.document().setDocumentMargin(
            max(0, (look.px(_HEIGHT) - look.metrics("quick", 500).height() - 6) / 2)
        )
        self.setFixedHeight(look.px(_HEIGHT))
        if hasattr(self, "waves"):
            self.waves.rehighlight()

    def _changed(self) -> None:
        if not self._quiet:
            self.typed.emit(self.toPlainText())


class ReadBack(QWidget):
    """Below the line: name over value, parted by hairlines; the last block says what is wrong."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("rounds.readback")
        self._blocks: tuple[tuple[str, str], ...] = ()
        self._wrong: tuple[str, str] = ("", "")
        self._mark: Mark | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def say(
        self, blocks: Sequence[tuple[str, str]], wrong: str = "", mend: str = "", mark: Mark | None = None
    ) -> None:
        """Show other blocks; ``wrong`` and ``mend`` are the two lines of the last one."""
        self._blocks, self._wrong, self._mark = tuple(blocks), (wrong, mend), mark
        told = [f"{name} {value}" for name, value in blocks] + [part for part in (wrong, mend) if part]
        self.setAccessibleName(", ".join(told))
        self.update()

    def text(self) -> str:
        """What it says, in one line."""
        return self.accessibleName()

    def sizeHint(self) -> QSize:
        return QSize(look.px(300), look.px(34))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(100), look.px(34))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "paper")
        half = self.height() // 2
        end = self._paint_wrong(painter, half)
        left = 0
        for at, (name, value) in enumerate(self._blocks):
            wide = self._width(name, value)
            if left + wide > end:
                paint_text(painter, QRect(left, half, end - left, half), "…", "ink2", shorten=True)
                break
            if at:
                upright(painter, left, look.px(2), self.height() - look.px(4))
                left += look.px(9)
            room = QRect(left, 0, wide, half)
            paint_text(painter, room, name, "ink2", role="small")
            paint_text(painter, room.translated(0, half), value, "ink", weight=600, shorten=True)
            left += wide - look.px(9)
        painter.end()

    def _paint_wrong(self, painter: QPainter, half: int) -> int:
        """What is wrong stands behind the other blocks and keeps its room; gives where they must end."""
        wrong, mend = self._wrong
        if not wrong and not mend:
            return self.width()
        indent = mark_size() + look.px(8) if self._mark is not None else 0
        bold, small = look.metrics("base", 600), look.metrics("small")
        need = indent + max(bold.horizontalAdvance(wrong), small.horizontalAdvance(mend)) + look.px(10)
        others = sum(self._width(name, value) for name, value in self._blocks)
        left = max(0, min(others, self.width() - need))
        if self._blocks:
            upright(painter, left, look.px(2), self.height() - look.px(4))
            left += look.px(9)
        if self._mark is not None:
            paint_mark(painter, mark_rect(left, QRect(left, 0, 10, half), mark_size()), self._mark)
        ink: look.Token = self._mark.token if self._mark else "ink"
        room = QRect(left + indent, 0, self.width() - left - indent, half)
        paint_text(painter, room, wrong, ink, weight=600, shorten=True)
        paint_text(painter, room.translated(0, half), mend, "ink2", role="small", shorten=True)
        return max(0, left - look.px(9))

    @staticmethod
    def _width(name: str, value: str) -> int:
        upper = look.metrics("small").horizontalAdvance(name)
        return max(upper, look.metrics("base", 600).horizontalAdvance(value)) + look.px(18)
