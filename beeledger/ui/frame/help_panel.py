"""F1: what the place in front is for, its chords, and the chords that work everywhere."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QTextBrowser, QVBoxLayout, QWidget

from beeledger.ui.desk.place import Place
from beeledger.ui.widgets import look

EVERYWHERE = (
    ("Ctrl K", "find anything on the farm"), ("Ctrl F", "filter the table in front"),
    ("Ctrl N", "new"), ("Ctrl E", "edit"), ("Ctrl P", "print"), ("Ctrl Enter", "post or save"),
    ("Ctrl Shift Z", "take back the last act"), ("Alt Left, Alt Right", "back and forward"),
    ("Ctrl PageUp, Ctrl PageDown", "through the places"), ("F1", "this help"), ("Ctrl Q", "close"),
)  # fmt: skip


class HelpPanel(QWidget):
    """A sheet at the right of the window; Escape or F1 folds it away."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._window = parent
        self.setObjectName("help")
        self.text = QTextBrowser()
        self.text.setOpenLinks(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.text)
        self.hide()

    def toggle(self, place: Place) -> None:
        """Show the help of a place, or fold it away."""
        if self.isVisible():
            self.hide()
            place.setFocus()
            return
        self.text.setHtml(_page(place))
        self.fit()
        self.show()
        self.raise_()
        self.text.setFocus()

    def fit(self) -> None:
        """Stand at the right of the window, below the top line."""
        parent = self._window
        width = look.px(360)
        top = look.px(48)
        self.setGeometry(parent.width() - width, top, width, parent.height() - top - look.px(24))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape folds it away."""
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
        else:
            super().keyPressEvent(event)


def _page(place: Place) -> str:
    own = [(action.shortcut().toString().replace("+", " "), action.text()) for action in place.commands()]
    return (
        f"<h3>{escape(place.title)}</h3>{place.help_text()}"
        f"{_chords('In this place', own) if own else ''}{_chords('Everywhere', EVERYWHERE)}"
        "<p>What the program says is advice. Labels of medicines, local law and the bee inspector stand above it.</p>"
    )


def _chords(title: str, chords: Iterable[tuple[str, str]]) -> str:
    rows = "".join(
        f"<tr><td><b>{escape(keys)}</b>&nbsp;&nbsp;</td><td>{escape(words)}</td></tr>"
        for keys, words in chords
    )
    return f"<h4>{escape(title)}</h4><table cellspacing='2'>{rows}</table>"
