"""State marks and queen discs, drawn: shape alone tells them apart."""

from __future__ import annotations

from reportlab.pdfgen.canvas import Canvas

from beeledger.reporting.look.ink import QUEEN_COLOURS, Ink, ink

MARK_INK: dict[str, Ink] = {
    "late": "now",
    "refused": "now",
    "against": "watch",
    "due": "watch",
    "odd": "watch",
    "soon": "ink2",
    "held": "now",
    "met": "good",
    "advice": "info",
}
"""The ink of each mark, and of the word beside it."""


def mark_ink(mark: str) -> Ink:
    """The ink of a mark's words; plain ink for what has no mark or is met."""
    return "ink" if mark in {"", "met", "advice", "soon"} else MARK_INK[mark]


def draw_mark(canvas: Canvas, mark: str, x: float, y: float, size: float) -> None:
    """Draw a mark centred at ``x``, ``y``; an unknown name is an error of the caller."""
    canvas.saveState()
    canvas.setStrokeColor(ink(MARK_INK[mark]))
    canvas.setFillColor(ink(MARK_INK[mark]))
    canvas.setLineWidth(1.1)
    canvas.setLineCap(1)
    canvas.setLineJoin(1)
    half = size / 2
    if mark in {"late", "refused", "against"}:
        _triangle(canvas, x, y, half, hollow=mark == "against")
        if mark == "refused":
            _cut_out(canvas, x, y, half)
    elif mark == "due":
        canvas.rect(x - half * 0.8, y - half * 0.8, 1.6 * half, 1.6 * half, stroke=0, fill=1)
    elif mark == "odd":
        _closed(canvas, [(x, y + half), (x + half, y), (x, y - half), (x - half, y)], hollow=True)
    elif mark == "met":
        _open(
            canvas,
            [(x - half * 0.8, y), (x - half * 0.2, y - half * 0.65), (x + half * 0.85, y + half * 0.7)],
        )
    else:
        _ring(canvas, mark, x, y, half)
    canvas.restoreState()


def _triangle(canvas: Canvas, x: float, y: float, half: float, *, hollow: bool) -> None:
    points = [(x, y + half), (x + half * 1.1, y - half * 0.85), (x - half * 1.1, y - half * 0.85)]
    _closed(canvas, points, hollow=hollow)


def _cut_out(canvas: Canvas, x: float, y: float, half: float) -> None:
    canvas.setFillColor(ink("paper"))
    canvas.rect(x - 0.5, y - half * 0.25, 1, half * 0.75, stroke=0, fill=1)
    canvas.circle(x, y - half * 0.55, 0.6, stroke=0, fill=1)


def _ring(canvas: Canvas, mark: str, x: float, y: float, half: float) -> None:
    canvas.circle(x, y, half * 0.9, stroke=1, fill=0)
    if mark == "held":
        canvas.line(x - half * 0.6, y + half * 0.6, x + half * 0.6, y - half * 0.6)
    elif mark == "advice":
        canvas.line(x, y + 0.2, x, y - half * 0.45)
        canvas.circle(x, y + half * 0.45, 0.55, stroke=0, fill=1)


def _closed(canvas: Canvas, points: list[tuple[float, float]], *, hollow: bool) -> None:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    path.close()
    canvas.drawPath(path, stroke=1 if hollow else 0, fill=0 if hollow else 1)


def _open(canvas: Canvas, points: list[tuple[float, float]]) -> None:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    canvas.drawPath(path, stroke=1, fill=0)


def draw_swatch(canvas: Canvas, colour: Ink, x: float, y: float, size: float) -> None:
    """A square in the ink of a chart's part, to stand before its name."""
    canvas.setFillColor(ink(colour))
    canvas.rect(x - size / 2, y - size / 2, size, size, stroke=0, fill=1)


def draw_queen(canvas: Canvas, colour: str, x: float, y: float, radius: float) -> None:
    """A queen's mark: a disc with an outline, so that white and yellow stand on paper too."""
    canvas.saveState()
    canvas.setStrokeColor(ink("ink2"))
    canvas.setLineWidth(0.8)
    if colour in QUEEN_COLOURS:
        canvas.setFillColor(ink(colour))
        canvas.circle(x, y, radius, stroke=1, fill=1)
    canvas.restoreState()
