"""Putting words on a painter: one door, so that nothing is cut without being counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPainterPath, QPen

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align, Interval, Run
from beeledger.ui.widgets.look import Role, Token
from beeledger.ui.widgets.marks import mark_size, paint_disc, paint_mark


@dataclass(slots=True)
class Elisions:
    """Counts what did not fit while painting: sentences shortened, and texts that must never be cut.

    Counting is off in daily use; a test sets ``on`` and reads the lists. ``figures`` are the sentences
    shortened that lost a figure.
    """

    on: bool = False
    shortened: list[str] = field(default_factory=list)
    cut: list[str] = field(default_factory=list)
    figures: list[str] = field(default_factory=list)

    def clear(self) -> None:
        """Forget what was counted."""
        self.shortened.clear()
        self.cut.clear()
        self.figures.clear()

    def note(self, text: str, *, may_shorten: bool, lost: str = "") -> None:
        """Count one text that did not fit; ``lost`` is what of it is not shown."""
        if self.on:
            (self.shortened if may_shorten else self.cut).append(text)
            if may_shorten and _has_figure(lost):
                self.figures.append(text)


elisions = Elisions()


def fill(painter: QPainter, rect: QRect | QRectF, token: Token) -> None:
    """Fill whole pixels with a token: grounds, bars and hairlines are never drawn with a pen."""
    painter.fillRect(rect, look.current().colour(token))


def hairline(painter: QPainter, x: int, y: int, width: int, token: Token = "line") -> None:
    """A line of one pixel to the right."""
    fill(painter, QRect(x, y, width, 1), token)


def upright(painter: QPainter, x: int, y: int, height: int, token: Token = "line5") -> None:
    """A line of one pixel downwards."""
    fill(painter, QRect(x, y, 1, height), token)


def paint_text(
    painter: QPainter,
    rect: QRect,
    text: str,
    ink: Token = "ink",
    *,
    role: Role = "base",
    weight: int = 400,
    align: Align = Align.LEFT,
    shorten: bool = False,
) -> int:
    """One line of words, centred in height; gives the width taken. Only with ``shorten`` is it cut."""
    metrics = look.metrics(role, weight)
    width = metrics.horizontalAdvance(text)
    if width > rect.width():
        shown = shortened(text, metrics, rect.width()) if shorten else text
        elisions.note(text, may_shorten=shorten, lost=text[len(shown.removesuffix("…")) :])
        text, width = shown, metrics.horizontalAdvance(shown)
    painter.setFont(look.font(role, weight))
    painter.setPen(look.current().colour(ink))
    x = rect.left()
    if align is Align.RIGHT:
        x = rect.left() + rect.width() - width
    elif align is Align.CENTRE:
        x = rect.left() + (rect.width() - width) // 2
    baseline = rect.top() + (rect.height() + metrics.ascent() - metrics.descent()) // 2
    painter.drawText(x, baseline, text)
    return width


def shortened(text: str, metrics: QFontMetrics, width: int) -> str:
    """The beginning of ``text`` that fits; a figure is left out whole: half of one is another figure."""
    shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)
    kept = len(shown.removesuffix("…"))
    start = text.rfind(" ", 0, kept) + 1
    end = text.find(" ", kept)
    word = text[start : end if end >= 0 else len(text)]
    inside = start < kept < len(text) and text[kept] != " "
    return f"{text[:start].rstrip()}…" if inside and _has_figure(word) else shown


def _has_figure(text: str) -> bool:
    return any(letter.isdigit() for letter in text)


def mark_rect(x: int, rect: QRect, side: int) -> QRectF:
    """A square of ``side`` at ``x``, centred in the height of ``rect``."""
    return QRectF(x, rect.top() + (rect.height() - side) / 2, side, side)


def disc_size() -> int:
    """Side of a queen's disc in a row."""
    return look.px(11)


def run_width(run: Run) -> int:
    """Width of a run without the air after it."""
    width = look.metrics("small" if run.small else "base", run.weight).horizontalAdvance(run.text)
    if run.mark:
        width += mark_size() + look.px(8 if run.text else 0)
    if run.disc:
        width += disc_size() + look.px(6)
    return width


def runs_width(runs: Sequence[Run]) -> int:
    """Width of several runs in one line."""
    return sum(run_width(run) + look.px(run.gap) for run in runs) - (look.px(runs[-1].gap) if runs else 0)


def paint_runs(
    painter: QPainter,
    rect: QRect,
    runs: Sequence[Run],
    *,
    align: Align = Align.LEFT,
    shorten: bool = False,
) -> int:
    """Runs one after another; the one that no longer fits is shortened or counted as cut. Width taken."""
    whole = runs_width(runs)
    x = rect.left() + (max(0, rect.width() - whole) if align is Align.RIGHT else 0)
    end = rect.left() + rect.width()
    for at, run in enumerate(runs):
        if x >= end:
            elisions.note(run.text, may_shorten=shorten, lost=" ".join(more.text for more in runs[at:]))
            break
        x = _paint_run(painter, QRect(x, rect.top(), end - x, rect.height()), run, shorten=shorten)
        x += look.px(run.gap)
    return min(whole, rect.width())


def _paint_run(painter: QPainter, rect: QRect, run: Run, *, shorten: bool) -> int:
    x = rect.left()
    if run.mark:
        paint_mark(painter, mark_rect(x, rect, mark_size()), run.mark)
        x += mark_size() + look.px(8 if run.text else 0)
    if run.disc:
        paint_disc(painter, mark_rect(x, rect, disc_size()), run.disc)
        x += disc_size() + look.px(6)
    room = QRect(x, rect.top(), rect.left() + rect.width() - x, rect.height())
    role: Role = "small" if run.small else "base"
    return x + paint_text(painter, room, run.text, run.ink, role=role, weight=run.weight, shorten=shorten)


def paint_interval(painter: QPainter, rect: QRect, shown: Interval, *, ends: bool = False) -> None:
    """A dot with its interval on the scale of ``shown``, in the first chart colour."""
    span = (shown.scale_high - shown.scale_low) or 1.0

    def at(value: float) -> float:
        kept = min(max(value, shown.scale_low), shown.scale_high)
        return rect.left() + (kept - shown.scale_low) / span * rect.width()

    middle = rect.top() + rect.height() / 2
    if shown.middle is not None:
        upright(painter, round(at(shown.middle)), rect.top(), rect.height())
    colour = look.current().colour("c1")
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(colour, 1.25))
    painter.drawLine(QPointF(at(shown.low), middle), QPointF(at(shown.high), middle))
    if ends:
        for value in (shown.low, shown.high):
            painter.drawLine(QPointF(at(value), middle - 3), QPointF(at(value), middle + 3))
    radius = look.px(7) / 2
    painter.setBrush(look.current().colour("paper" if shown.thin else "c1"))
    painter.drawEllipse(QPointF(at(shown.value), middle), radius, radius)
    painter.restore()


def triangle_down(x: float, y: float, side: float) -> QPainterPath:
    """The small triangle of a sorted column, point down."""
    path = QPainterPath(QPointF(x, y))
    path.lineTo(x + side, y)
    path.lineTo(x + side / 2, y + side * 0.65)
    path.closeSubpath()
    return path


def triangle_up(x: float, y: float, side: float) -> QPainterPath:
    """The same, point up."""
    path = QPainterPath(QPointF(x, y + side * 0.65))
    path.lineTo(x + side, y + side * 0.65)
    path.lineTo(x + side / 2, y)
    path.closeSubpath()
    return path
