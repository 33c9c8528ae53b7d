"""The one place that asks questions. Everything modal in the program is here."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QVBoxLayout,
    QWidget,
)

from beeledger.ui.desk.desk import FileQuestion, Question
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.words import Words


class AskBox(QDialog):
    """A question with its answers; Escape is none of them."""

    def __init__(self, question: Question, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("ask")
        self.setWindowTitle(question.title)
        self.setAccessibleDescription(question.text)
        self.answer: str | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(look.px(16), look.px(16), look.px(16), look.px(16))
        column.setSpacing(look.px(12))
        column.addWidget(Words(question.title, role="place", weight=600))
        text = Words(question.text, wrap=True)
        text.setMinimumWidth(look.px(380))
        column.addWidget(text)
        row = QHBoxLayout()
        row.setSpacing(look.px(8))
        row.addStretch()
        for number, word in enumerate(question.answers):
            button = Button(word, kind="main" if number == 0 else "plain")
            button.setObjectName(f"ask.{number}")
            button.setAutoDefault(True)
            button.clicked.connect(lambda _checked=False, word=word: self._choose(word))
            if number == 0:
                button.setDefault(True)
                button.setFocus()
            row.addWidget(button)
        column.addLayout(row)

    def _choose(self, word: str) -> None:
        self.answer = word
        self.accept()


def ask(question: Question, parent: QWidget) -> None:
    """Put a question; its ``then`` gets the answer when the box closes."""
    box = AskBox(question, parent)

    def closed(_result: int) -> None:
        question.then(box.answer)
        box.deleteLater()

    box.finished.connect(closed)
    box.open()


def ask_file(question: FileQuestion, parent: QWidget) -> None:
    """Ask for a file with the desktop's own dialog."""
    dialog = QFileDialog(parent, question.title, question.suggested, question.pattern)
    dialog.setObjectName("ask.file")
    if question.save:
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.selectFile(question.suggested)
    else:
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)

    def closed(result: int) -> None:
        files = dialog.selectedFiles() if result else []
        question.then(Path(files[0]) if files else None)
        dialog.deleteLater()

    dialog.finished.connect(closed)
    dialog.open()
