"""The line at the top: back and forward, where you are, the search field, the last act and its undo."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QSizePolicy, QWidget

from beeledger.ui.desk.desk import Saying
from beeledger.ui.frame.said import Said
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Align, Run
from beeledger.ui.widgets.icons import paint_icon
from beeledger.ui.widgets.painting import fill, paint_text
from beeledger.ui.widgets.words import RunWords, Words

HEIGHT = 48
CHORD = "Ctrl K"
_PROMPTS = ("Hive, site, queen, lot mark, grower", "Hive, site, queen, lot", "Find")


class SearchField(QLineEdit):
    """The one search field, with its icon inside; its prompt is as long as there is room for."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("search")
        self.setAccessibleName(f"Search the whole farm ({CHORD})")
        self.setToolTip(f"Search the whole farm ({CHORD})")
        self._fit()

    def _fit(self) -> None:
        self.setTextMargins(look.px(24), 0, 0, 0)
        room = self.width() - look.px(48)
        fitting = (words for words in _PROMPTS if look.metrics().horizontalAdvance(words) <= room)
        self.setPlaceholderText(next(fitting, _PROMPTS[-1]))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self._fit()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        side = look.px(15)
        place = QRectF(look.px(9), (self.height() - side) / 2, side, side)
        paint_icon(painter, place, "search", "accent" if self.hasFocus() else "ink2")
        painter.end()


class Arrow(QAbstractButton):
    """Back or forward: an icon alone, pale where there is nowhere to go."""

    def __init__(self, name: str, word: str, chord: str, parent: QWidget) -> None:
        super().__init__(parent)
        self._icon = name
        self.setObjectName(f"top.{name}")
        self.setToolTip(f"{word} ({chord})")
        self.setAccessibleName(word)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)

    def sizeHint(self) -> QSize:
        return QSize(look.px(28), look.px(28))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        if self.isEnabled() and self.underMouse():
            fill(painter, self.rect(), "hover")
        side = look.px(16)
        place = QRectF((self.width() - side) / 2, (self.height() - side) / 2, side, side)
        paint_icon(painter, place, self._icon, "ink" if self.isEnabled() else "line5")
        painter.end()


class TopLine(QWidget):
    """Where you are and what was done last. The search field stands at one place whatever the title is."""

    undo_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("top")
        self.back = Arrow("back", "Back", "Alt+Left", self)
        self.forward = Arrow("forward", "Forward", "Alt+Right", self)
        self.title = Words(role="place", weight=600, parent=self)
        self.subtitle = RunWords(shorten=True, parent=self)
        self.search = SearchField(self)
        self.said = Said(self)
        self.said.settled.connect(self._settled)
        self.undo = Button("Undo", kind="quiet", icon="undo", parent=self)
        self.undo.setObjectName("undo")
        self.undo.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keys where one types
        self.undo.clicked.connect(self.undo_wanted)
        self.undo.hide()
        self._last = ""
        self._word = ""
        self._chord = QRect()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_place(self, title: str, subtitle: str) -> None:
        """The place in front and what of it is shown."""
        self.title.setText(title)
        self.subtitle.say([Run(subtitle)] if subtitle else [])
        self._place()

    def set_ways(self, *, back: bool, forward: bool) -> None:
        """Whether there is anywhere to go back or forward to."""
        self.back.setEnabled(back)
        self.forward.setEnabled(forward)

    def show_done(self, sentence: str, word: str = "Undo", *, fresh: bool = True) -> None:
        """The last act in words, with the word that takes it back; an empty word offers nothing."""
        self._last = sentence
        self._word = word
        self._name_undo()
        self.undo.setToolTip(f"{sentence}: {word.lower()} (Ctrl+Shift+Z)")
        self.undo.setVisible(bool(word))
        self._place()
        if fresh or not self.said.tint:  # what was remembered does not push away what was just said
            self._tell(sentence, "done", fresh=fresh)

    def show_saying(self, saying: Saying) -> None:
        """Something said: a sentence and how to mend it. A note gives way to the last act again."""
        self._tell(together(saying.text, saying.remedy), saying.tone, fresh=True)

    def let_go(self) -> None:
        """What was refused or warned of gives way to the last act: the person went on, or the record did."""
        if self.said.tone in ("now", "watch") and not self.said.fresh:
            self._tell(self._last, "done", fresh=False)

    def _tell(self, sentence: str, tone: str, *, fresh: bool) -> None:
        self.said.tell(sentence, tone, fresh=fresh)
        self._name_undo()
        self._place()
        self.update()

    def _name_undo(self) -> None:
        """Beside another sentence than the last act's it says of what it is: else it would seem to be of that one."""
        other = bool(self._word) and self.said.sentence not in ("", self._last)
        self.undo.setText(f"{self._word} last act" if other else self._word)

    def _settled(self) -> None:
        if self.said.tone in ("done", "note") and self._last and self.said.sentence != self._last:
            self._tell(self._last, "done", fresh=False)
        self.update()

    def _place(self) -> None:
        middle = self.height() // 2
        left = self._place_left(middle)
        width, right = self.width(), min(look.px(380), round(self.width() * 0.33))
        wide = min(look.px(300), round(width * 0.26))
        start = width - right - wide
        height = look.px(28)
        self.search.setGeometry(start, middle - height // 2, wide, height)
        self.subtitle.setGeometry(left, middle - height // 2, max(0, start - look.px(12) - left), height)
        chord = look.metrics("small").horizontalAdvance(CHORD) + look.px(12)
        self._chord = QRect(start + wide + look.px(7), middle - look.px(9), chord, look.px(18))
        end = width - look.px(12)
        if not self.undo.isHidden():
            hint = self.undo.sizeHint()
            end -= hint.width()
            self.undo.setGeometry(end, middle - hint.height() // 2, hint.width(), hint.height())
            end -= look.px(8)
        if self.said.wants_room:
            self._chord = QRect(start + wide, middle, 0, 0)  # the field tells the chord to those who hover
        begin = self._chord.right() + look.px(14)
        self.said.setGeometry(begin, 0, max(0, end - begin), self.height() - 1)

    def _place_left(self, middle: int) -> int:
        left = look.px(8)
        for arrow in (self.back, self.forward):
            hint = arrow.sizeHint()
            arrow.setGeometry(left, middle - hint.height() // 2, hint.width(), hint.height())
            left += hint.width() + look.px(2)
        left += look.px(4)
        wide = self.title.sizeHint().width()
        self.title.setGeometry(left, 0, wide, self.height() - 1)
        return left + wide + look.px(12)

    def sizeHint(self) -> QSize:
        return QSize(look.px(1000), look.px(HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(400), look.px(HEIGHT))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_chord"):
            self.updateGeometry()
            self._place()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paper, tinted at the right while the last act is fresh, the chord's key, the pane's line below."""
        painter = QPainter(self)
        fill(painter, self.rect(), "paper")
        tint = self.said.tint
        if tint:
            left = self._chord.right() + look.px(7)
            fill(painter, QRect(left, 0, self.width() - left, self.height()), tint)
        if self._chord.width():
            paint_key(painter, self._chord, CHORD)
        fill(painter, QRect(0, self.height() - 1, self.width(), 1), "line5")
        painter.end()


def paint_key(painter: QPainter, rect: QRect, words: str) -> None:
    """A key of the keyboard: its word in a box with round corners."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(look.current().colour("line5"))
    painter.setBrush(look.current().colour("paper"))
    painter.drawRoundedRect(QRectF(rect).adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
    painter.restore()
    paint_text(painter, rect, words, "ink2", role="small", align=Align.CENTRE)


def together(said: str, remedy: str) -> str:
    """What is said and what helps, as two sentences."""
    if not remedy or not said:
        return said or remedy
    stop = "" if said.endswith((".", "?", "!", ":", ";")) else "."
    return f"{said}{stop} {remedy}"
