"""What every place of the window is: a widget that knows what it shows and when it is stale."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QAbstractButton, QVBoxLayout, QWidget

from beeledger.operations.act import Done
from beeledger.ui.desk.desk import Desk


class Place(QWidget):
    """One entry of the list on the left.

    Subclasses set ``key`` and ``title``, build their widgets in ``__init__(desk)`` and fill them in
    ``refresh``; ``show_what`` goes to something in it. ``reads`` names the tables that make it stale.
    """

    key: ClassVar[str] = ""
    title: ClassVar[str] = ""
    reads: ClassVar[frozenset[str]] = frozenset({"*"})
    subtitle_changed = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.stale = True
        self.subtitle = ""
        self._chords: list[QAction] = []
        self.setObjectName(self.key)

    def refresh(self) -> None:
        """Read anew what is shown; called when the place comes to the front stale, and on changes."""

    def show_what(self, what: object) -> None:
        """Go to something in this place."""

    def commands(self) -> list[QAction]:
        """The place's own commands with their chords, for the menu and for F1."""
        return list(self._chords)

    def command(
        self,
        keys: str,
        words: str,
        act: Callable[[], object] | None = None,
        button: QAbstractButton | None = None,
    ) -> None:
        """Do ``act`` at a chord while the keys are in this place, and at a button; told of in F1.

        Without an act the chord is only told of: a form of the place listens to it itself.
        """
        action = QAction(words, self)
        action.setShortcut(QKeySequence(keys))
        self._chords.append(action)
        if act is None:
            return
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.triggered.connect(lambda _checked=False: act())
        self.addAction(action)
        if button is not None:
            button.clicked.connect(lambda _checked=False: act())

    def fill(self, *pieces: QWidget) -> None:
        """Fill the place with pieces one under another; the last takes what room there is."""
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for piece in pieces:
            column.addWidget(piece)
        column.setStretchFactor(pieces[-1], 1)

    def help_text(self) -> str:
        """What F1 tells of this place, in plain sentences (rich text)."""
        return ""

    def leave(self) -> bool:
        """Asked before the place goes to the back or the window closes; False keeps it in front."""
        return True

    def set_subtitle(self, text: str) -> None:
        """What is shown, beside the title in the top line."""
        self.subtitle = text
        self.subtitle_changed.emit(text)

    def heard(self, done: Done) -> None:
        """An act was done somewhere: refresh in front, mark stale behind."""
        if "*" in self.reads or "*" in done.touched or self.reads & done.touched:
            self.stale = True
            if self.isVisible():
                self.stale = False
                self.refresh()

    def come_to_front(self) -> None:
        """Refresh when stale."""
        if self.stale:
            self.stale = False
            self.refresh()
