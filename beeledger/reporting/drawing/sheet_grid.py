"""The grid a crew writes in: last figures small and pale at the left, room for today's at the right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from beeledger.reporting.look.fonts import CELL, FOOT, HEAD, HEAD_UNIT, MM, Role, text_width
from beeledger.reporting.look.ink import HAIR, ink
from beeledger.reporting.look.marks import draw_queen
from beeledger.reporting.look.text import draw, wrapped
from beeledger.rules.rounds.paper import (
    AIR,
    BOX,
    BOX_LIFT,
    LADDER_AIR,
    ROW,
    WHO,
    PaperColumn,
    row_high,
    tick_lefts,
    ticks_wide,
)

HEAD_HIGH = 27.0
_TALL_PAIR = 250.0
"""Two lines higher than this may be parted."""
_KNOWN = replace(CELL, face="Medium")
_FIFTH = 1.2
"""Firmer than in print-outs to read: the sheet is copied, wetted and read at arm's length."""
_HIVE = replace(CELL, face="Bold", size=10.5)
_LAST = Role("Regular", 8.5, 9, "ink3")
_TICK_WORD = Role("Regular", 8, 9, "ink2")
_LADDER_SIGN = Role("Medium", 7.5, 8, "ink2")


OnPage = Callable[[Canvas, int, float, Sequence[float]], None]
"""Told of each page: its canvas, the lines before it, its first row's upper edge, the heights of its rows."""


@dataclass(frozen=True, slots=True)
class GridLine:
    """One hive: who it is, the last figures column by column, and the words at the left of the margin."""

    number: str
    hive: str
    colour: str = ""
    queen: str = ""
    last: tuple[str, ...] = ()
    margin: str = ""


class SheetGrid(Flowable):
    """The whole grid; it splits between lines under a repeated head."""

    who = WHO

    def __init__(
        self,
        columns: Sequence[PaperColumn],
        lines: Sequence[GridLine],
        margin: str,
        start: int = 0,
        on_page: OnPage | None = None,
    ) -> None:
        super().__init__()
        self.columns, self.lines, self.margin, self.start = tuple(columns), list(lines), margin, start
        self.on_page = on_page

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The height at this width."""
        self.room = aW
        self.edges = [0.0]
        for wide in (*self.who, *(column.mm for column in self.columns)):
            self.edges.append(self.edges[-1] + wide * MM)
        self.heights = [self._high(line) for line in self.lines]
        return aW, HEAD_HIGH + sum(self.heights)

    def _high(self, line: GridLine) -> float:
        words = len(wrapped(line.margin, _TICK_WORD, self._margin_room()))
        queen = len(wrapped(line.queen, CELL, self.who[2] * MM - 16))
        hive = len(wrapped(line.hive, _HIVE, self.who[1] * MM - 4))
        last = max(
            (len(_last_lines(column, line, place)) for place, column in enumerate(self.columns)), default=0
        )
        return row_high(max(words * 8 + 2, queen * 11 + 4, hive * 12 + 4, last * 9 + 6))

    def _margin_room(self) -> float:
        return (self.room - self.edges[-1]) * 0.8

    def split(self, aW: float, aH: float) -> list[Flowable]:  # noqa: N803
        """As many lines as fit."""
        self.wrap(aW, aH)
        room, cut = aH - HEAD_HIGH, 0
        while cut < len(self.lines) and self.heights[cut] <= room:
            room -= self.heights[cut]
            cut += 1
        if cut < min(2, len(self.lines)) and sum(self.heights[:2]) < _TALL_PAIR:
            return []
        if len(self.lines) - cut == 1 and cut > 2:
            cut -= 1
        if not 0 < cut < len(self.lines):
            return []
        parts = ((self.lines[:cut], self.start), (self.lines[cut:], self.start + cut))
        return [SheetGrid(self.columns, lines, self.margin, start, self.on_page) for lines, start in parts]

    def draw(self) -> None:
        """Head, lines, verticals."""
        top = HEAD_HIGH + sum(self.heights)
        self._head(top)
        y = top - HEAD_HIGH
        for index, (line, high) in enumerate(
            zip(self.lines, self.heights, strict=True), start=self.start + 1
        ):
            self._line(line, y, high)
            y -= high
            self._rule(y, _FIFTH if index % 5 == 0 or index == self.start + len(self.lines) else HAIR)
        self._verticals(top, y)
        if self.on_page is not None:
            _, low = self.canv.absolutePosition(0, 0)
            self.on_page(self.canv, self.start, low + top - HEAD_HIGH, self.heights)

    def _rule(self, y: float, weight: float) -> None:
        self.canv.setStrokeColor(ink("ink2" if weight == _FIFTH else "line5"))
        self.canv.setLineWidth(weight)
        self.canv.line(0, y, self.room, y)

    def _head(self, top: float) -> None:
        y = top - 9.5
        for index, word in enumerate(("", "Hive", "Queen")):
            draw(self.canv, self.edges[index] + 3, y, word, HEAD)
        for column, x in zip(self.columns, self.edges[3:], strict=False):
            draw(self.canv, x + 3, y, column.title, HEAD)
            draw(self.canv, x + 3, y - 11, column.unit, HEAD_UNIT)
        draw(self.canv, self.edges[-1] + 3, y, self.margin, HEAD)
        draw(self.canv, self.edges[-1] + 3, y - 11, "due, and a note", HEAD_UNIT)
        self._rule(top - HEAD_HIGH, _FIFTH)

    def _line(self, line: GridLine, top: float, high: float) -> None:
        base = top - ROW / 2 - 3.6
        draw(self.canv, self.edges[1] - 3, base, line.number, FOOT, "right")
        for index, words in enumerate(wrapped(line.hive, _HIVE, self.who[1] * MM - 4)):
            draw(self.canv, self.edges[1] + 3, base - 12 * index, words, _HIVE)
        draw_queen(self.canv, line.colour, self.edges[2] + 7, base + 3.3, 3.4)
        for index, words in enumerate(wrapped(line.queen, CELL, self.who[2] * MM - 16)):
            draw(self.canv, self.edges[2] + 14, base - 11 * index, words, CELL)
        for place, column in enumerate(self.columns):
            last = _last_lines(column, line, place)
            self._cell(column, self.edges[3 + place], base, last)
        words_at = wrapped(line.margin, _TICK_WORD, self._margin_room())
        first = top - high / 2 - 2.8 + 4 * (len(words_at) - 1)
        for index, words in enumerate(words_at):
            draw(self.canv, self.edges[-1] + 3, first - 8 * index, words, _TICK_WORD)

    def _cell(self, column: PaperColumn, left: float, base: float, last: Sequence[str]) -> None:
        for index, words in enumerate(last):
            draw(self.canv, left + 3, base - 9 * index, words, _LAST)
        self.canv.setStrokeColor(ink("ink2"))
        self.canv.setLineWidth(0.8)
        role, air = (_LADDER_SIGN, LADDER_AIR) if column.ladder else (_TICK_WORD, AIR)
        for tick, at in zip(column.ticks, tick_lefts(column), strict=True):
            x = left + at
            self.canv.roundRect(x, base + 3.6 - BOX_LIFT, BOX, BOX, 0.8, stroke=1, fill=0)
            draw(self.canv, x - air, base, tick.word, role, "right")

    def _verticals(self, top: float, bottom: float) -> None:
        self.canv.setStrokeColor(ink("line"))
        self.canv.setLineWidth(HAIR)
        for x in self.edges[3:]:
            self.canv.line(x, top - HEAD_HIGH, x, bottom)
        self.canv.setStrokeColor(ink("line5"))
        self.canv.setLineWidth(0.8)
        ends = [
            self.edges[3],
            *(x for column, x in zip(self.columns, self.edges[4:], strict=True) if column.group_end),
        ]
        for x in ends:
            self.canv.line(x, top - 2, x, bottom)


def _last_lines(column: PaperColumn, line: GridLine, place: int) -> tuple[str, ...]:
    if place >= len(line.last):
        return ()
    return wrapped(line.last[place], _LAST, max(column.mm * MM - 5 - ticks_wide(column), 8))


class WriteIn(Flowable):
    """Named rules to write on, in one row across the page: (name, share of the width, what is known)."""

    def __init__(self, places: Sequence[tuple[str, float, str]]) -> None:
        super().__init__()
        self.places = list(places)
        self.spaceAfter = 6

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """One row, higher where what is known takes several lines."""
        self.room = aW
        whole = sum(share for _, share, _ in self.places)
        self.laid = []
        x = 0.0
        for name, share, known in self.places:
            wide = aW * share / whole
            start = text_width(name, HEAD_UNIT) + 6
            self.laid.append((x, name, x + start, x + wide - 10, wrapped(known, _KNOWN, wide - 10 - start)))
            x += wide
        self.high = 8.0 + 12 * max(1, *(len(lines) for *_, lines in self.laid))
        return aW, self.high

    def draw(self) -> None:
        """Name, then what is known or a rule to write on."""
        base = self.high - 15
        for x, name, start, end, lines in self.laid:
            draw(self.canv, x, base, name, HEAD_UNIT)
            for index, line in enumerate(lines):
                draw(self.canv, start, base - 12 * index, line, _KNOWN)
            if not lines:
                self.canv.setStrokeColor(ink("edge"))
                self.canv.setLineWidth(0.6)
                self.canv.line(start, base - 2, end, base - 2)
