"""Paragraphs of help in rich text, in the ink and size of the look."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel

from beeledger.ui.widgets import look


class HelpText(QLabel):
    """Paragraphs in rich text, in the ink and size of the look."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("help.text")
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.RichText)
        self._dress()

    def _dress(self) -> None:
        self.setFont(look.font())
        palette = QPalette(self.palette())
        palette.setColor(QPalette.ColorRole.WindowText, look.current().colour("ink"))
        self.setPalette(palette)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self._dress()
