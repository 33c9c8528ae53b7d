"""The words of the trade inside the help panel: a field that filters, and what each word means here."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLineEdit, QScrollArea

from beeledger.base.text import counted
from beeledger.queries.glossary import words_like
from beeledger.queries.records.glossary import WordMeant
from beeledger.ui.frame.help_text import HelpText
from beeledger.ui.widgets import look
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.words import Words


class WordsPane(Stack):
    """All words, or those that fit what is typed."""

    def __init__(self) -> None:
        super().__init__(ground="sunk")
        self.setObjectName("help.words")
        self.title = Words("Words we use", role="place", weight=600)
        self.filter = Field("Word", prompt="heft, supersedure, lot mark", message=False)
        self.filter.setObjectName("help.words.filter")
        self.filter.editor.setObjectName("help.words.filter.typed")
        self.count = Words(role="small", ink="ink2")
        self.text = HelpText()
        self.text.setAlignment(Qt.AlignmentFlag.AlignTop)
        inside = Stack(self.text, ground="sunk")
        inside.column.addStretch(1)
        self.roll = QScrollArea()
        self.roll.setWidget(inside)
        self.roll.setWidgetResizable(True)
        self.roll.setFrameShape(QFrame.Shape.NoFrame)
        self.roll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.column.setContentsMargins(look.px(16), look.px(12), look.px(16), look.px(8))
        self.column.setSpacing(look.px(6))
        for piece in (self.title, self.filter, self.count):
            self.add(piece)
        self.add(self.roll, 1)
        self.filter.changed.connect(self._say)
        self.setFocusProxy(self.filter)

    def ask(self, word: str) -> None:
        """Show what fits a word; all words where it is empty."""
        self.filter.set_value(word)
        self._say(word)

    def come(self) -> None:
        """Take the keys: what stands in the field is typed over."""
        self.filter.setFocus(Qt.FocusReason.ShortcutFocusReason)
        if isinstance(self.filter.editor, QLineEdit):
            self.filter.editor.selectAll()

    def shown(self) -> list[WordMeant]:
        """The words that fit what is typed."""
        return words_like(self.filter.value())

    def _say(self, _typed: str) -> None:
        found = self.shown()
        self.count.setText(counted(len(found), "word") if found else "No word of that name")
        self.text.setText("".join(_entry(one) for one in found))
        self.roll.verticalScrollBar().setValue(0)


def _entry(one: WordMeant) -> str:
    also = f" ({escape(', '.join(one.also))})" if one.also else ""
    return f"<p><b>{escape(one.word)}</b>{also}<br>{escape(one.meaning)}<br>Met in {escape(one.where)}.</p>"
