"""Moves: the log of every trip with hives, a new one typed by keyboard, the register on paper.

Reads: queries.moves.move_log, queries.moves.move_card, queries.moves.move_choices, queries.move_typing.read_move, queries.contacts.contacts_of_site
Acts: operations.moves.post_move, operations.moves.correct_move, operations.moves.plan_move, operations.moves.deliver_move, operations.moves.drop_plan, operations.parties.add_vehicle
Computes: rules.moves.check_move, rules.hive_lists.read_hive_list, rules.journeys.spliced, rules.contacts.onward, rules.contacts.traced_back
Prints: documents.movement_register, documents.contacts
"""

from __future__ import annotations

from collections.abc import Hashable
from datetime import date, timedelta
from typing import ClassVar

from beeledger.base.text import counted
from beeledger.operations.act import Done
from beeledger.operations.moves import drop_plan
from beeledger.operations.parties import add_vehicle
from beeledger.queries.contacts import contacts_of_site
from beeledger.queries.moves import PAGE, LogFilter, move_card, move_choices, move_log, register_record
from beeledger.queries.records.move_desk import MoveCard, MoveChoices, MoveRow
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.table_place import PaperPlace, shown_lines
from beeledger.ui.parts.vehicle_form import vehicle_form
from beeledger.ui.places.moves.acts import plan, post, read
from beeledger.ui.places.moves.card import MoveCardView
from beeledger.ui.places.moves.contacts import ContactsWanted, contacts_form
from beeledger.ui.places.moves.forms import (
    MoveForm,
    RegisterWanted,
    is_plain,
    register_form,
    values_of,
)
from beeledger.ui.places.moves.table import COLUMNS, move_row
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable

_PERIODS = (("all", "all"), ("year", "this year"), ("month", "last 30 days"))
_SPECIAL = ("contract", "site", "colony")


class Here(PaperPlace):
    """The log of moves."""

    key: ClassVar[str] = "moves"
    title: ClassVar[str] = "Moves"
    reads: ClassVar[frozenset[str]] = frozenset(
        {"move", "move_line", "placement", "site", "vehicle", "contract"}
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.rows: list[MoveRow] = []
        self.wanted = LogFilter()
        self._whole = True
        self._special: tuple[str, int] | None = None
        self._choose_next: int | None = None
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read the newest page of what the filter asks for."""
        self.wanted = self._filter_of()
        limit = max(PAGE, len(self.rows))
        self.desk.read(
            move_log, self.wanted, limit=limit, owner=self, key="log",
            then=lambda rows: self._show(rows, whole=len(rows) < limit),
        )  # fmt: skip

    def show_what(self, what: object) -> None:
        """A move by its id; ("contract" | "site" | "colony", id, name) filters; ("new", site id, "12, 13") types."""
        if isinstance(what, int):
            self._choose_next = what
            self._special = None
            self.only.take_away("only")
            self.chips.choose("all")
        elif isinstance(what, tuple) and len(what) >= 2 and what[0] in _SPECIAL and isinstance(what[1], int):
            name = str(what[2]) if len(what) > 2 else f"one {what[0]}"
            self._special = (str(what[0]), what[1])
            self.only.add("only", name, on=True, removable=True)
            self._again()
        elif isinstance(what, tuple) and what and what[0] == "new":
            start, hives = (*what[1:], "", "")[:2]
            self.new({"from": str(start or ""), "hives": str(hives)})

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Every trip with hives. Type the list as the crew does: <b>12-18, 21</b>; <b>40x</b> or <b>not 40</b> is left "
            "behind; <b>all</b> takes all that stand there, <b>all not 12</b> all but one. Days past can be typed: what came "
            "later is looked at again.</p><p>Where the record says otherwise, the program asks: Ctrl+R accepts the sheet and "
            "corrects the record in the same act.</p>"
            "<p><b>Contacts</b> follows a site through dated moves and gifts, onward or back, and lists whom to call. It "
            "reckons by the record alone; what a contact means is for the bee inspector to say.</p>"
        )

    def new(self, values: dict[str, str] | None = None) -> None:
        """Open the form of a new move."""
        today = self.desk.clock.today()

        def offered(choices: MoveChoices) -> None:
            form = MoveForm(choices, today)
            self._open_move_form(form)
            if values:
                form.fill(values)

        self.desk.read(move_choices, today, owner=self, then=offered, key="choices")

    def correct(self) -> None:
        """Open the chosen move in the form."""
        card = self.card.shown
        if card is None:
            return
        if not is_plain(card):
            self.desk.say(
                "This move has several ways or lost hives, which the form does not hold",
                "watch",
                "Take it back in History and post it again.",
            )
            return
        today = self.desk.clock.today()

        def offered(choices: MoveChoices) -> None:
            form = MoveForm(choices, today, card)
            self._open_move_form(form)
            form.fill(values_of(card))

        self.desk.read(move_choices, today, owner=self, then=offered, key="choices")

    def drop_plan(self) -> None:
        """Take the chosen plan out of the log."""
        if self.card.shown is not None and self.card.shown.row.state == "planned":
            self.desk.act(drop_plan, self.card.shown.row.id, owner=self)

    def register(self) -> None:
        """Ask for the period and site of the register."""
        today = self.desk.clock.today()
        first = min((row.on for row in self.rows), default=today)

        def offered(choices: MoveChoices) -> None:
            site = self._special[1] if self._special and self._special[0] == "site" else None
            form = register_form(choices, today, max(first, date(today.year, 1, 1)), site)
            self.open_form(form, "register", self._print_register)

        self.desk.read(move_choices, today, owner=self, then=offered, key="choices")

    def contacts(self) -> None:
        """Ask whose contacts: of the site filtered for, or of the one the chosen move came from."""
        today = self.desk.clock.today()

        def offered(choices: MoveChoices) -> None:
            site = self._special[1] if self._special and self._special[0] == "site" else None
            self.open_form(contacts_form(choices, today, site), "contacts", self._show_contacts)

        self.desk.read(move_choices, today, owner=self, then=offered, key="choices")

    def add_vehicle(self) -> None:
        """Open the form of a vehicle."""
        self.ask(vehicle_form(self.desk.clock.today()), "vehicle", add_vehicle)

    def _build(self) -> None:
        self.take_table(RecordTable(COLUMNS), FilterBox("Site, vehicle, driver or contract"))
        self.foot = TableFoot(self.table)
        self.chips = Chips(one=True)
        self.chips.set_chips(_PERIODS, on=["all"])
        self.only = Chips()
        self.empty = EmptyState(
            "No move yet",
            "A move is typed from the sheet: from, to, times, and the hives as a list.",
            "Type the first move",
            self.new,
        )
        self.card = MoveCardView(
            Button("Correct", self.correct),
            Button("Drop the plan", self.drop_plan),
            Button("Register", self.register, icon="print"),
        )
        self.take_card(self.card)

    def _lay_out(self) -> None:
        met = self.button("contacts", "Contacts", self.contacts, icon="")
        van = self.button("add_vehicle", "Add a vehicle", self.add_vehicle, icon="")
        new = self.button("new", "New move", self.new)
        band = Band(self.filter, self.chips, self.only, right=[met, van, new])
        left = Stack(band, self.empty, self.table, self.foot, grows=self.table)
        panes = Panes(left, self.side)
        panes.share(866, 394)
        self.fill_front(panes)

    def _connect(self) -> None:
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(lambda _id: self.correct())
        self.table.verticalScrollBar().valueChanged.connect(self._scrolled)
        self.table.shown_changed.connect(lambda *_: self._say_foot())
        self.chips.changed.connect(lambda _on: self._again())
        self.only.removed.connect(lambda _key: self._drop_special())
        self.only.changed.connect(lambda _on: self._keep_only())
        self.card.hives.opened.connect(lambda colony: self.desk.open_place("colonies", colony))
        self.command("Ctrl+N", "type a new move", self.new)
        self.command("Ctrl+E", "correct the chosen move", self.correct)
        self.command("Ctrl+P", "print the register", self.register)
        self.command("Ctrl+Shift+C", "contacts of a site", self.contacts)
        self.command("Ctrl+R", "in the form: the sheet is right")

    def _filter_of(self) -> LogFilter:
        today = self.desk.clock.today()
        on = self.chips.on()
        first = (
            date(today.year, 1, 1) if "year" in on else today - timedelta(days=30) if "month" in on else None
        )
        kind, number = self._special or ("", None)
        return LogFilter(
            first,
            site_id=number if kind == "site" else None,
            contract_id=number if kind == "contract" else None,
            colony_id=number if kind == "colony" else None,
        )

    def _again(self) -> None:
        self.rows = []
        self.refresh()

    def _drop_special(self) -> None:
        self._special = None
        self._again()

    def _keep_only(self) -> None:
        """The chip of the one contract, site or hive is taken away by its cross, not switched off."""
        if self._special is not None and not self.only.on():
            self.only.choose("only")

    def _show(self, rows: list[MoveRow], *, whole: bool) -> None:
        self.rows, self._whole = rows, whole
        self._fill()
        wanted, self._choose_next = self._choose_next, None
        self.choose(wanted)
        if not rows:
            self.card.show_nothing()

    def _fill(self) -> None:
        zone, year = self.desk.clock.zone, self.desk.clock.today().year
        self.table.set_rows([move_row(row, zone, year) for row in self.rows])
        never = not self.rows and self.wanted == LogFilter()
        self.empty.stand_for(self.table, nothing=never)
        self._say_foot()
        self.set_subtitle("newest first" if self.rows else "")

    def _say_foot(self) -> None:
        rows = shown_lines({row.id: row for row in self.rows}, self.table)
        more = "" if self._whole else ", more further down"
        self.foot.say([Run(f"{counted(len(rows), 'move')}{more}", "ink", 600)])
        moved = sum(row.hives for row in rows if row.state == "delivered")
        self.foot.set_sums({"hives": f"{moved:,}"} if rows else {})

    def _scrolled(self, at: int) -> None:
        """Near the end of the page: read the next."""
        bar = self.table.verticalScrollBar()
        if self._whole or not self.rows or at < bar.maximum() - bar.pageStep():
            return
        last = self.rows[-1]

        def more(rows: list[MoveRow]) -> None:
            if self.rows and self.rows[-1].id == last.id:
                self.rows = [*self.rows, *rows]
                self._whole = len(rows) < PAGE
                self._fill()

        self.desk.read(move_log, self.wanted, (last.on, last.id), owner=self, then=more, key="more")

    def _chosen(self, ids: list[Hashable]) -> None:
        if not ids:
            return

        def filled(card: MoveCard | None) -> None:
            if card is None:
                self.card.show_nothing()
            else:
                self.card.show_move(card, self.desk.clock.zone)

        self.desk.read(move_card, int(str(ids[-1])), owner=self, then=filled, key="card")

    def _open_move_form(self, form: MoveForm) -> None:
        form.wanted.connect(lambda typed: read(self.desk, form, typed))
        form.posted.connect(lambda typed: post(self.desk, form, typed, self._posted))
        form.planned.connect(lambda typed: plan(self.desk, form, typed, self._posted))
        self.front.setCurrentIndex(0)
        self.side.open(form, "moves.form")

    def _posted(self, done: Done) -> None:
        self._choose_next = done.result
        self.side.leave()
        self.refresh()

    def _show_contacts(self, wanted: ContactsWanted) -> None:
        self.side.leave()
        self.paper.show_document(
            "contacts",
            lambda session: contacts_of_site(
                session, wanted.site_id, wanted.first, wanted.last, back=wanted.back, radius_m=wanted.radius_m
            ),
            f"Contacts {wanted.site} {wanted.first.isoformat()} to {wanted.last.isoformat()}",
        )

    def _print_register(self, wanted: RegisterWanted) -> None:
        name = f"Movement register {wanted.scope} {wanted.first.isoformat()} to {wanted.last.isoformat()}"
        self.side.leave()
        self.paper.show_document(
            "movement-register",
            lambda session: register_record(session, wanted.first, wanted.last, site_id=wanted.site_id),
            name,
        )
