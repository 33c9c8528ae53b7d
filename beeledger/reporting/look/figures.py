"""The parts of a page that are no table: section heads, facts, key figures, the balance line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from reportlab.platypus import CondPageBreak, Flowable

from beeledger.queries.records.heading import Note
from beeledger.reporting.look.fonts import BODY, CELL, KEY_FIGURE, QUIET, SECTION, Role, text_width
from beeledger.reporting.look.ink import FIFTH, HAIR, ink
from beeledger.reporting.look.marks import draw_mark, mark_ink
from beeledger.reporting.look.text import Lines, clean, draw, wrapped

FACT_NAME = 92.0
"""Room of a fact's name, points."""
GUTTER = 18.0
_SHORT = 12
"""Rows of a table that is not to be parted."""
_WHOLE = 380.0
"""What is lower than this fits on any page, points."""
_NAME = 130.0
"""Widest name under a key figure before it wraps."""


class SectionHead(Flowable):
    """A firm line, the title under it, and at the right what the section comes to."""

    def __init__(self, title: str, summary: str = "") -> None:
        super().__init__()
        self.title, self.summary = title, summary
        self.spaceBefore = 14

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The room it takes."""
        self.room = aW
        beside = aW - text_width(clean(self.title), SECTION) - 20
        self.below = text_width(clean(self.summary), QUIET) > beside
        self.lines = wrapped(self.summary, QUIET, aW if self.below else beside)
        extra = len(self.lines) * QUIET.leading if self.below else 0.0
        return aW, 22 + extra

    def draw(self) -> None:
        """Line, title, summary."""
        canvas = self.canv
        top = 22 + (len(self.lines) * QUIET.leading if self.below else 0.0)
        canvas.setStrokeColor(ink("line5"))
        canvas.setLineWidth(FIFTH)
        canvas.line(0, top, self.room, top)
        draw(canvas, 0, top - 15, self.title, SECTION)
        for index, line in enumerate(self.lines):
            if self.below:
                draw(canvas, 0, top - 15 - QUIET.leading * (index + 1), line, QUIET)
            else:
                draw(canvas, self.room, top - 15, line, QUIET, "right")


def section(title: str, summary: str = "", room: float = 90) -> list[Flowable]:
    """A section's head, begun only where ``room`` points are left for what follows."""
    return [CondPageBreak(room), SectionHead(title, summary)]


def room_for(rows: int) -> float:
    """The room that keeps a short table whole under its section's head; a long one may split."""
    return 90.0 if rows > _SHORT else 70.0 + 22.0 * rows


class Facts(Flowable):
    """Names and values in one or two columns, read down; facts without a value fall away."""

    def __init__(
        self, facts: Sequence[tuple[str, str]], columns: int = 2, name_room: float = FACT_NAME
    ) -> None:
        super().__init__()
        self.name_room = name_room
        self.facts = [(name, value) for name, value in facts if clean(value)]
        self.columns = columns
        self.spaceAfter = 8

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The room it takes."""
        self.one = (aW - GUTTER * (self.columns - 1)) / self.columns
        each = -(-len(self.facts) // self.columns)
        role = replace(CELL, ink="ink")
        self.laid = [
            [
                (name, wrapped(value, role, self.one - self.name_room))
                for name, value in self.facts[start : start + each]
            ]
            for start in range(0, len(self.facts), max(each, 1))
        ]
        self.high = max(
            (sum(max(len(lines), 1) * 12 + 2 for _, lines in column) for column in self.laid), default=0
        )
        return aW, float(self.high)

    def split(self, aW: float, aH: float) -> list[Flowable]:  # noqa: N803
        """Whole where a page can hold it; else as running lines, which split anywhere."""
        self.wrap(aW, aH)
        if self.high < _WHOLE:
            return []
        return [Lines(f"{name}: {value}", CELL) for name, value in self.facts]

    def draw(self) -> None:
        """Column by column."""
        for index, column in enumerate(self.laid):
            x, y = index * (self.one + GUTTER), float(self.high)
            for name, lines in column:
                draw(self.canv, x, y - 9.5, name, QUIET)
                for place, line in enumerate(lines):
                    draw(self.canv, x + self.name_room, y - 9.5 - 12 * place, line, CELL)
                y -= max(len(lines), 1) * 12 + 2


class KeyFigures(Flowable):
    """Figures in a row: (figure, unit, name), the name under the figure, a sign before where given.

    Each takes the width it needs, so that no name runs into its neighbour; the row breaks where it
    is full. A verdict in words, with its mark, stands below.
    """

    def __init__(
        self,
        figures: Sequence[tuple[str, str, str]],
        signs: Sequence[str] = (),
        verdict: str = "",
        mark: str = "",
    ) -> None:
        super().__init__()
        self.figures, self.signs, self.verdict, self.mark = list(figures), list(signs), verdict, mark
        self.spaceAfter = 10

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The room it takes: rows of as many figures as fit side by side."""
        self.room = aW
        self.rows: list[list[tuple[int, float]]] = [[]]
        x = 0.0
        for index, figure in enumerate(self.figures):
            wide = self._width(figure)
            sign = 20.0 if self._sign(index) else (22.0 if index else 0.0)
            if x and x + sign + wide > aW:
                self.rows.append([])
                x = 0.0
            x += sign
            self.rows[-1].append((index, x))
            x += wide
        self.lines = wrapped(self.verdict, BODY, aW - 16)
        names = [
            wrapped(name, QUIET, self._width((value, unit, name)) + 0.1) for value, unit, name in self.figures
        ]
        self.names = names
        self.each = 22.0 + 12 * max((len(lines) for lines in names), default=1)
        self.rows = [row for row in self.rows if row]
        return aW, len(self.rows) * self.each + len(self.lines) * 14

    def _width(self, figure: tuple[str, str, str]) -> float:
        value, unit, name = (clean(part) for part in figure)
        head = text_width(value, KEY_FIGURE) + (text_width(unit, QUIET) + 3 if unit else 0)
        return max(head, min(text_width(name, QUIET), _NAME))

    def _sign(self, index: int) -> str:
        return self.signs[index] if index < len(self.signs) else ""

    def draw(self) -> None:
        """Row by row, then the verdict."""
        canvas = self.canv
        y = len(self.rows) * self.each + len(self.lines) * 14
        for row in self.rows:
            for index, x in row:
                value, unit, _ = self.figures[index]
                if self._sign(index):
                    draw(
                        canvas,
                        x - 10,
                        y - 14,
                        self._sign(index),
                        replace(KEY_FIGURE, face="Regular", ink="ink2"),
                        "centre",
                    )
                draw(canvas, x, y - 14, value, KEY_FIGURE)
                draw(canvas, x + text_width(clean(value), KEY_FIGURE) + 3, y - 14, unit, QUIET)
                for place, line in enumerate(self.names[index]):
                    draw(canvas, x, y - 26 - 12 * place, line, QUIET)
            y -= self.each
        role: Role = replace(BODY, face="Medium", ink=mark_ink(self.mark))
        if self.mark and self.lines:
            draw_mark(canvas, self.mark, 4, y - 6.5, 9)
        for index, line in enumerate(self.lines):
            draw(canvas, 16 if self.mark else 0, y - 10 - 14 * index, line, role)


class Said(Flowable):
    """One sentence with its mark before it and its day at the left, for lists of facts."""

    def __init__(self, words: str, *, mark: str = "", day: str = "", day_room: float = 0.0) -> None:
        super().__init__()
        self.words, self.mark, self.day, self.day_room = words, mark, day, day_room

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The room it takes."""
        self.room = aW
        self.inset = self.day_room + (16 if self.mark else 0)
        self.lines = wrapped(self.words, CELL, aW - self.inset)
        self.days = wrapped(self.day, QUIET, self.day_room - 6) if self.day else ()
        self.high = max(len(self.lines), len(self.days), 1) * 12 + 4.0
        return aW, self.high

    def split(self, aW: float, aH: float) -> list[Flowable]:  # noqa: N803
        """Only what is longer than a few lines is parted."""
        self.wrap(aW, aH)
        fit = int((aH - 4) // 12)
        if fit < 2 or len(self.lines) < 6:
            return []
        first, rest = " ".join(self.lines[:fit]), " ".join(self.lines[fit:])
        return [
            Said(first, mark=self.mark, day=self.day, day_room=self.day_room),
            Said(rest, day_room=self.inset),
        ]

    def draw(self) -> None:
        """Day, mark, words, and a hairline below."""
        canvas, y = self.canv, self.high - 10.5
        for index, line in enumerate(self.days):
            draw(canvas, 0, y - 12 * index, line, QUIET)
        if self.mark:
            draw_mark(canvas, self.mark, self.day_room + 5, y + 3.2, 8)
        for index, line in enumerate(self.lines):
            draw(canvas, self.inset, y - 12 * index, line, replace(CELL, ink=mark_ink(self.mark)))
        canvas.setStrokeColor(ink("line"))
        canvas.setLineWidth(HAIR)
        canvas.line(0, 0, self.room, 0)


def said(notes: Sequence[Note]) -> list[Flowable]:
    """Notes as a list, their words under each other after the widest day."""
    days = [text_width(clean(note.on), QUIET) for note in notes if note.on]
    room = min(max(days) + 14, 150.0) if days else 0.0
    return [Said(note.words, mark=note.state, day=note.on, day_room=room) for note in notes]
