"""The count sheet: down a column of what was counted beside what the record holds, differences seen before posting."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QFrame, QGridLayout, QLineEdit, QScrollArea, QWidget

from beeledger.base.dates import long, read_date
from beeledger.base.errors import Refused
from beeledger.base.text import counted
from beeledger.operations.stock import CountLine, StockTake
from beeledger.queries.records.stock import MEDICINE, Choices, Item, StockRow
from beeledger.rules.stock_items import At
from beeledger.ui.places.stock.forms import kept_items, place_options, read_at, usual_place
from beeledger.ui.places.stock.quantities import KIND_WORDS, UNIT_WORDS, read_quantity, said
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.foot import ActFoot
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.words import RunWords, Words


class CountEdit(QLineEdit):
    """One figure; Enter and Down go to the next, Up to the one before."""

    stepped = Signal(int)

    def __init__(self, item: Item) -> None:
        super().__init__()
        self.item = item
        self.setObjectName(f"stock.count.{item.id}")
        self.setAccessibleName(f"{item.name}, counted in {UNIT_WORDS[item.unit]}")
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setFixedSize(look.px(110), look.px(24))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Return: 1, Qt.Key.Key_Enter: 1, Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}
        step = steps.get(Qt.Key(event.key()))
        if step is None or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            super().keyPressEvent(event)
        else:
            self.stepped.emit(step)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the sheet: its field, what the record holds, and where the difference is said."""

    item: Item
    held: int
    edit: CountEdit
    said: RunWords


class CountSheet(Stack):
    """A sheet for one place. ``posted`` carries a ``StockTake``; a line left blank is not counted."""

    posted = Signal(object)
    cancelled = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("stock.count")
        self.lines: list[Line] = []
        self.today = date.min
        self._items: list[Item] = []
        self._rows: Mapping[int, StockRow] = {}
        self.place = Field("Counted at", editor=Choice(()), width=220, message=False)
        self.day = Field("Day", width=110, message=False)
        self.why = Field("Note", width=220, message=False, prompt="spring count")
        for name, field in (("place", self.place), ("day", self.day), ("why", self.why)):
            field.setObjectName(f"stock.count.{name}")
        self.post_it = Button("Post the count", self.post, kind="main")
        self.foot = ActFoot(Button("Cancel", self.cancelled.emit), self.post_it)
        self._lay_out()
        self.place.changed.connect(lambda _words: self._fill())
        shortcut = QShortcut(QKeySequence("Ctrl+Return"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.post)

    def begin(self, choices: Choices, rows: Sequence[StockRow], today: date) -> None:
        """A new sheet, at the usual store."""
        self.today = today
        self._items = kept_items(choices)
        self._rows = {row.id: row for row in rows if row.kind != MEDICINE}
        editor = self.place.editor
        assert isinstance(editor, Choice)
        editor.set_options(place_options(choices))
        self.place.set_value(usual_place(choices))
        self.day.set_value(long(today))
        self.why.set_value("")
        self._fill()

    def come(self) -> None:
        """The keys go to the first line."""
        (self.lines[0].edit if self.lines else self.place).setFocus(Qt.FocusReason.OtherFocusReason)

    def is_begun(self) -> bool:
        """Whether a figure was typed that is not posted."""
        return any(line.edit.text().strip() for line in self.lines)

    def post(self) -> None:
        """Hand the count over, if everything on it can be read."""
        at, on, counts = read_at(self.place.value()), self._day(), self._counts()
        if at is not None and on is not None and counts:
            self.posted.emit(StockTake(on, at, tuple(counts), self.why.value()))

    def refused(self, refusal: Refused) -> None:
        """Why it was not written."""
        self.foot.say([Run(refusal.findings[0].sentence(), "now", mark=Mark.CANNOT, small=True)])

    def _fill(self) -> None:
        """The items that lie at the place, and the others that are kept: they may lie there too."""
        at = read_at(self.place.value())
        held = {item.id: self._held(item, at) for item in self._items}
        kinds = list(KIND_WORDS)
        ordered = sorted(self._items, key=lambda item: (not held[item.id], kinds.index(item.kind), item.name))
        old = self._scroll.takeWidget()
        if old is not None:
            old.deleteLater()
        self.lines = [Line(item, held[item.id], CountEdit(item), RunWords()) for item in ordered]
        self._scroll.setWidget(self._table())
        self._tell()

    def _held(self, item: Item, at: At | None) -> int:
        row = self._rows.get(item.id)
        here = (one for one in (row.places if row else ()) if at is not None)
        return sum(
            one.quantity for one in here if at is not None and (one.kind, one.number) == (at.kind, at.number)
        )

    def _table(self) -> QWidget:
        piece = Stack()
        grid = QGridLayout()
        grid.setContentsMargins(look.px(16), look.px(8), look.px(16), look.px(8))
        grid.setHorizontalSpacing(look.px(16))
        grid.setVerticalSpacing(look.px(2))
        for column, head in enumerate(("Item", "", "By the record", "Counted", "")):
            words = Words(head, role="small", ink="ink2", weight=600)
            right = Qt.AlignmentFlag.AlignRight if column in (2, 3) else Qt.AlignmentFlag.AlignLeft
            grid.addWidget(words, 0, column, right)
        for at, line in enumerate(self.lines, start=1):
            grid.addWidget(Words(line.item.name, weight=600), at, 0)
            grid.addWidget(Words(KIND_WORDS.get(line.item.kind, ""), ink="ink2"), at, 1)
            record = said(line.held, line.item.unit) if line.held else ""
            grid.addWidget(Words(record, ink="ink3"), at, 2, Qt.AlignmentFlag.AlignRight)
            grid.addWidget(line.edit, at, 3)
            grid.addWidget(line.said, at, 4)
            line.edit.stepped.connect(lambda step, at=at: self._step(at - 1 + step))
            line.edit.textChanged.connect(lambda _text: self._tell())
        grid.setColumnStretch(4, 1)
        piece.column.addLayout(grid)
        piece.column.addStretch(1)
        return piece

    def _step(self, at: int) -> None:
        if at >= len(self.lines):
            self.post_it.setFocus(Qt.FocusReason.OtherFocusReason)
        elif at >= 0:
            edit = self.lines[at].edit
            edit.setFocus(Qt.FocusReason.TabFocusReason)
            edit.selectAll()
            self._scroll.ensureWidgetVisible(edit)

    def _tell(self) -> None:
        """Each difference beside its line, and how many in the foot."""
        typed = off = wrong = 0
        for line in self.lines:
            runs, counted_here, differs = _difference(line)
            line.said.say(runs)
            typed += bool(line.edit.text().strip())
            off += differs
            wrong += counted_here is None and bool(line.edit.text().strip())
        if not self.lines:
            self.foot.say([Run("No item is kept yet: add the items first", "ink2", small=True)])
        else:
            words = [Run(f"{typed:,} of {counted(len(self.lines), 'item')} counted", "ink", 600, gap=12)]
            words.append(Run(f"{off:,} not as the record has it" if off else "", "watch", gap=12))
            words.append(Run(f"{wrong:,} cannot be read" if wrong else "", "now", 600))
            self.foot.say([run for run in words if run.text])
        if wrong:
            self.post_it.off("A figure cannot be read")
        elif not typed:
            self.post_it.off("Nothing is counted yet")
        else:
            self.post_it.on()

    def _counts(self) -> list[CountLine]:
        found = []
        for line in self.lines:
            _runs, number, _differs = _difference(line)
            if line.edit.text().strip() and number is None:
                return []
            if number is not None:
                found.append(CountLine(line.item.id, number))
        return found

    def _day(self) -> date | None:
        try:
            return read_date(self.day.value(), self.today)
        except ValueError as error:
            self.foot.say([Run(f"{error}. Type the day as 14 May", "now", mark=Mark.CANNOT, small=True)])
            self.day.setFocus(Qt.FocusReason.OtherFocusReason)
            return None

    def _lay_out(self) -> None:
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.add(Band(Words("Count sheet", role="place", weight=600)))
        head = Band(self.place, self.day, self.why, height=60)
        head.air()
        self.add(head)
        self.add(self._scroll, 1)
        self.add(self.foot)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the sheet."""
        if event.key() == Qt.Key.Key_Escape:
            self.cancelled.emit()
        else:
            super().keyPressEvent(event)


def _difference(line: Line) -> tuple[list[Run], int | None, bool]:
    """What stands beside a line; the figure, None where there is none; whether the record has another."""
    text, item = line.edit.text().strip(), line.item
    if not text:
        return [], None, False
    try:
        number = read_quantity(text, item.unit, item.pack, item.pack_word)
    except ValueError as error:
        return [Run(str(error), "now", mark=Mark.CANNOT, small=True)], None, False
    off = number - line.held
    if not off:
        return [Run("as on record", "good", mark=Mark.MET, small=True)], number, False
    words = f"{said(abs(off), item.unit)} {'more' if off > 0 else 'less'} than the record"
    return [Run(words, "watch", mark=Mark.AGAINST, small=True)], number, True
