"""The four codes in the corners of a round sheet's page, by which a scan of it finds its way home."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from beeledger.queries.records.round_sheet import RoundSheet
from beeledger.reporting.drawing.codes import QUIET_MODULES, draw_symbol, qr
from beeledger.reporting.look.fonts import MM
from beeledger.rules.rounds.paper import CODE, PAGE, ROW, STEP, PaperPage, code_corners
from beeledger.rules.rounds.paper_code import check_sum, corner_words, sheet_mark


@dataclass(frozen=True, slots=True)
class Corners:
    """Draws the codes of each page once it is known which lines stand on it and where."""

    sheet: str
    site_id: int
    day: int
    site: str
    hives: tuple[tuple[int | None, str], ...]

    @classmethod
    def of(cls, record: RoundSheet) -> Corners | None:
        """The codes of a sheet; None for one whose site or hives are not of the ledger."""
        if record.site_id is None or any(line.colony_id is None for line in record.lines):
            return None
        hives = tuple((line.colony_id, line.hive) for line in record.lines)
        day = record.day.toordinal() if record.day else 0
        return cls(sheet_mark(record.site_id, day, hives), record.site_id, day, record.site, hives)

    def __call__(self, canvas: Canvas, start: int, first: float, heights: Sequence[float]) -> None:
        """The codes of one page; ``first`` is the upper edge of its first row, points from the foot."""
        here = self.hives[start : start + len(heights)]
        hives = [colony for colony, _ in here] + [None] * (len(heights) - len(here))
        marks = [mark for _, mark in here] + [""] * (len(heights) - len(here))
        page = PaperPage(
            canvas.getPageNumber(), self.site_id, self.day, check_sum([self.site]), check_sum(marks), start,
            len(self.hives), round((PAGE[1] - first) * 10), tuple(hives), tuple(round((high - ROW) / STEP) for high in heights),
        )  # fmt: skip
        x0, y0 = canvas.absolutePosition(0, 0)
        for words, (left, top) in zip(corner_words(self.sheet, page), code_corners(), strict=True):
            symbol = qr(words)
            module = CODE / symbol.side
            rim = QUIET_MODULES * module
            draw_symbol(canvas, symbol, left - rim - x0, PAGE[1] - top - CODE - rim - y0, module / MM)
