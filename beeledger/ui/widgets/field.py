"""A field with its label above and room for a message below, kept so that nothing jumps."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import QComboBox, QLineEdit, QPlainTextEdit, QSizePolicy, QVBoxLayout, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import RunWords, Words

State = Literal["", "now", "watch"]
_MARKS: dict[State, Mark | None] = {"": None, "now": Mark.CANNOT, "watch": Mark.ODD}


class MessageLine(RunWords):
    """Where fields say what is wrong; its room is kept while nothing is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(shorten=True, parent=parent)
        self._told: dict[QWidget, tuple[State, str]] = {}

    def tell(self, field: QWidget, state: State, sentence: str) -> None:
        """Take a field's sentence, or take it away when it is empty; what cannot be true comes first."""
        self._told.pop(field, None)
        if sentence:
            self._told[field] = (state, sentence)
        worst_first = sorted(self._told.values(), key=lambda told: ("now", "watch", "").index(told[0]))
        self.say(
            [
                Run(words, grade or "ink2", mark=_MARKS[grade], small=True, gap=12)
                for grade, words in worst_first
            ]
        )


class Field(QWidget):
    """Label, input, message. The border and the message say the same thing in the state's colour.

    ``field.say("now", "31 Feb is no day. Type a day that is")`` marks it; ``field.clear_message()``
    takes that back. Without ``message`` no room is kept.
    """

    changed = Signal(str)

    def __init__(
        self,
        label: str,
        value: str = "",
        *,
        editor: QWidget | None = None,
        prompt: str = "",
        unit: str = "",
        width: int = 0,
        message: bool = True,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.state: State = ""
        self._sentence = ""
        self._units = width
        self.editor: QWidget = editor if editor is not None else QLineEdit()
        self._label = Words(f"{label}, {unit}" if unit else label, role="small", ink="ink2")
        self._label.setBuddy(self.editor)
        self._message = MessageLine(self)
        self._message.setVisible(message)
        self.editor.setAccessibleName(f"{label}, {unit}" if unit else label)
        self._lay_out()
        self._prepare(prompt)
        self.set_value(value)

    def value(self) -> str:
        """What stands in the field, without blanks at the ends."""
        if isinstance(self.editor, QLineEdit):
            return self.editor.text().strip()
        if isinstance(self.editor, QComboBox):
            typed = self.editor.currentText().strip()
            if self.editor.isEditable() and typed != self.editor.itemText(self.editor.currentIndex()):
                return typed  # words of one's own have no key
            data = self.editor.currentData()
            return str(data) if data is not None else typed
        if isinstance(self.editor, QPlainTextEdit):
            return self.editor.toPlainText().strip()
        return str(self.editor.property("value") or "")

    def set_value(self, value: str) -> None:
        """Put ``value`` into the field; in a choice it is the key."""
        if isinstance(self.editor, QLineEdit):
            self.editor.setText(value)
        elif isinstance(self.editor, QComboBox):
            at = self.editor.findData(value)
            if at >= 0:
                self.editor.setCurrentIndex(at)
            elif self.editor.isEditable():
                self.editor.setEditText(value)
        elif isinstance(self.editor, QPlainTextEdit):
            self.editor.setPlainText(value)

    def say(self, state: State, sentence: str) -> None:
        """Mark the field: what is wrong, then how to mend it."""
        self.state = state
        self._sentence = sentence
        self._message.tell(self, state, sentence)
        self.editor.setProperty("state", state)
        self.editor.setAccessibleDescription(sentence)
        self.editor.style().unpolish(self.editor)
        self.editor.style().polish(self.editor)

    def clear_message(self) -> None:
        """No message any more."""
        self.say("", "")

    def message(self) -> str:
        """The message that stands below the field."""
        return self._sentence

    def rename(self, label: str) -> None:
        """Say anew what is wanted here."""
        self._label.setText(label)
        self.editor.setAccessibleName(label)

    def say_in(self, line: MessageLine) -> None:
        """Say the messages in a line shared with the fields beside this one."""
        self._message.hide()
        self._message = line

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.px(2))
        column.addWidget(self._label)
        column.addWidget(self.editor)
        column.addWidget(self._message)
        self.setFocusProxy(self.editor)
        policy = QSizePolicy.Policy.Fixed if self._units else QSizePolicy.Policy.Expanding
        self.setSizePolicy(policy, QSizePolicy.Policy.Fixed)
        self.editor.setSizePolicy(policy, self.editor.sizePolicy().verticalPolicy())
        column.setAlignment(self.editor, Qt.AlignmentFlag.AlignLeft if self._units else Qt.AlignmentFlag(0))

    def _prepare(self, prompt: str) -> None:
        self._fit()
        if isinstance(self.editor, QLineEdit):
            self.editor.setPlaceholderText(prompt)
            self.editor.textChanged.connect(self.changed)
        elif isinstance(self.editor, QComboBox):
            self.editor.currentTextChanged.connect(self.changed)
        elif isinstance(self.editor, QPlainTextEdit):
            self.editor.setPlaceholderText(prompt)
            self.editor.setTabChangesFocus(True)
            self.editor.textChanged.connect(lambda: self.changed.emit(self.value()))

    def _fit(self) -> None:
        if self._units:
            self.editor.setFixedWidth(look.px(self._units))
        if isinstance(self.editor, QLineEdit | QComboBox):
            self.editor.setFixedHeight(look.px(28))
        elif isinstance(self.editor, QPlainTextEdit):
            self.editor.setFixedHeight(look.px(64))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(self._units or 80), super().minimumSizeHint().height())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_sentence"):
            self._fit()


def note_editor() -> QPlainTextEdit:
    """A field of several lines for a ``Field``."""
    return QPlainTextEdit()


def checked(field: Field, check: Callable[[str], str]) -> None:
    """Say ``check``'s sentence under the field as it is typed; an empty sentence clears it."""

    def look_at(_text: str) -> None:
        sentence = check(field.value())
        field.say("now" if sentence else "", sentence)

    field.changed.connect(look_at)
