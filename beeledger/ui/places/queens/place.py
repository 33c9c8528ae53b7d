"""Queens: every queen with her descent, what her colonies say of her, her pedigree drawn, and the grafts.

Reads: queries.queens.list_queens, queries.queens.queen_card, queries.queens.queen_choices, queries.pedigrees.pedigree_of, queries.pedigrees.list_grafts
Acts: operations.queen_book.add_queen, operations.queen_book.describe_queen, operations.queen_book.note_mating, operations.queen_book.introduce_queen, operations.queen_book.retire_queen, operations.grafts.post_graft, operations.grafts.count_cells
Computes: rules.pedigree.pedigree, rules.queens.graft_calendar, rules.queens.marking_colour
Prints: documents.pedigree
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import TYPE_CHECKING, Any, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QStackedWidget

from beeledger.base.text import counted
from beeledger.operations.act import Done
from beeledger.queries.pedigrees import list_grafts, pedigree_of
from beeledger.queries.queens import list_queens, queen_card, queen_choices
from beeledger.queries.records.pedigree import Pedigree
from beeledger.queries.records.queens import Graft, QueenCard, QueenChoices, QueenLine
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.rows_kept import RowsKept
from beeledger.ui.parts.table_place import PaperPlace, known, shown_lines
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.queens import acts
from beeledger.ui.places.queens.card import QueenCardView
from beeledger.ui.places.queens.graft_card import GraftCardView
from beeledger.ui.places.queens.pedigree_pane import PedigreePane
from beeledger.ui.places.queens.table import COLUMNS, GRAFT_COLUMNS, graft_row, graft_sums, queen_row, sums
from beeledger.ui.widgets.cells import Row, Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

_VIEWS = (("living", "Living"), ("ended", "Ended"), ("pedigree", "Pedigree"), ("grafts", "Grafts"))


class Here(PaperPlace):
    """The queens of the farm."""

    key: ClassVar[str] = "queens"
    title: ClassVar[str] = "Queens"
    reads: ClassVar[frozenset[str]] = frozenset({
        "queen", "tenure", "mating", "mating_drone_mother", "graft_batch", "hive_mark", "placement", "round_entry", "site",
    })  # fmt: skip

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.lines: dict[int, QueenLine] = {}
        self.rows: RowsKept[QueenLine] = RowsKept(queen_row)
        self.grafts: dict[int, Graft] = {}
        self._view = "living"
        self._list = "living"
        self._wanted: int | None = None
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read what the view shows."""
        if self._view == "grafts":
            self.desk.read(list_grafts, owner=self, then=self._show_grafts, key="grafts")
        else:
            living = self._list == "living"
            self.desk.read(self._read, living=living, owner=self, then=self._show_queens, key="list")

    def show_what(self, what: object) -> None:
        """A queen by her id; ("pedigree", id) draws hers; ("graft", id) goes to a graft."""
        if isinstance(what, int):
            self._wanted = what
            self.filter.clear()
            self.go_to("living")
        elif isinstance(what, tuple) and len(what) == 2 and isinstance(what[1], int):
            self._wanted = what[1]
            self.go_to("grafts" if what[0] == "graft" else "pedigree")

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Every queen on record. Type to filter: a tag, <b>at ash lane</b>, a line, <b>virgin</b>, <b>in no colony</b>. "
            "Enter draws her pedigree; arrows walk through its boxes, Enter goes to an ancestor, Escape comes back.</p>"
            "<p>A queen's drone side follows from how her <b>dam</b> was mated; write that on the dam's card. What her "
            "colonies' records say is never typed here: it comes from the rounds while she headed them.</p>"
        )

    def go_to(self, view: str) -> None:
        """Living queens, ended ones, the pedigree of the chosen one, or the grafts."""
        if self.chips.on() != [view]:
            self.chips.choose(view)
        else:
            self._viewed([view])

    def new(self) -> None:
        """A new queen; among the grafts a new graft."""
        self.graft() if self._view == "grafts" else self.form_for("queen", None)

    def edit(self) -> None:
        """Describe the chosen queen; count the cells of the chosen graft."""
        if self._view == "grafts":
            self.count_cells()
        elif self.card.shown is not None:
            self.form_for("queen", self.card.shown.line)

    def note_mating(self) -> None:
        """Write down how the chosen queen was mated."""
        if self.card.shown is not None:
            self.form_for("mating", self.card.shown)

    def introduce(self) -> None:
        """Put the chosen queen into a colony."""
        if self.card.shown is not None:
            self.form_for("introduction", self.card.shown.line)

    def end_queen(self) -> None:
        """End the chosen queen with a cause."""
        if self.card.shown is not None:
            self.form_for("end", self.card.shown.line)

    def graft(self) -> None:
        """Write down a graft, from the chosen queen where one is chosen."""
        chosen = self.card.shown if self._view != "grafts" else None
        self.form_for("graft", chosen.line if chosen else None)

    def count_cells(self) -> None:
        """Count the cells of the chosen graft."""
        if self.graft_card.shown is not None:
            self.form_for("counts", self.graft_card.shown)

    def print_pedigree(self) -> None:
        """Show the chosen queen's pedigree on paper."""
        shown = self.card.shown
        if shown is not None and self._view != "grafts":
            number, name = shown.line.queen_id, f"Pedigree {shown.line.name}"
            self.paper.show_document("pedigree", lambda session: pedigree_of(session, number), name)

    def form_for(self, kind: str, about: Any) -> None:
        """Open one of the forms beside the table; ``about`` is what it is filled from."""

        def offered(choices: QueenChoices) -> None:
            form = acts.form_of(kind, choices, self.desk.clock.today(), about)
            self.open_form(form, kind, lambda thing: self._post(kind, form, thing, about))

        self.desk.read(queen_choices, owner=self, then=offered, key="choices")

    def _build(self) -> None:
        self.take_table(RecordTable(COLUMNS), FilterBox("a tag, at a site, a line, virgin", width=230))
        self.chips = Chips(one=True)
        self.chips.set_chips(_VIEWS, ("living",))
        self.new_button = self.button("new", "New queen", self.new)
        self.foot = TableFoot()
        self.empty = EmptyState(
            "No queen is in the record",
            "Queens come in with their colonies and with rounds; bought ones and ancestors are entered here.",
            "New queen",
            self.new,
        )
        self.empty.hide()
        self.graft_table = RecordTable(GRAFT_COLUMNS)
        self.graft_table.setObjectName("queens.grafts")
        self.graft_foot = TableFoot(self.graft_table)
        self.graft_empty = EmptyState(
            "No graft is written down",
            "A graft is a day, a queen and how many larvae; its calendar follows from biology.",
            "New graft",
            self.graft,
        )
        self.graft_empty.hide()
        self.pedigree = PedigreePane(self.print_pedigree)
        self.card = QueenCardView({
            "Edit": self.edit, "Mating": self.note_mating, "Introduce": self.introduce,
            "Graft": self.graft, "End": self.end_queen,
        })  # fmt: skip
        self.graft_card = GraftCardView(self.count_cells)
        self.take_card(self.card)
        self.side.addWidget(self.graft_card)
        self.command("Ctrl+N", "a new queen, or a new graft", self.new)
        self.command("Ctrl+E", "describe the chosen queen, or count the cells of a graft", self.edit)
        self.command("Ctrl+P", "print the pedigree", self.print_pedigree)

    def _lay_out(self) -> None:
        queens = Stack(self.empty, self.table, self.foot, grows=self.table)
        grafts = Stack(self.graft_empty, self.graft_table, self.graft_foot, grows=self.graft_table)
        self.views = QStackedWidget()
        for view in (queens, self.pedigree, grafts):
            self.views.addWidget(view)
        band = Band(self.filter, self.chips, right=[self.new_button])
        panes = Panes(Stack(band, self.views, grows=self.views), self.side)
        panes.share(836, 420)
        self.fill_front(panes)

    def _connect(self) -> None:
        self.chips.changed.connect(self._viewed)
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(lambda _id: self.go_to("pedigree"))
        self.table.shown_changed.connect(self._counted)
        self.graft_table.chosen_changed.connect(self._chosen_graft)
        self.graft_table.opened.connect(lambda _id: self.count_cells())
        self.pedigree.drawing.opened.connect(self._to_queen)
        for rows in self.card.rows.values():
            rows.opened.connect(self._follow)

    def _viewed(self, on: Sequence[Hashable]) -> None:
        self._view = str(on[0]) if on else "living"
        if self._view in ("living", "ended"):
            self._list = self._view
        at = {"pedigree": 1, "grafts": 2}.get(self._view, 0)
        self.views.setCurrentIndex(at)
        self.side.close_form()
        self.side.card = self.graft_card if at == 2 else self.card
        self.side.setCurrentWidget(self.side.card)
        self.side.back_to = (self.table, self.pedigree.drawing, self.graft_table)[at]
        self.filter.setVisible(at == 0)
        self.new_button.setText("New graft" if at == 2 else "New queen")
        self.refresh()
        self.side.back_to.setFocus(Qt.FocusReason.OtherFocusReason)

    def _read(self, session: Session, *, living: bool) -> tuple[list[QueenLine], list[Row]]:
        """Off the window's thread: two thousand rows are not made while somebody types."""
        lines = list_queens(session, living=living)
        return lines, self.rows.of(lines)

    def _show_queens(self, read: tuple[list[QueenLine], list[Row]]) -> None:
        lines, rows = read
        self.lines = {line.queen_id: line for line in lines}
        self.table.set_rows(rows)
        nothing = not lines and self._list == "living"
        self.empty.stand_for(self.table, self.foot, nothing=nothing)
        wanted, self._wanted = self._wanted, None
        if wanted is not None and self._view != "grafts":
            self._to_queen(wanted)
        else:
            self.choose()
        if self.side.form() is None:
            self._chosen(self.table.chosen())

    def _show_grafts(self, grafts: list[Graft]) -> None:
        self.grafts = {graft.graft_id: graft for graft in grafts}
        today = self.desk.clock.today()
        self.graft_table.set_rows([graft_row(graft, today) for graft in grafts])
        self.graft_empty.stand_for(self.graft_table, self.graft_foot, nothing=not grafts)
        self.graft_foot.say([Run(counted(len(grafts), "graft"), "ink", 600)])
        self.graft_foot.set_sums(graft_sums(grafts))
        self.set_subtitle("grafts, newest first" if grafts else "")
        wanted, self._wanted = self._wanted, None
        if wanted in self.grafts:
            self.graft_table.choose([wanted])
        elif grafts and not self.graft_table.chosen():
            self.graft_table.choose([grafts[0].graft_id])
        self._chosen_graft(self.graft_table.chosen())

    def _counted(self, shown: int, of: int) -> None:
        if self._view != "grafts":
            self.set_subtitle(f"{shown:,} of {of:,} {self._list}" if shown != of else f"{of:,} {self._list}")
        self.foot.say(sums(shown_lines(self.lines, self.table)))

    def _chosen(self, ids: Sequence[Hashable]) -> None:
        if ids and self._view != "grafts":
            self._read_queen(int(str(ids[-1])))
        elif not ids and self._view != "grafts":
            self.card.show_nothing()
            self.pedigree.show_pedigree(None)

    def _read_queen(self, number: int) -> None:
        self.desk.read(queen_card, number, owner=self, then=self._fill, key="card")
        if self._view == "pedigree":
            self.desk.read(pedigree_of, number, owner=self, then=self._draw, key="pedigree")

    def _fill(self, card: QueenCard | None) -> None:
        if card is None:
            self.card.show_nothing()
        else:
            self.card.show_queen(card)

    def _draw(self, pedigree: Pedigree | None) -> None:
        self.pedigree.show_pedigree(pedigree)
        if pedigree is not None:
            self.set_subtitle(pedigree.subject.words)

    def _chosen_graft(self, ids: Sequence[Hashable]) -> None:
        grafts = known(self.grafts, ids)
        if grafts:
            self.graft_card.show_graft(grafts[-1], self.desk.clock.today())
        else:
            self.graft_card.show_nothing()

    def _to_queen(self, number: object) -> None:
        """Go to a queen, also to one that the list in view does not hold."""
        if isinstance(number, int):
            if number in self.lines:
                self.table.choose([number])
            self._read_queen(number)

    def _follow(self, key: object) -> None:
        if isinstance(key, tuple) and key[0] == "colony":
            self.desk.open_place("colonies", key[1])
        elif isinstance(key, tuple):
            self._to_queen(key[1])

    def _post(self, kind: str, form: TypedForm, thing: Any, about: Any) -> None:
        def done(done: Done) -> None:
            self._wanted = done.result
            if kind == "graft" and self._view != "grafts":
                self.go_to("grafts")
            else:
                self.refresh()

        operation, arguments = acts.act_of(kind, thing, about)
        self.post(form, operation, *arguments, then=done)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape comes back from the pedigree to the list."""
        if event.key() == Qt.Key.Key_Escape and self._view == "pedigree":
            self.go_to(self._list)
        else:
            super().keyPressEvent(event)
