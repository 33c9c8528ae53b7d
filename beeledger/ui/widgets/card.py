"""The card beside a table: title with identity, one line of facts, acts, then sections that fold."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QScrollArea, QVBoxLayout, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.flow import Flow
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.section import Section
from beeledger.ui.widgets.words import RunWords, Words


class CardHead(QWidget):
    """Title 20 px, identity beside it, facts under it, acts as plain buttons."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = Words(role="card", weight=600)
        self.identity = RunWords(wrap=True)
        self.facts = Words(role="small", ink="ink2", wrap=True)
        self._acts = Flow(gap=6)
        self._acts.hide()
        self._off = Words(role="small", ink="ink3", wrap=True)
        self._off.hide()
        top = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        top.setSpacing(look.px(16))
        top.addWidget(self.title)
        top.addWidget(self.identity, 1)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(look.px(16), look.px(10), look.px(8), look.px(10))
        column.setSpacing(look.px(1))
        column.addLayout(top)
        column.addWidget(self.facts)
        column.addSpacing(look.px(6))
        column.addWidget(self._acts)
        column.addWidget(self._off)
        self._top = top
        self._beside: tuple[Button, ...] = ()
        self._tight = False

    def say(self, title: str, identity: Sequence[Run] = (), facts: str = "") -> None:
        """Change the words."""
        self.title.setText(title)
        self.identity.say(identity)
        self.identity.setVisible(bool(identity or self._beside))
        self._fit()
        self.facts.setText(facts)
        self.facts.setVisible(bool(facts))

    def say_off(self, reason: str) -> None:
        """Under the acts: why some of them are off; blank when all are on."""
        self._off.setText(reason[:1].upper() + reason[1:])
        self._off.setVisible(bool(reason))

    def set_acts(self, *buttons: Button, last: Button | None = None) -> None:
        """The acts in a row that goes on below where the card is narrow; ``last`` is a quiet one."""
        self._acts.set_widgets(*buttons, *([last] if last is not None else []))
        self._acts.show()

    def set_acts_beside(self, *buttons: Button) -> None:
        """Few acts stand at the right of the title instead."""
        self._beside = buttons
        self.identity.show()  # what stands between keeps them at the right
        for button in buttons:
            self._top.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)
        self._fit()

    def _fit(self) -> None:
        """Title, identity and acts stand one under the other where they have no room side by side."""
        margins = self._column.contentsMargins()
        beside = [*([self.identity] if self.identity.text() else []), *self._beside]
        least = sum(piece.sizeHint().width() + look.px(16) for piece in beside)
        title = look.metrics("card", 600).horizontalAdvance(self.title.text())
        tight = title + least > self.width() - margins.left() - margins.right()
        self.title.setWordWrap(tight or not beside)
        if tight != self._tight:
            self._tight = tight
            way = QBoxLayout.Direction
            self._top.setDirection(way.TopToBottom if tight else way.LeftToRight)
            self._top.setSpacing(look.px(2 if tight else 16))
            for button in self._beside:
                align = Qt.AlignmentFlag.AlignLeft if tight else Qt.AlignmentFlag.AlignVCenter
                self._top.setAlignment(button, align)
            QTimer.singleShot(0, self, self._lay_out_again)  # a layout under way hears of no other height

    def _lay_out_again(self) -> None:
        self._column.invalidate()
        self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        """Never wider than the card: a title that asked for its whole width would move what it is fitted to."""
        return QSize(look.px(200), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_top"):
            QTimer.singleShot(0, self, self._fit)  # when every word has its new size

    def event(self, event: QEvent) -> bool:
        """Other words are fitted when the layout is made for them."""
        if event.type() == QEvent.Type.LayoutRequest and hasattr(self, "_top"):
            self._fit()
        return super().event(event)


class Card(QWidget):
    """A head that stays, sections that scroll under it, and a foot if the card has a main act."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.head = CardHead()
        self.sections: dict[str, Section] = {}
        self.inside = Stack()
        self.inside.column.addStretch(1)
        self._scroll = QScrollArea()
        self._scroll.setWidget(self.inside)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self.head)
        self._column.addWidget(self._scroll, 1)
        self.setMinimumWidth(look.px(260))

    def say(self, title: str, identity: Sequence[Run] = (), facts: str = "") -> None:
        """The words of the head."""
        self.head.say(title, identity, facts)
        self.setAccessibleName(title)

    def add(self, piece: QWidget) -> None:
        """Put a piece (key figures, a section) under what stands there."""
        self.inside.column.insertWidget(self.inside.column.count() - 1, piece)

    def section(
        self, key: str, title: str, body: QWidget | None = None, summary: str = "", *, inset: int = 0
    ) -> Section:
        """A new section under the others, kept by its key."""
        made = Section(title, body, summary, inset=inset)
        made.setObjectName(key)
        self.sections[key] = made
        self.add(made)
        return made

    def set_foot(self, foot: QWidget) -> None:
        """The band with the main button."""
        self._column.addWidget(foot)

    def clear(self) -> None:
        """Take everything out of the scrolling part."""
        self.sections.clear()
        layout = self.inside.column
        while layout.count() > 1:
            item = layout.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def show_section(self, key: str) -> None:
        """Unfold a section and scroll to it."""
        self.sections[key].fold(shut=False)
        self._scroll.ensureWidgetVisible(self.sections[key])

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "inside"):
            self.setMinimumWidth(look.px(260))
