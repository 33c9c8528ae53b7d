"""What stands where nothing is yet: what is missing, what makes it appear, one quiet button."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.words import Words


class EmptyState(QWidget):
    """Three lines at the section's text inset; no picture."""

    def __init__(
        self,
        missing: str,
        appears: str = "",
        act_word: str = "",
        act: Callable[[], object] | None = None,
        *,
        inset: int = 35,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.missing = Words(missing, weight=600, wrap=True)
        self.appears = Words(appears, role="small", ink="ink2", wrap=True)
        self.button = Button(act_word, act, kind="quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(look.px(inset), look.px(8), look.px(16), look.px(12))
        column.setSpacing(look.px(3))
        column.addWidget(self.missing)
        column.addWidget(self.appears)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        self.say(missing, appears, act_word)

    def say(self, missing: str, appears: str = "", act_word: str = "") -> None:
        """Change the three lines."""
        self.missing.setText(missing)
        self.appears.setText(appears)
        self.appears.setVisible(bool(appears))
        self.button.setText(act_word)
        self.button.setVisible(bool(act_word))
        self.setAccessibleName(f"{missing}. {appears}".strip())

    def stand_for(self, *pieces: QWidget, nothing: bool) -> None:
        """Stand in place of ``pieces`` while there is nothing in them."""
        self.setVisible(nothing)
        for piece in pieces:
            piece.setVisible(not nothing)
