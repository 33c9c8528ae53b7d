"""The pane at the scale: figures typed one after another, the sum always in view, written as one act."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from beeledger.base.units import kilograms, to_scale
from beeledger.ui.places.harvest.turns import Turn, Wrong, next_name, read_turn
from beeledger.ui.widgets import look
from beeledger.ui.widgets.balance_line import BalanceLine, Part
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import BLANK, Align, Cell, Column, Row, Run
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.flow import Flow
from beeledger.ui.widgets.foot import ActFoot
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import Words

_COLUMNS = (
    Column("what", "What", slack=True, sorts=False),
    Column("gross", "Full", unit="kg", sample="9,999.999", align=Align.RIGHT, sorts=False),
    Column("tare", "Empty", unit="kg", sample="999.999", align=Align.RIGHT, sorts=False),
    Column("net", "Honey", unit="kg", sample="9,999.999", align=Align.RIGHT, sorts=False),
    Column("read", "Refractometer", sample="1.4935 at 20.4 °C", sorts=False),
    Column("water", "Water", unit="%", sample="99.9", align=Align.RIGHT, marks=True, sorts=False),
)
LIFT = "Full supers and drums are heavier than one person should lift: use two, or a lift."


class ScalePane(Stack):
    """Weighs supers, or drums out of the extractor. ``written`` says that it is to be written."""

    written = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self.drums = False
        self.in_g = 0
        self.honey_kind = "blossom"
        self.turns: list[Turn] = []
        self.title = Words("", role="place", weight=600)
        self.note = Words("", role="small", ink="ink2", wrap=True)
        self.name = Field("Drum", width=96, message=False)
        self.tare = Field("Empty", unit="kg", width=72, message=False)
        self.gross = Field("Full", unit="kg", width=76, message=False)
        self.index = Field("Refractometer", prompt="1.4935", width=84, message=False)
        self.temperature = Field("At", unit="°C", width=54, message=False)
        self.wax = Field("Wax", unit="kg", width=64, message=False)
        self.supers_table = RecordTable(_COLUMNS[:4], many=False)
        self.drums_table = RecordTable(_COLUMNS, many=False)
        self.drums_table.hide()
        self.balance = BalanceLine()
        self.write = Button("Write it down", self.written.emit, kind="main")
        self.foot = ActFoot(self.write)
        self._typed_drums: dict[str, Field] = {
            "name": self.name, "tare": self.tare, "index": self.index, "temperature": self.temperature,
            "gross": self.gross,
        }  # fmt: skip
        self._lay_out()
        self._connect()

    @property
    def table(self) -> RecordTable:
        """The list of what is typed now: supers, or drums with their refractometer."""
        return self.drums_table if self.drums else self.supers_table

    def weigh(self, title: str, note: str) -> None:
        """Begin to weigh the supers of a take."""
        self._begin(title, note, 0, drums=False)

    def extract(self, title: str, note: str, in_g: int, honey_kind: str = "blossom") -> None:
        """Begin to weigh the drums of a run in which ``in_g`` went."""
        self.honey_kind = honey_kind
        self._begin(title, note, in_g, drums=True)

    def wax_g(self) -> int | None:
        """Wax as typed; None when it is no figure."""
        text = self.wax.value()
        try:
            return to_scale(text, 1000) if text else 0
        except ValueError:
            return None

    def is_begun(self) -> bool:
        """Whether something was typed that is not written yet."""
        return bool(self.turns)

    def is_touched(self) -> bool:
        """Whether anything stands in the fields or the list."""
        return self.is_begun() or any(field.value() for field in self._typed_drums.values())

    def stop(self, words: str) -> None:
        """Nothing is on the scale."""
        self.turns = []
        self.title.setText("At the scale")
        self.note.setText(words)
        for field in (*self._typed_drums.values(), self.wax):
            field.set_value("")
            field.hide()
        self._show()
        self.balance.hide()
        self.write.off("Nothing is on the scale")
        self.foot.say([Run("Nothing is on the scale", "ink2", small=True)])

    def say_refused(self, sentence: str) -> None:
        """Why it was not written."""
        self.foot.say([Run(sentence, "now", mark=Mark.CANNOT, small=True)])

    def _begin(self, title: str, note: str, in_g: int, *, drums: bool) -> None:
        self.drums, self.in_g, self.turns = drums, in_g, []
        self.title.setText(title)
        self.note.setText(note)
        for field in (*self._typed_drums.values(), self.wax):
            field.show()
            field.set_value("")
        for field in (self.name, self.index, self.temperature, self.wax):
            field.setVisible(drums)
        self.balance.show()
        self.supers_table.setVisible(not drums)
        self.drums_table.setVisible(drums)
        self._show()

    def _typed(self) -> None:
        for field in self._typed_drums.values():
            field.clear_message()
        values = {name: field.value() for name, field in self._typed_drums.items()}
        try:
            turn = read_turn(values, self.turns, drums=self.drums, honey_kind=self.honey_kind)
        except Wrong as wrong:
            field = self._typed_drums[wrong.field]
            field.say("now", str(wrong))
            self.foot.say([Run(str(wrong), "now", mark=Mark.CANNOT, small=True)])
            field.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        self.turns.append(turn)
        self.gross.set_value("")
        if self.drums:
            self.name.set_value(next_name(turn.name))
            self.index.set_value("")
            (self.gross if self.name.value() else self.name).setFocus(Qt.FocusReason.OtherFocusReason)
        self._show()

    def _take_out(self) -> None:
        at = self.table.current_id()
        if isinstance(at, int) and 0 <= at < len(self.turns):
            self.turns.pop(at)
            self._show()

    def _show(self) -> None:
        self.table.set_rows([turn_row(at, turn, drums=self.drums) for at, turn in enumerate(self.turns)])
        wax = self.wax_g()
        parts, words, met = sum_line(self.turns, self.in_g, wax or 0, drums=self.drums)
        self.balance.say(parts, words, met=met)
        self._hold(wax, met=met)

    def _hold(self, wax: int | None, *, met: bool) -> None:
        self.wax.say("now" if wax is None else "", "this is no figure" if wax is None else "")
        if wax is None:
            self.write.off("The wax is no figure")
        elif not self.turns:
            self.write.off("Type a weight, then Enter")
        elif not met:
            self.write.off("More came out than was weighed in: look at the figures")
        else:
            self.write.on()
        last = self.turns[-1] if self.turns else None
        if last is not None and last.odd:
            self.foot.say([Run(f"{last.name}: {last.odd}", "watch", mark=Mark.ODD, small=True)])
            return
        words = self.write.reason or "Enter keeps a figure, Delete takes one out, Ctrl+Enter writes it all"
        self.foot.say([Run(words, "ink2", small=True)])

    def _lay_out(self) -> None:
        head = QWidget()
        inside = QVBoxLayout(head)
        inside.setContentsMargins(look.px(16), look.px(10), look.px(16), look.px(8))
        inside.setSpacing(look.px(4))
        row = Flow(gap=10)
        for name, field in self._typed_drums.items():
            field.setObjectName(f"harvest.scale.{name}")
        row.set_widgets(*self._typed_drums.values(), self.wax)
        self.wax.setObjectName("harvest.scale.wax")
        self.supers_table.setObjectName("harvest.scale.supers")
        self.drums_table.setObjectName("harvest.scale.drums")
        self.write.setObjectName("harvest.scale.write")
        for piece in (self.title, self.note):
            inside.addWidget(piece)
        inside.addSpacing(look.px(4))
        inside.addWidget(row)
        inside.addWidget(Words(LIFT, role="small", ink="watch", wrap=True))
        self.add(head)
        self.add(self.supers_table, 1)
        self.add(self.drums_table, 1)
        self.add(self.balance)
        self.add(self.foot)

    def _connect(self) -> None:
        for field in self._typed_drums.values():
            assert isinstance(field.editor, QLineEdit)
            field.editor.returnPressed.connect(lambda field=field: self._enter(field))
        self.wax.changed.connect(lambda _text: self._show())
        shortcut = QShortcut(QKeySequence("Ctrl+Return"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(lambda: self.written.emit() if self.write.isEnabled() else None)

    def _enter(self, field: Field) -> None:
        """Enter goes on to the next field, and from the last keeps the turn."""
        if field is self.gross:
            self._typed()
            return
        shown = [each for each in self._typed_drums.values() if not each.isHidden()]
        shown[shown.index(field) + 1].setFocus(Qt.FocusReason.TabFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Delete and self.table.hasFocus():
            self._take_out()
        else:
            super().keyPressEvent(event)


def turn_row(at: int, turn: Turn, *, drums: bool) -> Row:
    """A turn in the list."""
    water = Cell(
        turn.water_words(), "watch" if turn.odd else "ink", mark=Mark.ODD if turn.odd else None, tip=turn.odd
    )
    cells = (
        Cell(turn.name if drums else f"turn {at + 1}", weight=600), Cell(kilograms(turn.gross_g, 3)),
        Cell(kilograms(turn.tare_g, 3), "ink2"), Cell(kilograms(turn.net_g, 3), weight=600),
        Cell(turn.read_words(), "ink2"), water if turn.refractive_index_e5 is not None else BLANK,
    )  # fmt: skip
    return Row(at, cells if drums else cells[:4])


def sum_line(turns: Sequence[Turn], in_g: int, wax_g: int, *, drums: bool) -> tuple[list[Part], str, bool]:
    """The balance while it is typed: what is on the scale, and what is still to come out."""
    net = sum(turn.net_g for turn in turns)
    if not drums:
        count = f"{len(turns)} {'turn' if len(turns) == 1 else 'turns'}"
        return [Part(kilograms(net, 3), "honey in these supers", "kg", count)], "", True
    left = in_g - net - wax_g
    parts = [
        Part(kilograms(in_g, 3), "weighed in", "kg"),
        Part(kilograms(net, 3), "in drums", "kg", sign="="),
        Part(kilograms(wax_g, 3), "wax", "kg", sign="+"),
        Part(kilograms(left, 3), "to come, or loss", "kg", sign="+"),
    ]
    if left < 0:
        return parts, f"{kilograms(-left, 3)} kg too much", False
    return parts, "", True
