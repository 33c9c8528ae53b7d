"""Printing labels: how many, from which place of a sheet begun, with or without edges; and the way back of a mark."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QLineEdit, QWidget

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.base.units import kilograms, per_cent
from beeledger.queries.labels import label_run
from beeledger.queries.records.batch_card import BatchCard
from beeledger.queries.records.recall import HiveBehind
from beeledger.queries.trace import WayBack
from beeledger.rules.label_sheets import load_sheets
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.paper import PaperPane
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.words import Words


class LabelPane(Stack):
    """The sheets as they will print, made anew when a figure changes."""

    closed = Signal()
    printed = Signal(int)
    """So many labels are to be written down as printed."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self.card: BatchCard | None = None
        self.paper = PaperPane(desk)
        self.count = QLineEdit()
        self.first = QLineEdit()
        self.edges = QCheckBox("edges, for a trial print")
        self.words = Words("", role="small", ink="ink2")
        self.write_down = Button("Write down as printed", self._write_down)
        self._lay_out()
        self.paper.closed.connect(self.closed)

    def show_labels(self, card: BatchCard) -> None:
        """Show the sheets of a batch: one label a jar, from the first place."""
        self.card = card
        self.count.setText(str(card.line.jars))
        self.first.setText("1")
        self._make()

    def run_wanted(self) -> tuple[int, int] | None:
        """How many labels and from which place on, counted from 0; None when a figure is none."""
        if self.card is None:
            return None
        sheet = load_sheets()[self.card.sheet]
        count, first = _figure(self.count.text()), _figure(self.first.text())
        if count is None or first is None or not 1 <= count <= 20_000 or not 1 <= first <= sheet.labels:
            return None
        return count, first - 1

    def _make(self) -> None:
        wanted, card = self.run_wanted(), self.card
        if card is None:
            return
        sheet = load_sheets()[card.sheet]
        if wanted is None:
            self.words.set_ink("now")
            self.words.setText(f"labels 1 to 20,000, from place 1 to {sheet.labels}")
            return
        count, first = wanted
        self.words.set_ink("ink2")
        self.words.setText(f"{counted(sheet.pages_for(count, first), 'sheet')} of {sheet.name}")
        edges, number = self.edges.isChecked(), card.line.id
        self.paper.show_document(
            "label-sheet",
            lambda session: label_run(session, number, count, first, outlines=edges),
            f"labels {card.line.lot_mark}",
        )

    def _write_down(self) -> None:
        wanted = self.run_wanted()
        if wanted is not None:
            self.printed.emit(wanted[0])

    def _lay_out(self) -> None:
        self.count.setObjectName("batches.labels.count")
        self.first.setObjectName("batches.labels.first")
        self.edges.setObjectName("batches.labels.edges")
        self.write_down.setObjectName("batches.labels.write")
        band = Band()
        for name, field in (("Labels", self.count), ("from place", self.first)):
            field.setFixedWidth(look.px(64))
            field.setAlignment(Qt.AlignmentFlag.AlignRight)
            field.setAccessibleName(name)
            field.editingFinished.connect(self._make)
            band.add(Words(name, role="small", ink="ink2"))
            band.add(field)
        band.add(self.edges)
        band.add(self.words)
        band.air()
        band.add(self.write_down)
        self.edges.toggled.connect(lambda _on: self._make())
        self.add(band)
        self.add(self.paper, 1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


class WayPane(Card):
    """A lot mark's way back to its sites, hives, treatments and feeds."""

    closed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.close_it = Button("Close", self.closed.emit)
        self.close_it.setObjectName("batches.way.close")
        self.head.set_acts_beside(self.close_it)
        self.sites, self.hives = FactRows(middle_at=160), FactRows(middle_at=160)
        self.section("batches.way.sites", "Sites", self.sites)
        self.section("batches.way.hives", "Hives, and what they were given in the year before", self.hives)

    def show_way(self, way: WayBack) -> None:
        """Fill it."""
        self.say(f"L {way.lot_mark}", (), f"{way.product}, {way.jars:,} jars: the way back to its hives")
        self.sites.say(
            [
                Fact(
                    source.name, f"{kilograms(source.grams)} kg, {per_cent(source.share_hundredths)} %",
                    middle=f"taken {long(source.taken)}, {source.through}" if source.taken else source.through,
                    weight=600,
                )
                for source in way.sources
            ]
        )  # fmt: skip
        self.sections["batches.way.hives"].say(counted(len(way.hives), "line"))
        self.hives.say([_hive(hive) for hive in way.hives])

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


def _hive(hive: HiveBehind) -> Fact:
    given = "; ".join((*hive.treatments, *hive.feeds)) or "nothing given"
    reason = f"; taken for a reason: {hive.reason}" if hive.reason else ""
    name = f"hive {hive.mark}" if hive.mark else "the site as a whole"
    where = f"{hive.site}, {long(hive.taken_on)}"
    return Fact(name, counted(hive.supers, "super"), second=f"{given}{reason}", middle=where, weight=500)


def _figure(text: str) -> int | None:
    plain = text.strip().replace(",", "")
    return int(plain) if plain.isascii() and plain.isdigit() else None
