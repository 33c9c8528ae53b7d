"""Dispatch: what left the farm and to whom, what came back or was lost, and the recall of a lot mark.

Reads: queries.dispatches.dispatch_log, queries.dispatches.dispatch_card, queries.dispatches.dispatch_choices, queries.recall.recall
Acts: operations.dispatches.post_dispatch, operations.dispatches.take_back, operations.jars.lose_jars, operations.honey_lots.hold_lot, operations.honey_lots.free_lot
Computes: rules.lot_marks.read_mark, rules.jars.grams_of, rules.trace.contributions
Prints: documents.delivery_note, documents.recall
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Any, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QWidget

from beeledger.base.text import counted
from beeledger.base.units import kilograms
from beeledger.operations.act import Done
from beeledger.operations.dispatches import post_dispatch, take_back
from beeledger.operations.honey_lots import free_lot, hold_lot
from beeledger.operations.jars import lose_jars
from beeledger.queries.dispatches import PAGE, delivery_note, dispatch_card, dispatch_choices, dispatch_log
from beeledger.queries.recall import recall
from beeledger.queries.records.dispatch_desk import DispatchCard, DispatchChoices, DispatchRow
from beeledger.queries.records.recall import Recall
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.papers import hang_papers
from beeledger.ui.parts.side_panes import SidePanes
from beeledger.ui.parts.table_place import PaperPlace, shown_lines
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.dispatch.card import DispatchView
from beeledger.ui.places.dispatch.forms import DispatchForm, back_form, hold_form, lost_form
from beeledger.ui.places.dispatch.recall_view import RecallView
from beeledger.ui.places.dispatch.table import COLUMNS, dispatch_row
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable


class Here(PaperPlace):
    """The dispatches of the farm, newest first."""

    key: ClassVar[str] = "dispatch"
    title: ClassVar[str] = "Dispatch"
    reads: ClassVar[frozenset[str]] = frozenset(
        {"dispatch", "honey_transfer", "honey_lot", "batch", "party", "party_contact"}
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.rows: dict[int, DispatchRow] = {}
        self._wanted: int | None = None
        self._mark = ""
        self._before: QWidget | None = None
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read the dispatches; a recall that is in front is read again."""
        self.desk.read(dispatch_log, owner=self, then=self._show, key="list")
        if self.front.currentWidget() is self.view_recall:
            self.show_recall(self._mark)

    def show_what(self, what: object) -> None:
        """A dispatch by its id; ("recall", lot mark) shows everything of that mark."""
        if isinstance(what, int):
            self._wanted = what
            self._back()
            self.refresh()
        elif isinstance(what, tuple) and len(what) == 2 and what[0] == "recall":
            self.show_recall(str(what[1]))

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Write down what leaves with its lot marks. What goes to a business needs its name: the law asks for one "
            "step forward. Sales to the public need none.</p><p><b>Recall</b>: type a lot mark as it stands on the jar, with "
            "or without blanks and dashes; a mistyped one is noticed by its check digits. You see every jar of it: who got "
            "how many, what is here, what came back, and which hives stand behind it.</p><p>What comes back is held until it "
            "is freed for a written reason. What is to be done is for the authority and the law to say.</p>"
        )

    def new(self) -> None:
        """Open the form of a new dispatch."""

        def offered(choices: DispatchChoices) -> None:
            form = DispatchForm(choices, self.desk.clock.today())
            self._open(form, "form", post_dispatch, self._posted)

        self.desk.read(dispatch_choices, owner=self, then=offered, key="choices")

    def came_back(self) -> None:
        """Open the form of what came back of the chosen dispatch."""
        card = self.card.shown
        if card is not None and self.card.back.isEnabled():
            self._open(back_form(card, self.desk.clock.today()), "back", take_back)

    def lost(self) -> None:
        """Open the form of jars that are lost."""

        def offered(choices: DispatchChoices) -> None:
            form = lost_form(choices, self.desk.clock.today())
            self._open(form, "lost", lose_jars)

        self.desk.read(dispatch_choices, owner=self, then=offered, key="choices")

    def print_note(self) -> None:
        """Show the delivery note of the chosen dispatch, or the paper of the recall in front."""
        if self.front.currentWidget() is self.view_recall:
            self.print_recall()
        elif (card := self.card.shown) is not None:
            number, name = card.row.id, card.row.reference or str(card.row.id)
            self._paper(
                "delivery-note", lambda session: delivery_note(session, number), f"delivery note {name}"
            )

    def print_recall(self) -> None:
        """Show the recall as it will print."""
        if (found := self.view_recall.shown) is not None:
            mark = found.lot_mark
            self._paper("recall-paper", lambda session: recall(session, mark), f"recall {mark}")

    def to_mark(self) -> None:
        """Go to the field of the lot mark."""
        self._back()
        self.mark.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.mark.selectAll()

    def show_recall(self, mark: str) -> None:
        """Everything of a lot mark, as typed."""
        if not mark.strip():
            self.to_mark()
            return

        def found(what: Recall | None) -> None:
            if what is None:
                self.desk.say(
                    f"No jar of this farm bears {mark.strip()}", "watch", "Read it again from the jar."
                )
                return
            self._mark = what.lot_mark
            self.view_recall.show_recall(what)
            if self.front.currentWidget() is not self.paper:
                self.front.setCurrentWidget(self.view_recall)
                self.view_recall.close_it.setFocus(Qt.FocusReason.OtherFocusReason)
            self.set_subtitle(f"recall of L {what.lot_mark}")

        def failed(error: BaseException) -> None:
            if not isinstance(error, ValueError):
                self.desk.fault(error)
                return
            self.desk.say(f"{error}.", "now", "Read it again from the jar, character by character.")

        self.desk.read(recall, mark, owner=self, then=found, failed=failed, key="recall")

    def hold(self, lot_id: Hashable) -> None:
        """Open the form that holds or frees jars of the mark in front."""
        found = self.view_recall.shown
        lot = next((each for each in found.lots if each.lot_id == lot_id), None) if found else None
        if lot is None:
            return
        mark = self._mark
        self.front.setCurrentIndex(0)
        self._open(
            hold_form(lot, self.desk.clock.today()), "hold", free_lot if lot.hold else hold_lot,
            lambda _done: self.show_recall(mark),
        )  # fmt: skip

    def _show(self, rows: tuple[DispatchRow, ...]) -> None:
        self.rows = {row.id: row for row in rows}
        self.table.set_rows([dispatch_row(row) for row in rows])
        first = bool(rows) and self.table.isHidden() and self.side.form() is None
        self.empty.stand_for(self.table, nothing=not rows)
        if first and self.isVisible():
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        self._say_foot()
        if self.front.currentWidget() is not self.view_recall:
            self.set_subtitle("newest first" if rows else "")
        if not rows:
            self.card.show_nothing()
            return
        wanted, self._wanted = self._wanted, None
        self.choose(wanted)
        self._read_chosen()

    def _say_foot(self) -> None:
        shown = shown_lines(self.rows, self.table)
        more = ", the newest" if len(self.rows) >= PAGE else ""
        self.foot.say([Run(f"{counted(len(shown), 'dispatch', 'dispatches')}{more}", "ink", 600)])
        back = sum(row.back for row in shown)
        sums = {
            "jars": f"{sum(row.jars for row in shown):,}", "back": f"{back:,}" if back else "",
            "kg": kilograms(sum(row.grams for row in shown)),
        }  # fmt: skip
        self.foot.set_sums(sums if shown else {})

    def _read_chosen(self) -> None:
        chosen = self.table.chosen()
        if chosen:
            self.desk.read(dispatch_card, int(str(chosen[-1])), owner=self, then=self._fill, key="card")

    def _fill(self, card: DispatchCard | None) -> None:
        if card is None:
            self.card.show_nothing()
        else:
            self.card.show_dispatch(card)
            self.papers.show_of(("dispatch", card.row.id))

    def _posted(self, done: Done) -> None:
        self._wanted = int(done.result)
        self.refresh()

    def _open(
        self, form: TypedForm, name: str, act: Callable[..., str], then: Callable[[Done], None] | None = None
    ) -> None:
        """Show a form; what it makes is handed to the act."""

        def ready(thing: Any) -> None:
            self.post(form, act, *(thing if isinstance(thing, tuple) else (thing,)), then=then)

        self.open_form(form, name, ready)

    def _paper(self, key: str, query: Callable[..., Any], name: str) -> None:
        self._before = self.front.currentWidget()
        self.paper.show_document(key, query, name)

    def close_paper(self) -> None:
        """Back from the paper to what it was asked for from: the recall, or the table."""
        if self._before is self.view_recall:
            self.front.setCurrentWidget(self.view_recall)
            self.view_recall.close_it.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self._back()

    def _back(self) -> None:
        self.front.setCurrentIndex(0)
        self.set_subtitle("newest first" if self.rows else "")
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        box = FilterBox("Receiver, lot mark, paper or day", width=230)
        self.take_table(RecordTable(COLUMNS, many=False), box)
        self.table.setAccessibleName("Dispatches, newest first")
        self.foot = TableFoot(self.table)
        self.mark = QLineEdit()
        self.mark.setObjectName("dispatch.mark")
        self.mark.setPlaceholderText("Lot mark of a jar")
        self.mark.setAccessibleName("Lot mark to recall")
        self.mark.setFixedHeight(look.px(28))
        self.mark.setMinimumWidth(look.px(96))
        self.mark.setMaximumWidth(look.px(150))
        self.recall_it = self.button(
            "recall_it", "Recall", lambda: self.show_recall(self.mark.text()), icon=""
        )
        self.card = DispatchView(Button("Delivery note", icon="print"), Button("Came back"))
        self.papers = hang_papers(self.card, self.desk, "dispatch")
        self.take_card(self.card)
        self.view_recall = RecallView()
        self.empty = EmptyState(
            "Nothing has been sent yet",
            "A dispatch is written when jars or drums leave: to whom, of which lot marks, with which paper.",
            "New dispatch", self.new,
        )  # fmt: skip

    def _lay_out(self) -> None:
        new, lost = self.button("new", "New", self.new), self.button("lost_jars", "Jars lost", self.lost, "")
        band = Band(self.filter, right=[self.mark, self.recall_it, lost, new])
        left = Stack(band, self.empty, self.table, self.foot, grows=self.table)
        self.fill_front(SidePanes(left, self.side, wanted=400, most=40), self.view_recall)

    def _connect(self) -> None:
        self.table.chosen_changed.connect(self._chosen)
        self.table.shown_changed.connect(lambda *_: self._say_foot())
        self.mark.returnPressed.connect(lambda: self.show_recall(self.mark.text()))
        self.card.lots.opened.connect(lambda mark: self.show_recall(str(mark)))
        self.view_recall.related.opened.connect(lambda mark: self.show_recall(str(mark)))
        self.view_recall.here.opened.connect(self.hold)
        self.view_recall.closed.connect(self._back)
        self.view_recall.print.clicked.connect(lambda _on=False: self.print_recall())
        self.command("Ctrl+N", "write a new dispatch", self.new)
        self.command("Ctrl+B", "recall: the way of a lot mark", self.to_mark)
        self.command(
            "Ctrl+P", "print the delivery note, or the recall", self.print_note, self.card.print_note
        )
        self.command("Ctrl+R", "take back what was returned", self.came_back, self.card.back)
        self.command("Ctrl+L", "jars that are lost", self.lost)
        self.command("Ctrl+Shift+N", "in the form: another lot")

    def _chosen(self, _ids: list[Hashable]) -> None:
        self.side.close_form()
        self._read_chosen()
