"""The line at the top: back and forward, where you are, the search field, the last act and its undo."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, QSize, Qt, QTimer, Signal, SignalInstance
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QToolButton, QWidget

from beeledger.ui.desk.desk import Saying
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.icons import icon, paint_icon
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.words import Words

HEIGHT = 48
FRESH_MS = 6000
_TONES: dict[str, Token] = {"done": "ink2", "note": "ink2", "watch": "watch", "now": "now"}


class SearchField(QLineEdit):
    """The one search field, with its icon inside and its chord beside it."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("search")
        self.setPlaceholderText("Hive, site, queen, lot mark, grower")
        self.setAccessibleName("Search the whole farm")
        self.setTextMargins(look.px(24), 0, 0, 0)

    def sizeHint(self) -> QSize:
        """As in the pictures: 300 at the base size."""
        return QSize(look.px(300), look.px(28))

    def paintEvent(self, event: QPaintEvent) -> None:
        """The field, then its icon."""
        super().paintEvent(event)
        painter = QPainter(self)
        side = look.px(15)
        paint_icon(painter, QRectF(look.px(9), (self.height() - side) / 2, side, side), "search")


class Said(QLabel):
    """The last thing done or said; a fresh one tints the line for a while."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("said")
        self.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.fresh = False
        self._whole = ""
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._settle)

    def tell(self, text: str, tone: str) -> None:
        """Show ``text`` in its tone, fresh for six seconds, announced to screen readers."""
        self._whole = text
        palette = self.palette()
        palette.setColor(self.foregroundRole(), look.current().colour(_TONES[tone]))
        self.setPalette(palette)
        self.setToolTip(text)
        self.setAccessibleName(text)
        self.fresh = True
        self._timer.start(FRESH_MS)
        self._fit()

    def _settle(self) -> None:
        self.fresh = False
        parent = self.parentWidget()
        if parent is not None:
            parent.update()

    def _fit(self) -> None:
        self.setText(
            self.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, max(40, self.width()))
        )

    def resizeEvent(self, event: object) -> None:
        """Shorten the sentence to the room there is; the whole is in the tooltip."""
        self._fit()
        super().resizeEvent(event)  # type: ignore[arg-type]  # Qt's event, passed on as it came


class TopLine(QWidget):
    """Where you are and what was done last."""

    went_back = Signal()
    went_forward = Signal()
    undo_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("top")
        self.back = self._arrow("back", "Back", self.went_back)
        self.forward = self._arrow("forward", "Forward", self.went_forward)
        self.title = Words(role="place", weight=600)
        self.subtitle = Words(ink="ink2")
        self.search = SearchField()
        self.chord = QLabel("Ctrl K")
        self.said = Said()
        self.undo = Button("Undo", kind="quiet", icon="undo")
        self.undo.setObjectName("undo")
        self.undo.clicked.connect(self.undo_wanted)
        self.undo.hide()
        self._lay_out()

    def set_place(self, title: str, subtitle: str) -> None:
        """The place in front and what of it is shown."""
        self.title.setText(title)
        self.subtitle.setText(subtitle)
        self.subtitle.setToolTip(subtitle)

    def set_ways(self, *, back: bool, forward: bool) -> None:
        """Whether there is anywhere to go back or forward to."""
        self.back.setEnabled(back)
        self.forward.setEnabled(forward)

    def show_done(self, sentence: str, *, can_undo: bool) -> None:
        """The last act in words, with its undo."""
        self.said.tell(sentence, "done")
        self.undo.setVisible(can_undo)
        self.update()

    def show_saying(self, saying: Saying) -> None:
        """Something said: a sentence and how to mend it."""
        self.said.tell(f"{saying.text} {saying.remedy}".strip(), saying.tone)
        self.update()

    def redress(self) -> None:
        """Take the look and text size in force."""
        self.said.setFont(look.font("small"))
        self.search.setFont(look.font())
        self.chord.setFont(look.font("small"))
        self.chord.setStyleSheet(
            f"border: 1px solid {look.current().line5}; border-radius: 3px; padding: 1px 5px; color: {look.current().ink2};"
        )
        self.chord.setFixedHeight(look.px(20))
        self.setFixedHeight(look.px(HEIGHT))
        for arrow, name in ((self.back, "back"), (self.forward, "forward")):
            arrow.setIcon(icon(name))

    def _arrow(self, name: str, word: str, signal: SignalInstance) -> QToolButton:
        arrow = QToolButton()
        arrow.setIcon(icon(name))
        arrow.setAutoRaise(True)
        arrow.setToolTip(f"{word} (Alt+{'Left' if name == 'back' else 'Right'})")
        arrow.setAccessibleName(word)
        arrow.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        arrow.clicked.connect(signal)
        return arrow

    def _lay_out(self) -> None:
        line = QHBoxLayout(self)
        line.setContentsMargins(look.px(10), 0, look.px(12), 0)
        line.setSpacing(look.px(6))
        for part in (self.back, self.forward, self.title):
            line.addWidget(part)
        line.addSpacing(look.px(6))
        line.addWidget(self.subtitle, 3)
        line.addWidget(self.search)
        line.addWidget(self.chord)
        line.addSpacing(look.px(12))
        line.addWidget(self.said, 4)
        line.addWidget(self.undo)
        self.redress()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paper, tinted at the right while the last act is fresh, with the pane's line below."""
        painter = QPainter(self)
        now = look.current()
        painter.fillRect(self.rect(), now.colour("paper"))
        if self.said.fresh:
            left = self.said.x() - look.px(6)
            painter.fillRect(QRect(left, 0, self.width() - left, self.height()), now.colour("accentsoft"))
        painter.fillRect(QRect(0, self.height() - 1, self.width(), 1), now.colour("line5"))
