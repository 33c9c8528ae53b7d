"""What the search field finds, in a list below it; arrows choose, Enter opens, Escape leaves."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from beeledger.base.text import tidy
from beeledger.queries.glossary import words_like
from beeledger.queries.search import Hit, find
from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.registry import PLACES
from beeledger.ui.frame.top_line import SearchField
from beeledger.ui.widgets import look
from beeledger.ui.widgets.painting import fill, paint_text

KINDS = {
    "hive": "hive", "site": "site", "queen": "queen", "batch": "batch", "lot": "lot", "contract": "contract",
    "ended": "ended", "place": "place", "word": "word",
}  # fmt: skip
_LEAST_LETTERS, _MOST_WORDS = 3, 3
NOTHING = "Nothing of that name or number"


def places_called(words: str) -> list[Hit]:
    """The places of the list whose title begins with these words."""
    text = tidy(words).casefold()
    return [
        Hit("place", 0, entry.title, "", entry.key)
        for entry in PLACES
        if text and entry.title.casefold().startswith(text)
    ]


def words_called(words: str) -> list[Hit]:
    """Words of the trade that begin so, with what they mean; not for what is shorter than three letters."""
    text = tidy(words)
    if len(text) < _LEAST_LETTERS:
        return []
    return [Hit("word", 0, one.word, one.meaning, "") for one in words_like(text)[:_MOST_WORDS]]


class SearchList(QWidget):
    """The hits below the field, painted; a sheet of the window and not a window of its own."""

    word_wanted = Signal(str)
    """What a word means is asked for."""

    def __init__(self, desk: Desk, field: SearchField, window: QWidget) -> None:
        super().__init__(window)
        self.setObjectName("search.list")
        self.setAccessibleName("Found")
        self.setMouseTracking(True)
        self._desk = desk
        self._field = field
        self._window = window
        self._hits: list[Hit] = []
        self._at = 0
        self._shown_for = ""
        self._open_first = False
        field.textEdited.connect(self._ask)
        field.installEventFilter(self)
        window.installEventFilter(self)
        self.hide()

    @property
    def hits(self) -> list[Hit]:
        """What is listed."""
        return list(self._hits)

    @property
    def current(self) -> Hit | None:
        """The hit that Enter opens."""
        return self._hits[self._at] if self._hits and self.isVisible() else None

    def _ask(self, text: str) -> None:
        self._open_first = False
        if not text.strip():
            self.hide()
            return
        self._desk.read(find, text, owner=self, then=lambda hits: self._show(text, hits), key="find")

    def _show(self, text: str, hits: list[Hit]) -> None:
        if text != self._field.text() or not self._field.hasFocus():
            return
        self._hits = places_called(text) + hits + words_called(text)
        self._shown_for = text
        self._at = 0
        if self._open_first and self._hits:
            self._open(0)
            return
        self._stand()
        self._tell()
        self.show()
        self.raise_()
        self.update()

    def _stand(self) -> None:
        corner = self._field.mapTo(self._window, QPoint(0, self._field.height() + 2))
        width = min(max(self._field.width(), look.px(420)), self._window.width() - corner.x() - look.px(8))
        rows = max(1, len(self._hits))
        lowest = (self._window.height() - corner.y() - look.px(28)) // self._row()
        self.setGeometry(QRect(corner, QSize(width, min(rows, max(1, lowest)) * self._row() + 2)))

    def _tell(self) -> None:
        self.setAccessibleDescription(_words(self._hits[self._at]) if self._hits else NOTHING)
        self._field.setAccessibleDescription(self.accessibleDescription())

    def _row(self) -> int:
        return look.px(26)

    def _first(self) -> int:
        """The first row shown: the list slides so that the chosen one is always in it."""
        fits = max(1, (self.height() - 2) // self._row())
        return max(0, self._at - fits + 1)

    def _open(self, number: int) -> None:
        if not 0 <= number < len(self._hits):
            return
        hit = self._hits[number]
        self._leave()
        if hit.kind == "word":
            self.word_wanted.emit(hit.name)
            return
        self._desk.open_place(hit.place, None if hit.kind == "place" else hit.id)

    def _leave(self) -> None:
        self.hide()
        self._open_first = False
        self._field.clear()
        self._field.setAccessibleDescription("")

    def _key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            self._leave()
            self._field.clearFocus()
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._enter()
            return True
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(key)
        if step is None or not self.isVisible():
            return False
        self._at = min(max(0, self._at + step), max(0, len(self._hits) - 1))
        self._tell()
        self.update()
        return True

    def _enter(self) -> None:
        """Open what is chosen; Enter struck before the list has come opens its first hit when it does."""
        if self.isVisible() and self._shown_for == self._field.text():
            self._open(self._at)
        else:
            self._open_first = True

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keys typed in the field steer the list; leaving the field folds it away."""
        if watched is self._window:
            if event.type() == QEvent.Type.Resize and self.isVisible():
                self._stand()
            return False
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._key(event)
        if event.type() == QEvent.Type.FocusOut and not self.underMouse():
            self.hide()
        return False

    def _line_at(self, event: QMouseEvent) -> int:
        return self._first() + int(event.position().y() - 1) // self._row()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click opens what it is on."""
        self._open(self._line_at(event))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The row under the pointer."""
        at = self._line_at(event)
        if 0 <= at < len(self._hits) and not self._first():
            self._at = at
            self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Rows: kind, name, detail."""
        painter = QPainter(self)
        fill(painter, self.rect(), "edge")
        fill(painter, self.rect().adjusted(1, 1, -1, -1), "paper")
        if not self._hits:
            paint_text(
                painter, self.rect().adjusted(look.px(10), 0, -look.px(10), 0), NOTHING, "ink2", shorten=True
            )
        first, row = self._first(), self._row()
        for number, hit in enumerate(self._hits[first:], start=first):
            self._paint_hit(painter, QRect(1, 1 + (number - first) * row, self.width() - 2, row), hit, number)
        painter.end()

    def _paint_hit(self, painter: QPainter, rect: QRect, hit: Hit, number: int) -> None:
        if rect.bottom() >= self.height():
            return
        if number == self._at:
            fill(painter, rect, "accentsoft")
            fill(painter, QRect(1, rect.top(), 3, rect.height()), "accent")
        paint_text(painter, rect.adjusted(look.px(10), 0, 0, 0), KINDS[hit.kind], "ink2", role="small")
        name = rect.adjusted(look.px(80), 0, -look.px(10), 0)
        taken = paint_text(painter, name, hit.name, weight=600, shorten=True)
        paint_text(painter, name.adjusted(taken + look.px(10), 0, 0, 0), hit.detail, "ink2", shorten=True)


def _words(hit: Hit) -> str:
    return f"{KINDS[hit.kind]} {hit.name}, {hit.detail}" if hit.detail else f"{KINDS[hit.kind]} {hit.name}"
