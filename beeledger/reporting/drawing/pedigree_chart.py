"""A pedigree on paper: as in the window, with the room of a sheet on its side."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from beeledger.queries.records.pedigree import HEADS, Pedigree, box_lines
from beeledger.reporting.look.fonts import CELL_STRONG, QUIET, Role, text_width
from beeledger.reporting.look.ink import FIFTH, HAIR, Ink, ink
from beeledger.reporting.look.marks import draw_queen
from beeledger.reporting.look.text import clean, draw, wrapped
from beeledger.rules.pedigree import Box
from beeledger.rules.queens import marking_colour

_GAP, _CUT, _BOX, _OVER, _HEAD = 22.0, 6.0, 34.0, 12.0, 20.0


class PedigreeChart(Flowable):
    """The boxes of one queen. ``high`` is the room it takes, points."""

    def __init__(self, pedigree: Pedigree, high: float) -> None:
        super().__init__()
        self.pedigree, self.high = pedigree, high

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803
        """The whole width, and no more than the page has left."""
        self.room = aW
        self.high = min(self.high, aH)
        return aW, self.high

    def split(self, aW: float, aH: float) -> list[Flowable]:  # noqa: ARG002, N803
        """A drawing stays whole."""
        return []

    def draw(self) -> None:
        """Heads, lines, boxes."""
        for generation in range(min(self.pedigree.generations + 1, len(HEADS))):
            draw(self.canv, self._left(generation), self.high - 9, HEADS[generation], QUIET)
        for box in self.pedigree.boxes:
            self._line(box)
        for box in self.pedigree.boxes:
            self._box(box)

    @property
    def box_width(self) -> float:
        """How wide a box is."""
        columns = self.pedigree.generations + 1
        return (self.room - (columns - 1) * _GAP) / columns

    def _left(self, generation: int) -> float:
        return generation * (self.box_width + _GAP)

    def _middle(self, box: Box) -> float:
        drop = _OVER / 2 if box.drone_side else 0.0
        return (self.high - _HEAD) * (1 - box.height) - drop

    def _line(self, box: Box) -> None:
        if not box.generation:
            return
        canvas, child = self.canv, Box(box.generation - 1, box.place // 2)
        _stroke(canvas, "ink2", HAIR * 2, dashed=box.drone_side)
        start = self._left(box.generation) - _GAP
        x = start + _GAP * (0.66 if box.drone_side else 0.33)
        first = self._middle(child) + (-2 if box.drone_side else 2)
        path = canvas.beginPath()
        path.moveTo(start, first)
        for point in ((x, first), (x, self._middle(box)), (start + _GAP, self._middle(box))):
            path.lineTo(*point)
        canvas.drawPath(path, stroke=1, fill=0)

    def _box(self, box: Box) -> None:
        canvas = self.canv
        x, y = self._left(box.generation), self._middle(box) - _BOX / 2
        shared = self.pedigree.is_shared(box)
        token: Ink = (
            "watch" if shared else "edge" if box.unknown else "accent" if not box.generation else "ink2"
        )
        firm = shared or not box.generation
        _stroke(canvas, token, 1.2 if firm else FIFTH, dashed=box.unknown is not None)
        canvas.setFillColor(ink("paper"))
        path = canvas.beginPath()
        cut = _CUT if box.drone_side else 0.0
        path.moveTo(x + cut, y + _BOX)
        corners = (
            (x + self.box_width, y + _BOX),
            (x + self.box_width, y),
            (x + cut, y),
            (x, y + cut),
            (x, y + _BOX - cut),
        )
        for point in corners:
            path.lineTo(*point)
        path.close()
        canvas.drawPath(path, stroke=1, fill=1)
        canvas.setDash()
        if box.unknown is not None:
            draw(canvas, x + 8, y + _BOX / 2 - 3, box.unknown.value, QUIET)
            return
        if box.drone_side:
            draw(canvas, x + 8, y + _BOX + 3, "drones of", QUIET)
        self._words(box, x + 8, y, self.box_width - 14)

    def _words(self, box: Box, x: float, y: float, room: float) -> None:
        name, year, below = box_lines(self.pedigree, box)
        queens = self.pedigree.queens(box)
        one = queens[0]
        colour = (
            str(marking_colour(one.year)) if len(queens) == 1 and one.year and one.marked is not False else ""
        )
        start = x
        if colour:
            draw_queen(self.canv, colour, x + 4, y + 23, 3.6)
            start = x + 12
        beside = colour or year
        draw(self.canv, x + room, y + 20, beside, QUIET, "right")
        used = (text_width(clean(beside), QUIET) + 6 if beside else 0.0) + start - x
        draw(self.canv, start, y + 20, _first(name, CELL_STRONG, room - used), CELL_STRONG)
        draw(self.canv, x, y + 8, _first(below, QUIET, room), QUIET)


def _first(words: str, role: Role, room: float) -> str:
    """What of the words fits in one line; the table under the drawing has them whole."""
    lines = wrapped(words, role, room)
    return f"{lines[0].rstrip(',')}…" if len(lines) > 1 else (lines[0] if lines else "")


def _stroke(canvas: Canvas, token: Ink, width: float, *, dashed: bool) -> None:
    canvas.setStrokeColor(ink(token))
    canvas.setLineWidth(width)
    canvas.setDash(*([4, 3], 0) if dashed else ())
