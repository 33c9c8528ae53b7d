"""The marks beside the grid: those of every evening with the keys, then all of them; F1 turns the page and folds."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

from beeledger.rules.rounds.marks import Marks, english, marks_list, words_list
from beeledger.ui.places.rounds.keys import CHORDS
from beeledger.ui.widgets import look
from beeledger.ui.widgets.painting import fill, hairline, paint_text, upright

WIDTH = 208
_HEAD = 36
_ROW = 18
_KEY_ROW = 22
_AIR = 10
_LEFT = 12
_EVERYDAY = (
    "bare", "normal", "seen", "eggs", "brood", "bees", "stores_kg", "stores_frames", "temper", "cells", "supers",
    "feed_litres", "feed_kg", "medicine_in", "medicine_out", "mites", "next", "outcome", "dead", "question", "note",
)  # fmt: skip
_CLOSING = "In each cell: last figure left, today’s right. Blank is not nought: nobody looked."

Lines = list[tuple[str, str]]
"""A mark and its meaning; a meaning that goes on has no mark, a rule has neither."""


def everyday_marks(marks: Marks | None = None) -> Lines:
    """The marks of most evenings, each with its first forms; the other page has them whole."""
    table = marks or english()
    return [(_first_forms(table[name].shows), table[name].meaning) for name in _EVERYDAY]


def _first_forms(shows: str) -> str:
    forms = shows.split()
    return " ".join(forms if forms[0].isdigit() else forms[:2])


def all_marks(marks: Marks | None = None) -> Lines:
    """Every mark, then the letters of the causes and of what the next visit is for."""
    listed = [(mark, meaning) for mark, meaning in marks_list(marks) if mark]
    return [*listed, ("", ""), *words_list("dead", marks), ("", ""), *words_list("next", marks)]


def laid_out(pairs: Lines) -> Lines:
    """The pairs broken into lines that fit the panel: a long mark stands alone, its meaning goes on below."""
    lines: Lines = []
    for mark, meaning in pairs:
        if not mark:
            lines.append(("", ""))
            continue
        room = look.px(WIDTH - _LEFT - 14) - (_start(mark) - look.px(_LEFT))
        if look.metrics("small").horizontalAdvance(meaning) <= room:
            lines.append((mark, meaning))
            continue
        lines.append((mark, ""))
        lines += [("", part) for part in _broken(meaning, look.px(WIDTH - 20 - 12))]
    return lines


def _start(mark: str) -> int:
    return max(look.px(52), look.px(_LEFT + 8) + look.metrics("small", 600).horizontalAdvance(mark))


def _broken(text: str, width: int) -> list[str]:
    lines, line = [], ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and look.metrics("small").horizontalAdvance(longer) > width:
            lines.append(line)
            longer = word
        line = longer
    return [*lines, line] if line else lines


class _Page(QWidget):
    """Paints one page."""

    def __init__(self) -> None:
        super().__init__()
        self.everyday = True

    def lines(self) -> Lines:
        """The lines of this page."""
        return everyday_marks() if self.everyday else laid_out(all_marks())

    def wanted_height(self) -> int:
        """How high all of it is."""
        high = look.px(_HEAD) + look.px(6) + sum(_high(line) for line in self.lines())
        if self.everyday:
            keys = sum(chord.beside for chord in CHORDS)
            words = _broken(_CLOSING, look.px(WIDTH - 2 * _LEFT))
            high += look.px(_KEY_ROW) * keys + look.px(_ROW) * len(words) + look.px(_AIR) * 3
        return high

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        upright(painter, 0, 0, self.height())
        y = self._head(painter)
        for mark, meaning in self.lines():
            y = self._line(painter, y, mark, meaning)
        if self.everyday:
            y = self._chords(painter, self._rule(painter, y))
            y = self._rule(painter, y)
            for words in _broken(_CLOSING, look.px(WIDTH - 2 * _LEFT)):
                y = self._line(painter, y, "", words, look.px(_LEFT))
        painter.end()

    def _head(self, painter: QPainter) -> int:
        high = look.px(_HEAD)
        place = QRect(look.px(_LEFT), 0, self.width() - look.px(60), high)
        title = "Marks and keys" if self.everyday else "All marks"
        paint_text(painter, place, title, "ink", role="small", weight=600)
        _key(painter, self.width() - look.px(40), look.px(8), "F1")
        hairline(painter, 0, high - 1, self.width(), "line5")
        return high + look.px(6)

    def _line(self, painter: QPainter, y: int, mark: str, meaning: str, left: int = 0) -> int:
        if not mark and not meaning:
            return self._rule(painter, y)
        row = look.px(_ROW)
        if mark:
            room = QRect(look.px(_LEFT), y, self.width() - look.px(_LEFT), row)
            paint_text(painter, room, mark, "ink", role="small", weight=600)
        start = left or (_start(mark) if mark else look.px(20))
        paint_text(
            painter,
            QRect(start, y, self.width() - start - look.px(10), row),
            meaning,
            "ink2",
            role="small",
            shorten=True,
        )
        return y + row

    def _chords(self, painter: QPainter, y: int) -> int:
        row = look.px(_KEY_ROW)
        for chord in CHORDS:
            if not chord.beside:
                continue
            wide = _key(painter, look.px(_LEFT), y + look.px(1), chord.shown)
            start = max(look.px(68), look.px(_LEFT + 8) + wide)
            place = QRect(start, y, self.width() - start, row)
            paint_text(painter, place, chord.words, "ink2", role="small")
            y += row
        return y

    def _rule(self, painter: QPainter, y: int) -> int:
        hairline(painter, look.px(_LEFT), y + look.px(_AIR) // 2, self.width() - look.px(2 * _LEFT), "line5")
        return y + look.px(_AIR)


def _high(line: tuple[str, str]) -> int:
    return look.px(_ROW if any(line) else _AIR)


def _key(painter: QPainter, left: int, top: int, keys: str) -> int:
    """A key's name in its box; its width."""
    wide = look.metrics("small").horizontalAdvance(keys) + look.px(12)
    box = QRect(left, top, wide, look.px(19))
    fill(painter, box, "paper")
    painter.setPen(QPen(look.current().colour("line5"), 1))
    painter.drawRoundedRect(box.adjusted(0, 0, -1, -1), 3, 3)
    paint_text(painter, box.adjusted(look.px(6), 0, 0, 0), keys, "ink", role="small")
    return wide


class MarksPanel(QScrollArea):
    """The list; it never takes the focus from the typing."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("rounds.marks")
        self._page = _Page()
        self.setWidget(self._page)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self._fit()

    def turn(self) -> None:
        """To the next page, and from the last to folded."""
        if self.isHidden():
            self._page.everyday = True
            self.show()
        elif self._page.everyday:
            self._page.everyday = False
        else:
            self.hide()
        self._fit()
        self.verticalScrollBar().setValue(0)

    def sizeHint(self) -> QSize:
        return QSize(look.px(WIDTH), look.px(400))

    def _fit(self) -> None:
        self.setFixedWidth(look.px(WIDTH))
        self._page.resize(look.px(WIDTH), max(self._page.wanted_height(), self.viewport().height()))
        told = "; ".join(
            f"{mark} {meaning}"
            for mark, meaning in (everyday_marks() if self._page.everyday else all_marks())
        )
        self._page.setAccessibleName(f"Marks: {told}")
        self._page.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_page"):
            self._fit()
