"""Labels for jars, laid on any sheet or roll by its measures, and the proof of a single label.

White paper, no heads and feet: a sheet of labels carries nothing but labels.
"""

from __future__ import annotations

from io import BytesIO
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from beeledger.base.errors import Refused
from beeledger.base.findings import holds
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.label_sheet import LabelRun
from beeledger.reporting.drawing.label import LaidLabel, draw_label, lay_label
from beeledger.reporting.look.fonts import BODY, MM, register
from beeledger.reporting.look.ink import ink
from beeledger.reporting.look.page import stamp
from beeledger.reporting.look.text import clean
from beeledger.reporting.pictures import page_picture
from beeledger.rules.label_law import Measured, check_label, label_findings
from beeledger.rules.label_particulars import Particular

KEY = "label-sheet"
TITLE = "Labels"
_FORM = "label"


def lay(run: LabelRun) -> LaidLabel:
    """The label of a run, laid out at its true size."""
    layout = run.layout
    return lay_label(run.label, run.code, layout.label_width, layout.label_height, run.surface_cm2)


def measured(run: LabelRun) -> Measured:
    """What was measured on the label as drawn: heights from the font's own outlines."""
    return lay(run).measured


def particulars(run: LabelRun) -> tuple[Particular, ...]:
    """The law's own look at the label as drawn."""
    return check_label(run.label, measured(run))


def render_pdf(run: LabelRun, farm: Farm, made: Made) -> bytes:
    """The sheets as PDF. Refused with its findings when a particular is missing, too small or cut."""
    findings = label_findings(particulars(run))
    if holds(findings):
        raise Refused(findings)
    laid, layout, buffer = lay(run), run.layout, BytesIO()
    size = (layout.page_width * MM, layout.page_height * MM)
    canvas = _canvas(buffer, size)
    canvas.setTitle(clean(f"{TITLE} {run.label.lot_mark}"))
    canvas.setAuthor(clean(farm.name))
    canvas.setCreator("BeeLedger")
    stamp(canvas, made)
    canvas.beginForm(_FORM, 0, 0, laid.width, laid.height)  # drawn once: the labels of a run are all alike
    draw_label(canvas, laid, 0, 0)
    canvas.endForm()
    for index in range(run.first, run.first + run.count):
        place = index % layout.labels
        if place == 0 and index > run.first:
            canvas.showPage()
        _place(canvas, run, laid, place)
    canvas.save()
    return buffer.getvalue()


def _canvas(buffer: BytesIO, size: tuple[float, float]) -> Canvas:
    register()
    first: Any = BODY.font  # the stub takes it for a number
    return Canvas(buffer, pagesize=size, invariant=1, lang="en-GB", initialFontName=first)


def _place(canvas: Canvas, run: LabelRun, laid: LaidLabel, place: int) -> None:
    left, top = run.layout.place(place)
    x = (left + run.offset_right_mm) * MM
    y = (run.layout.page_height - top - run.offset_down_mm) * MM - laid.height
    canvas.saveState()
    canvas.translate(x, y)
    canvas.doForm(_FORM)
    canvas.restoreState()
    if run.outlines:
        _outline(canvas, run.layout.corner, laid, x, y)


def _outline(canvas: Canvas, corner_mm: float, laid: LaidLabel, x: float, y: float) -> None:
    canvas.setStrokeColor(ink("line"))
    canvas.setLineWidth(0.4)
    canvas.roundRect(x, y, laid.width, laid.height, corner_mm * MM, stroke=1, fill=0)


def label_proof(run: LabelRun, dpi: float = 192) -> bytes:
    """One label on white as a PNG at true size for ``dpi``, also where it fails the law's check."""
    laid, buffer = lay(run), BytesIO()
    canvas = _canvas(buffer, (laid.width, laid.height))
    draw_label(canvas, laid, 0, 0)
    canvas.save()
    return page_picture(buffer.getvalue(), 0, dpi).png(dpi)
