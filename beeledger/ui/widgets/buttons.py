"""Buttons: one main button in view, plain ones beside it, quiet ones for what is seldom wanted."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.icons import icon as drawn
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.words import Words

Kind = Literal["plain", "main", "quiet"]
_INK: dict[Kind, Token] = {"plain": "ink2", "main": "accentink", "quiet": "accent"}


class Button(QPushButton):
    """A button with its word, and an icon if it has one."""

    def __init__(
        self,
        text: str,
        act: Callable[[], object] | None = None,
        *,
        kind: Kind = "plain",
        icon: str = "",
        tip: str = "",
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(text, parent)
        self._kind: Kind = kind
        self.reason = ""
        self._reason_words: Words | None = None
        if kind != "plain":
            self.setProperty(kind, "true")
        self._icon = icon
        if icon:
            self.setIcon(drawn(icon, _INK[kind]))
        self.setToolTip(tip)
        self.setAutoDefault(False)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._dress()
        if act is not None:
            self.clicked.connect(lambda _checked=False: act())

    def become(self, kind: Kind) -> None:
        """Become a main, plain or quiet button: where several steps follow each other only the next is the main one."""
        if kind == self._kind:
            return
        self.setProperty(self._kind, None)
        self._kind = kind
        if kind != "plain":
            self.setProperty(kind, "true")
        self.style().unpolish(self)
        self.style().polish(self)
        if self._icon:
            self.setIcon(drawn(self._icon, _INK[kind]))
        self._dress()

    def off(self, reason: str) -> None:
        """Switch the button off and say why, in the sentence beside it and to screen readers."""
        if not reason:
            raise ValueError("a button that is off says why")
        self.reason = reason
        self.setEnabled(False)
        self.setToolTip(reason)
        self.setAccessibleDescription(reason)
        if self._reason_words is not None:
            self._reason_words.setText(reason)

    def on(self) -> None:
        """Switch the button on again."""
        self.reason = ""
        self.setEnabled(True)
        self.setToolTip("")
        self.setAccessibleDescription("")
        if self._reason_words is not None:
            self._reason_words.setText("")

    def say_reason_in(self, words: Words) -> None:
        """The label in which the reason stands while the button is off."""
        self._reason_words = words
        words.setText(self.reason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the focus: on some desktops only the space bar does."""
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if plain and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)

    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return QSize(hint.width(), look.px(28))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_kind"):
            self._dress()

    def _dress(self) -> None:
        weight = {"plain": 500, "main": 600, "quiet": 500}[self._kind]
        self.setFont(QFont(look.font("base", weight)))
        self.setIconSize(QSize(look.px(16), look.px(16)))
        self.updateGeometry()


class ButtonRow(QWidget):
    """Buttons side by side, 8 apart; the quiet ones among them stand where they are put."""

    def __init__(self, *buttons: Button, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.buttons = buttons
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.px(8))
        for button in buttons:
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)
        row.addStretch(1)
