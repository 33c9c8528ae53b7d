"""F1: what the place in front is for, its chords, and the chords that work everywhere."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QRect, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QScrollArea,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from beeledger.ui.desk.place import Place
from beeledger.ui.frame.help_text import HelpText
from beeledger.ui.frame.top_line import HEIGHT as TOP
from beeledger.ui.frame.top_line import paint_key
from beeledger.ui.frame.words_pane import WordsPane
from beeledger.ui.widgets import look
from beeledger.ui.widgets.painting import fill, paint_text
from beeledger.ui.widgets.words import Words

EVERYWHERE = (
    ("Ctrl K", "find anything on the farm"), ("Ctrl F", "filter the table in front"),
    ("Ctrl N", "new"), ("Ctrl E", "edit"), ("Ctrl P", "print"), ("Ctrl S", "save the paper in front"),
    ("Ctrl Enter", "post or save"),
    ("Ctrl Z", "take back typing, else the last act"), ("Ctrl Shift Z", "take back the last act"),
    ("Alt Left", "back"), ("Alt Right", "forward"), ("Ctrl PgDown", "next place"), ("Ctrl PgUp", "place before"),
    ("F1", "this help; again: words we use"), ("Shift F1", "words we use"), ("Ctrl Q", "close"),
)  # fmt: skip
"""The chords of the window. ``Ctrl N``, ``E``, ``P`` and ``Enter`` mean what the place in front makes of them."""
CAUTION = "What the program says is advice. The label of a medicine, local law and the bee inspector stand above it."
WIDTH = 360


class KeyRows(QWidget):
    """Keys in their boxes, and beside each what it does."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[tuple[str, str], ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def say(self, rows: Sequence[tuple[str, str]]) -> None:
        """Show these keys."""
        self._rows = tuple(rows)
        self.setAccessibleName("; ".join(f"{keys}: {words}" for keys, words in self._rows))
        self.updateGeometry()
        self.update()

    def _row(self) -> int:
        return look.px(26)

    def sizeHint(self) -> QSize:
        return QSize(look.px(200), self._row() * len(self._rows))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        metrics = look.metrics("small")
        column = max((metrics.horizontalAdvance(keys) for keys, _words in self._rows), default=0) + look.px(
            24
        )
        for number, (keys, words) in enumerate(self._rows):
            top, height = number * self._row(), look.px(20)
            box = QRect(0, top + look.px(3), metrics.horizontalAdvance(keys) + look.px(14), height)
            paint_key(painter, box, keys)
            room = QRect(column, top, self.width() - column, self._row())
            paint_text(painter, room, words, "ink2", role="small", shorten=True)
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


class _Sheet(QWidget):
    """The inside of the panel, on its sunk ground."""

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        painter.end()


class HelpPanel(QWidget):
    """A sheet at the right of the window; Escape folds it away, F1 again shows the words."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._window = parent
        self._place: Place | None = None
        self._from: QWidget | None = None
        self.setObjectName("help")
        self.title = Words(role="place", weight=600)
        self.text = HelpText()
        self.own_head = Words("In this place", weight=600)
        self.own = KeyRows()
        self.everywhere = KeyRows()
        self.everywhere.say(EVERYWHERE)
        self.words = WordsPane()
        self._pages = QStackedWidget()
        self._caution = Words(CAUTION, role="small", ink="ink2", wrap=True)
        self._lay_out()
        parent.installEventFilter(self)
        self.hide()

    def toggle(self, place: Place) -> None:
        """Show the help of a place; from there the words; from there fold it away."""
        if self.isVisible() and self._pages.currentWidget() is self.words:
            self.fold()
        elif self.isVisible():
            self.show_words(place)
        else:
            self._show_place(place)

    def show_words(self, place: Place, word: str = "") -> None:
        """Show what a word means; all words where none is asked for."""
        self._come(place, "Words we use")
        self.words.ask(word)
        self._pages.setCurrentWidget(self.words)
        self.words.come()

    def _come(self, place: Place, name: str) -> None:
        if not self.isVisible():
            self._place = place
            self._from = QApplication.focusWidget()
        self.setAccessibleName(f"Help: {name}")
        self.fit()
        self.show()
        self.raise_()

    def _show_place(self, place: Place) -> None:
        self.title.setText(place.title)
        self.text.setText(place.help_text())
        own = [(action.shortcut().toString().replace("+", " "), action.text()) for action in place.commands()]
        self.own.say(own)
        self.own_head.setVisible(bool(own))
        self.own.setVisible(bool(own))
        self._come(place, place.title)
        self._pages.setCurrentWidget(self._scroll)
        self._scroll.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def fold(self) -> None:
        """Fold it away; the keys go back to where they were, in the place."""
        had_keys = self.isAncestorOf(self.focusWidget() or self)
        self.hide()
        if not had_keys or self._place is None:
            return
        came, self._from = self._from, None
        there = came is not None and isValid(came) and came.isVisible() and self._place.isAncestorOf(came)
        (came if came is not None and there else self._place).setFocus(Qt.FocusReason.OtherFocusReason)

    def fit(self) -> None:
        """Stand at the right of the window, below the top line and above the status line."""
        parent = self._window
        width, top = min(look.px(WIDTH), parent.width()), look.px(TOP)
        self.setGeometry(parent.width() - width, top, width, parent.height() - top - look.px(24))

    def _lay_out(self) -> None:
        sheet = _Sheet()
        column = QVBoxLayout(sheet)
        column.setContentsMargins(look.px(16), look.px(12), look.px(16), look.px(16))
        column.setSpacing(look.px(6))
        column.addWidget(self.title)
        column.addWidget(self.text)
        column.addSpacing(look.px(8))
        column.addWidget(self.own_head)
        column.addWidget(self.own)
        column.addSpacing(look.px(8))
        column.addWidget(Words("Everywhere", weight=600))
        column.addWidget(self.everywhere)
        column.addSpacing(look.px(8))
        column.addWidget(self._caution)
        column.addStretch(1)
        self._scroll = QScrollArea()
        self._scroll.setWidget(sheet)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        around = QVBoxLayout(self)
        around.setContentsMargins(1, 0, 0, 0)
        self._pages.addWidget(self._scroll)
        self._pages.addWidget(self.words)
        around.addWidget(self._pages)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, QRect(0, 0, 1, self.height()), "line5")
        painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape folds it away."""
        if event.key() == Qt.Key.Key_Escape:
            self.fold()
        else:
            super().keyPressEvent(event)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        """Keep to the right when the window changes its size."""
        if event.type() == QEvent.Type.Resize and self.isVisible():
            self.fit()
        return False
