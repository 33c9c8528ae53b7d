"""One jar label, laid out within its own edges and measured as drawn.

The particulars are as large as the label lets them be, and never smaller than the law's least: the
layout is tried from generous to the floor. What does not fit even then is named in what was
measured, so that the check of the label fails on it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from reportlab.pdfgen.canvas import Canvas

from beeledger.reporting.drawing.codes import LEAST_MODULE_MM, Symbol, draw_symbol, gs1_datamatrix
from beeledger.reporting.look.fonts import (
    MM,
    Face,
    Role,
    figure_height_mm,
    height_mm,
    size_for_figures,
    size_for_x_height,
    text_width,
    x_height_mm,
)
from beeledger.reporting.look.ink import contrast, ink
from beeledger.reporting.look.text import balanced, clean, draw
from beeledger.rules.label_codes import ElementString
from beeledger.rules.label_law import Measured, least_x_height_mm
from beeledger.rules.label_law import figure_height_mm as least_figure_mm
from beeledger.rules.labels import Label, date_words, imperial_words, net_words

_USUAL = (90.0, 50.0)
"""The label the sizes were drawn for, millimetres."""
_STEPS = 24
_E_MARK_MM = 3.2


@dataclass(frozen=True, slots=True)
class _Line:
    x: float
    y: float
    text: str
    role: Role
    align: str = "left"


@dataclass(frozen=True, slots=True)
class LaidLabel:
    """A label ready to draw, points from its lower left corner, and its measures."""

    width: float
    height: float
    lines: tuple[_Line, ...]
    rule: tuple[float, float, float]
    """The rule over the particulars: from, to, height."""
    symbol: Symbol | None
    symbol_at: tuple[float, float]
    module_mm: float
    measured: Measured


@dataclass(frozen=True, slots=True)
class _Sizes:
    """Type sizes of one attempt, points."""

    business: float
    name: float
    second: float
    part: float
    quantity: float
    inset: float

    @property
    def leading(self) -> float:
        return self.part * 1.22


def lay_label(
    label: Label, code: ElementString | None, width_mm: float, height_mm_: float, surface_cm2: float
) -> LaidLabel:
    """Lay a label out in the largest type that fits. ValueError when the code cannot be written."""
    return _lay(label, code.human() if code else "", width_mm, height_mm_, surface_cm2)


@lru_cache(maxsize=64)
def _lay(label: Label, code: str, width_mm: float, high_mm: float, surface_cm2: float) -> LaidLabel:
    symbol = gs1_datamatrix(code) if code else None
    best: _Attempt | None = None
    for sizes in _attempts(label, width_mm, high_mm, surface_cm2):
        best = _Attempt(label, symbol, sizes, width_mm * MM, high_mm * MM)
        if not best.cut():
            break
    assert best is not None, "there is always a first attempt"
    return best.laid(surface_cm2)


def _attempts(label: Label, width_mm: float, high_mm: float, surface_cm2: float) -> Iterator[_Sizes]:
    """From the size that would suit the label's area down to the least the law allows."""
    across, down = width_mm / _USUAL[0], high_mm / _USUAL[1]
    first = min((across * down) ** 0.5, across * 1.5, down * 1.5)
    least_part = size_for_x_height("Regular", least_x_height_mm(surface_cm2)) * 1.02
    least_quantity = size_for_figures("SemiBold", least_figure_mm(label.net_g)) * 1.02
    for step in range(_STEPS):
        scale = first * (1 - step / _STEPS * 0.7)
        part = max(8.2 * scale, least_part)
        yield _Sizes(
            business=max(9.5 * scale, part),
            name=max(25 * scale, part * 1.3),
            second=max(11 * scale, part),
            part=part,
            quantity=max(18 * scale, least_quantity),
            inset=max(4 * scale, 1.8) * MM,
        )


def _module_mm(label_height_mm: float) -> float:
    """Never under the least that office printers hold; larger where there is room to scan from afar."""
    if label_height_mm < 40:
        return LEAST_MODULE_MM
    return 0.4 if label_height_mm < 80 else 0.5


class _Attempt:
    """One try at the layout: blocks at the top, particulars anchored at the bottom."""

    def __init__(
        self, label: Label, symbol: Symbol | None, sizes: _Sizes, width: float, height: float
    ) -> None:
        self.label, self.symbol, self.sizes = label, symbol, sizes
        self.width, self.height = width, height
        self.inner = width - 2 * sizes.inset
        self.module_mm = _module_mm(height / MM)
        self.code_side = symbol.side_mm(self.module_mm) * MM if symbol else 0.0
        self.lines: list[_Line] = []
        self.smallest: list[tuple[Face, float]] = []
        self.wide = False
        self.top_end = self._top()
        self.bottom_top = self._bottom()

    def cut(self) -> tuple[str, ...]:
        """What runs over: empty when the label holds everything."""
        found = []
        if self.top_end - self.sizes.part * 0.9 < self.bottom_top:
            found.append("name and particulars")
        if self.wide:
            found.append("a line wider than the label")
        return tuple(found)

    def _top(self) -> float:
        sizes, label = self.sizes, self.label
        room = self.inner - (self.code_side + sizes.part if self.symbol else 0)
        y = self.height - sizes.inset
        y = self._block(label.business, Role("SemiBold", sizes.business, sizes.business * 1.2), room, y)
        y -= sizes.name * 0.12
        y = self._block(label.name, Role("SemiBold", sizes.name, sizes.name * 1.05), room, y)
        for words in label.other_words:
            y = self._block(words, Role("Regular", sizes.second, sizes.second * 1.25), room, y)
        if self.symbol:
            y = min(y, self.height - sizes.inset - self.code_side)
        return y

    def _block(self, text: str, role: Role, room: float, y: float) -> float:
        """Lines from ``y`` down at the left; the height of the capitals touches ``y``."""
        if not clean(text):
            return y
        # a name is never broken within a word: it would rather be smaller
        self.wide |= any(text_width(word, role) > room for word in clean(text).split())
        for line in balanced(text, role, room):
            self.lines.append(_Line(self.sizes.inset, y - role.size * 0.727, line, role))
            y -= role.leading
        self.smallest.append((role.face, role.size))
        return y

    def _bottom(self) -> float:
        """Particulars at the left, quantity and caution at the right; answers their top."""
        sizes = self.sizes
        left_room = self.inner * 0.62 - sizes.part
        left = self._left(left_room)
        right = self._right(self.inner - left_room - sizes.part, left)
        return max(left, right) + sizes.part * 0.7

    def _left(self, room: float) -> float:
        label, sizes = self.label, self.sizes
        plain = Role("Regular", sizes.part, sizes.leading)
        blocks = [
            (label.origin_words, Role("Medium", sizes.part, sizes.leading)),
            (label.business, plain),
            (label.address, plain),
            (date_words(label.best_before, label.date_form), plain),
            (label.lot_mark, Role("SemiBold", sizes.part, sizes.leading)),
        ]
        lines = [(line, role) for text, role in blocks for line in balanced(text, role, room)]
        y = sizes.inset
        for line, role in reversed(lines):
            self.lines.append(_Line(sizes.inset, y, line, role))
            y += sizes.leading
        self.smallest += [(role.face, role.size) for _, role in lines]
        return y - sizes.leading + sizes.part * 0.727

    def _right(self, room: float, left_top: float) -> float:
        """The caution at the foot, the quantity level with the first line at the left; answers the top."""
        label, sizes = self.label, self.sizes
        edge, y = self.width - sizes.inset, sizes.inset
        role = Role("Medium", sizes.part, sizes.leading)
        for line in reversed(balanced(label.infant_caution, role, room)):
            self.lines.append(_Line(edge, y, line, role, "right"))
            self.smallest.append((role.face, role.size))
            y += sizes.leading
        y += sizes.part * 0.6 if label.infant_caution else 0
        below = sizes.leading + sizes.quantity * 0.16 if label.imperial else 0.0
        y = max(y + below, left_top - sizes.quantity * 0.727)
        if label.imperial:
            imperial = Role("Regular", sizes.part, sizes.leading)
            self.lines.append(_Line(edge, y - below, imperial_words(label.net_g), imperial, "right"))
        self._quantity(edge, y, room)
        return y + sizes.quantity * 0.727

    def _quantity(self, edge: float, y: float, room: float) -> None:
        role = Role("SemiBold", self.sizes.quantity, self.sizes.quantity)
        text = net_words(self.label.net_g)
        self.lines.append(_Line(edge, y, text, role, "right"))
        used = text_width(text, role)
        if self.label.e_mark:
            mark = Role("Medium", _E_MARK_MM / height_mm("Medium", 1, "℮"), 10)
            self.lines.append(_Line(edge - used - 6, y, "℮", mark, "right"))
            used += 6 + text_width("℮", mark)
        self.wide |= used > room

    def laid(self, surface_cm2: float) -> LaidLabel:
        """The attempt as it stands, measured."""
        sizes, inset = self.sizes, self.sizes.inset
        gap = self.top_end - self.bottom_top
        rule = self.bottom_top + min(max(gap, 0) * 0.25, sizes.part)
        measured = Measured(
            figure_height_mm=figure_height_mm("SemiBold", sizes.quantity),
            x_height_mm=min(x_height_mm(face, size) for face, size in self.smallest),
            largest_surface_cm2=surface_cm2,
            same_field=True,
            contrast=contrast("ink", "paper"),
            imperial_height_mm=figure_height_mm("Regular", sizes.part) if self.label.imperial else None,
            e_mark_height_mm=_E_MARK_MM if self.label.e_mark else None,
            cut=self.cut(),
        )
        # drawn in the order they are read: down the left, then down the right
        lines = sorted(self.lines, key=lambda line: (line.align == "right", -line.y))
        corner = (self.width - inset - self.code_side, self.height - inset - self.code_side)
        return LaidLabel(
            self.width, self.height, tuple(lines), (inset, self.width - inset, rule), self.symbol,
            corner, self.module_mm, measured,
        )  # fmt: skip


def draw_label(canvas: Canvas, laid: LaidLabel, x: float, y: float) -> None:
    """Draw a label with its lower left corner at ``x``, ``y``."""
    for line in laid.lines:
        draw(canvas, x + line.x, y + line.y, line.text, line.role, line.align)
    left, right, high = laid.rule
    canvas.setStrokeColor(ink("ink"))
    canvas.setLineWidth(0.9)
    canvas.line(x + left, y + high, x + right, y + high)
    if laid.symbol:
        draw_symbol(canvas, laid.symbol, x + laid.symbol_at[0], y + laid.symbol_at[1], laid.module_mm)
