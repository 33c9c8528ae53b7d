"""A form with as many lines of the same fields as are wanted; what is wrong with a line stands beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QGridLayout, QWidget

from beeledger.base.findings import Finding, Where
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.field import Field

MOST_LINES = 40
Line = Callable[[], Sequence[Mapping[str, Field]]]


class LinesForm(TypedForm):
    """Fields of the whole first, then ``place_lines``; a line more by its button or Ctrl+Shift+N.

    ``line`` makes the fields of a line, row by row; a field ``item`` of the second line is ``item2``.
    """

    def __init__(
        self, title: str, act_word: str, read: Callable[[Typed], Any], today: date, line: Line, note: str = "",
        *, most: int = MOST_LINES, another: str = "Another line",
    ) -> None:  # fmt: skip
        super().__init__(title, act_word, read, today, note)
        self.lines = 0
        self._most = most
        self._last: Field | None = None
        self.used: list[int] = []
        """The numbers of the lines that were read, in the order of what was made of them."""
        self._make_line = line
        self._rows = 0
        self._box = QGridLayout()
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setVerticalSpacing(look.px(2))
        self.more = Button(another, self.add_line, kind="quiet")
        self.foot.row.insertWidget(1, self.more)
        shortcut = QShortcut(QKeySequence("Ctrl+Shift+N"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.add_line)

    def place_lines(self) -> None:
        """The lines stand here, one to begin with."""
        piece = QWidget()
        piece.setLayout(self._box)
        self.add_piece(piece)
        self.add_line()

    def add_line(self) -> None:
        """Room for one line more, and the keys into it."""
        if self.lines >= self._most:
            return
        self.lines += 1
        outer = self._grid, self._row
        self._grid, self._row = self._box, self._rows
        made: list[Field] = []
        for fields in self._make_line():
            named = {f"{name}{self.lines}": field for name, field in fields.items()}
            self.add_side_by_side(named)
            for name, field in named.items():
                field.setObjectName(f"{self.objectName()}.{name}")
            made += fields.values()
        self._rows = self._row
        self._grid, self._row = outer
        self.more.setVisible(self.lines < self._most)
        if self._last is not None:
            for before, after in pairwise([self._last, *made]):
                self.setTabOrder(
                    before.editor, after.editor
                )  # the line follows the one above, not the form's end
            made[0].setFocus(Qt.FocusReason.OtherFocusReason)
        self._last = made[-1]

    def show_findings(self, findings: Iterable[Finding]) -> None:
        """A finding of a line stands beside that line."""
        super().show_findings([self._placed(each) for each in findings])

    def _placed(self, finding: Finding) -> Finding:
        row, field = finding.where.row, finding.where.field
        if field in self.fields or f"{field}1" not in self.fields:
            return finding
        at = self.used[row - 1] if row is not None and 0 < row <= len(self.used) else 1
        return replace(finding, where=Where(field=f"{field}{at}"))
