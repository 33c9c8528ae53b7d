"""Batches: each jarring with its balance, sources, readings, weighing check and label, and what waits to be done.

Reads: queries.labels.batches, queries.labels.batch_card, queries.labels.customers, queries.trace.way_back, queries.honey.lots
Acts: operations.jars.send_jars, operations.labels.jar_batch, operations.labels.change_label, operations.labels.weigh_jars, operations.labels.print_labels
Computes: rules.label_law.check_label, rules.weighing.check_weights, rules.trace.contributions, rules.lot_marks.make_mark
Prints: documents.label_sheet, documents.batch_record
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import replace
from functools import partial
from typing import Any, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QStackedWidget, QWidget

from beeledger.base.errors import Refused
from beeledger.base.text import counted
from beeledger.operations.act import Done
from beeledger.operations.jars import send_jars
from beeledger.operations.labels import (
    LabelCount,
    NewBatch,
    change_label,
    jar_batch,
    print_labels,
    weigh_jars,
)
from beeledger.queries.honey import LotLine
from beeledger.queries.records.batch_card import BatchLine
from beeledger.queries.trace import WayBack
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.paper import PaperPane
from beeledger.ui.parts.table_place import TablePlace
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.batches.acts import count_form, jar_form, jars_form, label_form
from beeledger.ui.places.batches.card import BatchView
from beeledger.ui.places.batches.reading import (
    Shown,
    batch_paper,
    batch_shown,
    batches_listed,
    customers_named,
    lots_to_jar,
    way_of,
)
from beeledger.ui.places.batches.sheets import LabelPane, WayPane
from beeledger.ui.places.batches.table import COLUMNS, batch_row, state_of
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable


class Here(TablePlace):
    """The batches of the farm, newest first."""

    key: ClassVar[str] = "batches"
    title: ClassVar[str] = "Batches"
    reads: ClassVar[frozenset[str]] = frozenset(
        {
            "batch",
            "honey_lot",
            "honey_transfer",
            "reading",
            "jar_weight",
            "party",
            "farm_setting",
            "site",
            "take",
        }
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.lines: dict[int, BatchLine] = {}
        self._wanted: int | None = None
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read the batches and the one that is chosen."""
        self.desk.read(batches_listed, owner=self, then=self._show, key="list")

    def show_what(self, what: object) -> None:
        """A batch by its id; ("jar", lot id) opens the form for a new one from that lot."""
        if isinstance(what, int):
            self._wanted = what
            if what in self.lines:
                self.table.choose([what])
        elif isinstance(what, tuple) and len(what) == 2 and what[0] == "jar":
            self.jar(what[1])

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>A jarring gets the next lot mark, which leads back to every site, hive and treatment behind it.</p>"
            "<p>Weigh full jars one after another: type the weight, press Enter. The three rules of average weight are "
            "judged as you type.</p><p>Labels print only when each particular that the law asks for stands on them. What "
            "is ticked is this program's reading of the law; the law itself and its officers decide. Honey is not for "
            "infants under 12 months.</p>"
        )

    def jar(self, lot_id: int | None = None) -> None:
        """Open the form for a new jarring."""

        def offered(lots: tuple[LotLine, ...]) -> None:
            form = jar_form(lots, self.desk.clock.today())
            if lot_id is not None:
                form.set_values({"lot_id": str(lot_id)})
            self._open(form, "jar", jar_batch, self._jarred)

        self.desk.read(lots_to_jar, owner=self, then=offered, key="lots")

    def edit_label(self) -> None:
        """Open the form for the label."""
        if self.view.shown is not None:
            form = label_form(self.view.shown.card, self.desk.clock.today())
            self._open(form, "label", change_label)

    def count_labels(self) -> None:
        """Open the form for counted labels."""
        if self.view.shown is not None:
            form = count_form(self.view.shown.card, self.desk.clock.today())
            self._open(form, "count", print_labels)

    def send_out(self) -> None:
        """Open the form for jars that leave."""
        shown = self.view.shown
        if shown is None:
            return

        def offered(names: tuple[str, ...]) -> None:
            form = jars_form(shown.card, names, self.desk.clock.today())
            self._open(form, "out", send_jars)

        self.desk.read(customers_named, owner=self, then=offered, key="customers")

    def print_sheets(self) -> None:
        """Show the sheets of labels as they will print; held while a particular fails."""
        if self.view.shown is not None and self.view.print.isEnabled():
            self.labels.show_labels(self.view.shown.card)
            self.right.setCurrentWidget(self.labels)

    def print_record(self) -> None:
        """Show the batch record as it will print."""
        if self.view.shown is not None:
            line = self.view.shown.card.line
            self.paper.show_document(
                "batch-record",
                lambda session: batch_paper(session, line.id),
                f"batch record {line.lot_mark}",
            )
            self.right.setCurrentWidget(self.paper)

    def show_way(self) -> None:
        """Show the way back of the chosen lot mark."""
        if self.view.shown is not None:

            def found(way: WayBack | None) -> None:
                if way is not None:
                    self.way.show_way(way)
                    self.right.setCurrentWidget(self.way)
                    self.way.close_it.setFocus(Qt.FocusReason.OtherFocusReason)

            mark = self.view.shown.card.line.lot_mark
            self.desk.read(way_of, mark, owner=self, then=found, key="way")

    def _show(self, lines: tuple[BatchLine, ...]) -> None:
        self.lines = {line.id: line for line in lines}
        self.table.set_rows([batch_row(line) for line in lines])
        self.foot.say([Run(counted(len(lines), "batch", "batches"), "ink", 600)])
        waiting = sum(state_of(line)[0] is not None for line in lines)
        words = counted(len(lines), "batch", "batches")
        self.set_subtitle((f"{words}, {waiting} to see to" if waiting else words) if lines else "")
        if not lines:
            self.right.setCurrentWidget(self.empty)
            return
        if self.right.currentWidget() is self.empty:
            self.right.setCurrentWidget(self.side)
        self.choose(self._wanted)
        self._read_chosen()
        self._wanted = None

    def _chosen(self, _ids: list[Hashable]) -> None:
        self.side.close_form()
        if self.lines:
            self.right.setCurrentWidget(self.side)
        self._read_chosen()

    def _read_chosen(self) -> None:
        chosen = self.table.chosen()
        if chosen:
            self.desk.read(batch_shown, int(str(chosen[0])), owner=self, then=self._fill, key="card")

    def _fill(self, shown: Shown | None) -> None:
        if shown is not None:
            self.view.show_batch(shown)

    def _weighed(self, weights: list[int]) -> None:
        if self.view.shown is None:
            return

        def kept(_done: Done) -> None:
            self.view.weighing.waiting -= 1

        def refused(refusal: Refused) -> None:
            self.view.weighing.waiting = 0
            self.desk.say(refusal.findings[0].sentence(), "now", findings=refusal.findings)
            self._read_chosen()

        number = self.view.shown.card.line.id
        self.desk.act(weigh_jars, number, weights, owner=self, then=kept, refused=refused)

    def _jarred(self, done: Done) -> None:
        self._wanted = int(done.result)
        self.refresh()

    def _unless_typing(self, act: Callable[[], None]) -> None:
        """Do something else only when no form would be lost by it."""
        if self.side.form() is not None:
            self.desk.say("A form is open", "watch", "Keep it with Ctrl Enter, or leave it with Escape.")
        else:
            act()

    def _open(
        self, form: TypedForm, name: str, operation: Callable[..., str], then: Callable[[Done], None] | None = None
    ) -> None:  # fmt: skip
        def ready(thing: Any) -> None:
            if isinstance(thing, NewBatch):
                thing = replace(thing, accepted=form.asked)
            self.post(form, operation, thing, then=then)

        self.open_form(form, name, ready)
        self.right.setCurrentWidget(self.side)

    def _write_down(self, count: int) -> None:
        if self.view.shown is not None:
            new = LabelCount(self.view.shown.card.line.id, printed=count)
            self.desk.act(print_labels, new, owner=self, then=lambda _done: self._back())

    def _back(self) -> None:
        self.right.setCurrentWidget(self.side)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.take_table(RecordTable(COLUMNS, many=False), FilterBox("Lot mark, product, day", width=190))
        self.foot = TableFoot()
        self.new = self.button("new", "New", self.jar)
        self.view = BatchView()
        self.take_card(self.view)
        self.labels, self.paper, self.way = LabelPane(self.desk), PaperPane(self.desk), WayPane()
        self.empty = EmptyState(
            "No batch yet", "A jarring gets a lot mark, a label and a record. It draws from a tank or a drum.",
            "Jar honey", self.jar,
        )  # fmt: skip

    def _lay_out(self) -> None:
        left = Stack(Band(self.filter, right=[self.new]), self.table, self.foot, grows=self.table)
        self.right = QStackedWidget()
        pieces: tuple[QWidget, ...] = (self.empty, self.side, self.labels, self.paper, self.way)
        for piece in pieces:
            self.right.addWidget(piece)
        panes = Panes(left, self.right)
        panes.share(420, 836)
        panes.setStretchFactor(0, 0)
        panes.setStretchFactor(1, 1)
        self.fill(panes)

    def _connect(self) -> None:
        self.table.chosen_changed.connect(self._chosen)
        self.view.weighed.connect(self._weighed)
        self.labels.printed.connect(self._write_down)
        for pane in (self.labels, self.paper, self.way):
            pane.closed.connect(self._back)
        acts: tuple[tuple[str, str, Callable[[], None], Button | None], ...] = (
            ("Ctrl+N", "jar honey", self.jar, None),
            ("Ctrl+E", "edit the label", self.edit_label, self.view.edit),
            ("Ctrl+P", "print the labels", self.print_sheets, self.view.print),
            ("Ctrl+Shift+P", "the batch record", self.print_record, self.view.record),
            ("Ctrl+L", "count labels", self.count_labels, self.view.count),
            ("Ctrl+D", "jars that leave", self.send_out, self.view.send),
            ("Ctrl+B", "the way back to the hives", self.show_way, self.view.way),
            ("Ctrl+J", "weigh the next jar", self._to_gross, None),
        )
        for chord, words, act, button in acts:
            self.command(chord, words, partial(self._unless_typing, act), button)

    def _to_gross(self) -> None:
        self._back()
        self.view.weighing.gross.setFocus(Qt.FocusReason.ShortcutFocusReason)
