"""Labels and a movement report beside ReportLab used barely, with the same strings and symbols."""

from __future__ import annotations

import time
from collections.abc import Callable
from io import BytesIO
from typing import Any

from tests.benchmarks.farms import Farms
from tests.benchmarks.figures import Figure, ms, ratio_of_medians

RUNS = 5
LABELS, STAYS = 1_000, 2_000


def figures(_farms: Farms) -> list[Figure]:
    """Alternating runs, medians."""
    return [_labels(), _report()]


def _labels() -> Figure:
    from beeledger.reporting.documents.label_sheet import lay, render_pdf
    from tests.reporting.examples import FARM, MADE
    from tests.reporting.honey_examples import run

    labels = run(count=LABELS)
    ours, bare = _alternating(
        lambda: render_pdf(labels, FARM, MADE), lambda: _bare_labels(lay(labels), labels.layout)
    )
    how = f"{ms(ours)} against {ms(bare)}: a bare canvas drawing the same strings and the same zxing symbols"
    return Figure(f"{LABELS:,} labels with codes", ratio_of_medians(ours, bare), 1.5, "×", how)


def _bare_labels(laid: Any, layout: Any) -> bytes:
    """The same lines of text and the same modules of the symbol, straight onto a canvas."""
    from reportlab.pdfgen.canvas import Canvas

    mm, buffer = 72 / 25.4, BytesIO()
    canvas = Canvas(buffer, pagesize=(layout.page_width * mm, layout.page_height * mm))
    for index in range(LABELS):
        place = index % layout.labels
        if place == 0 and index:
            canvas.showPage()
        left, top = layout.place(place)
        x, y = left * mm, (layout.page_height - top) * mm - laid.height
        for line in laid.lines:
            canvas.setFont(line.role.font, line.role.size)
            {"left": canvas.drawString, "right": canvas.drawRightString, "center": canvas.drawCentredString}[
                line.align
            ](x + line.x, y + line.y, line.text)
        _bare_symbol(canvas, laid, x + laid.symbol_at[0], y + laid.symbol_at[1])
    canvas.save()
    return buffer.getvalue()


def _bare_symbol(canvas: Any, laid: Any, x: float, y: float) -> None:
    module = laid.module_mm * 72 / 25.4
    path = canvas.beginPath()
    for row, modules in enumerate(laid.symbol.rows):
        start = None
        for column, dark in enumerate((*modules, False)):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                path.rect(x + start * module, y - row * module, (column - start) * module, module)
                start = None
    canvas.drawPath(path, stroke=0, fill=1)


def _report() -> Figure:
    from beeledger.reporting.documents.movement_report import _stay_row, render_pdf
    from tests.reporting.examples import FARM, MADE, report

    record = report(STAYS)
    strings = [[getattr(cell, "text", cell) for cell in _stay_row(stay)] for stay in record.stays]
    ours, bare = _alternating(lambda: render_pdf(record, FARM, MADE), lambda: _bare_table(strings))
    how = f"{ms(ours)} against {ms(bare)}: a bare LongTable, fixed widths, same font, the same plain strings"
    return Figure(f"a movement report of {len(strings):,} lines", ratio_of_medians(ours, bare), 1.5, "×", how)


def _bare_table(strings: list[list[str]]) -> bytes:
    from reportlab.lib.pagesizes import A4
    from reportlab.platypus import LongTable, SimpleDocTemplate

    from beeledger.reporting.look.fonts import register

    register()
    widths = [48, 79, 50, 50, 34, 37, 37, 50, 140]
    style = [("FONT", (0, 0), (-1, -1), "Inter-Regular", 9), ("LINEBELOW", (0, 0), (-1, -1), 0.35, "grey")]
    buffer = BytesIO()
    SimpleDocTemplate(buffer, pagesize=A4, leftMargin=34, rightMargin=34).build(
        [LongTable(strings, colWidths=widths, style=style)]
    )
    return buffer.getvalue()


def _alternating(ours: Callable[[], bytes], bare: Callable[[], bytes]) -> tuple[list[float], list[float]]:
    taken: tuple[list[float], list[float]] = ([], [])
    for run in range(RUNS + 1):
        for write, seconds in zip((ours, bare), taken, strict=True):
            begun = time.perf_counter()
            assert write()[:4] == b"%PDF"
            if run:  # the first of each loads the fonts
                seconds.append(time.perf_counter() - begun)
    return taken
