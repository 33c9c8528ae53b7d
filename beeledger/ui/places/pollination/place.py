"""Pollination: contracts on a time line of bloom, what is promised, short, checked and owed.

Reads: queries.contract_list.season, queries.contracts.contract_card, queries.contracts.draw_sample, queries.contracts.report_record
Acts: operations.contracts.add_contract, operations.contracts.change_contract, operations.contracts.close_contract, operations.contracts.record_bloom, operations.contracts.record_strength_check, operations.parties.add_party
Computes: rules.contracts.owed, rules.contracts.readiness, rules.strength.strength_result
Prints: documents.movement_report
"""

from __future__ import annotations

import random
from collections.abc import Hashable
from typing import ClassVar

from beeledger.base.text import counted
from beeledger.operations.act import Done
from beeledger.operations.contracts import (
    NewCheck,
    add_contract,
    change_contract,
    close_contract,
    record_bloom,
    record_strength_check,
)
from beeledger.operations.parties import NewParty, add_party
from beeledger.queries.contract_list import season
from beeledger.queries.contracts import (
    contract_card,
    contract_choices,
    draw_sample,
    report_record,
)
from beeledger.queries.records.contract_desk import (
    ContractCard,
    ContractChoices,
    ContractRow,
    CropHive,
    Season,
)
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.papers import hang_papers
from beeledger.ui.parts.table_place import PaperPlace
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.pollination.card import ContractCardView
from beeledger.ui.places.pollination.forms import (
    CheckTyped,
    ContractTyped,
    bloom_form,
    check_form,
    contract_form,
    with_grower,
)
from beeledger.ui.places.pollination.legend import Legend
from beeledger.ui.places.pollination.table import (
    COLUMNS,
    contract_bars,
    contract_row,
    is_short,
    most_pressing,
    span_of,
)
from beeledger.ui.widgets.bar_rows import Bar, BarRows, TableWithBars
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable

_SHARE_HUNDREDTHS = 1_000
_SEEDS = 1_000_000


class Here(PaperPlace):
    """The contracts of a season."""

    key: ClassVar[str] = "pollination"
    title: ClassVar[str] = "Pollination"
    reads: ClassVar[frozenset[str]] = frozenset(
        {"contract", "bloom_look", "strength_check", "placement", "move", "party", "site", "round_entry", "colony"}
    )  # fmt: skip

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.rows: dict[int, ContractRow] = {}
        self._choose_next: int | None = None
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read the contracts of the year that the chip chooses."""
        year = next((one for one in self.chips.on() if isinstance(one, int)), None)
        self.desk.read(
            season, self.desk.clock.today(), year, self._choose_next, owner=self, then=self._show, key="list"
        )

    def show_what(self, what: object) -> None:
        """Go to a contract by its id."""
        if isinstance(what, int):
            self._choose_next = what
            self.filter.clear()
            self.refresh()

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Above in each row the bloom as it was looked at, below the hives: full while they stand there, pale when they "
            "came home, dashed while only promised. <b>Ready</b> counts colonies at home and out-apiaries by their last "
            "count of bees, for each contract alone; a count older than three weeks says nothing.</p><p>What is owed follows "
            "from the log of moves and the strength checks alone.</p>"
        )

    def new(self) -> None:
        """Open the form of a new contract."""
        self._contract_form(None)

    def change(self) -> None:
        """Open the chosen contract in the form."""
        if self.card.shown is not None and self.card.acts["change"].isEnabled():
            self._contract_form(self.card.shown.row)

    def bloom(self) -> None:
        """Open the form of a look at the bloom."""
        if self.card.shown is None:
            return
        row = self.card.shown.row
        form = bloom_form(row, self.desk.clock.today())
        self.open_form(form, "bloom", lambda seen: self.post(form, record_bloom, row.id, *seen))

    def check(self) -> None:
        """Draw hives by lot and open the form of a strength check."""
        card = self.card.shown
        if card is None or not card.hives:
            return
        today = self.desk.clock.today()
        seed = int(self.desk.clock.now().timestamp()) % _SEEDS

        def drawn(hives: tuple[CropHive, ...]) -> None:
            form = check_form(today, hives, card.hives, seed)
            self.open_form(form, "check", lambda typed: self._save_check(form, card.row, typed, seed))

        chance = random.Random(seed)  # noqa: S311  # a lot that anybody can draw again, no secret
        self.desk.read(
            draw_sample, card.row.id, today, chance, _SHARE_HUNDREDTHS, owner=self, then=drawn, key="sample"
        )

    def report(self) -> None:
        """Show the movement report of the chosen contract."""
        if self.card.shown is None:
            return
        row, today = self.card.shown.row, self.desk.clock.today()
        self.paper.show_document(
            "movement-report",
            lambda session: report_record(session, row.id, today),
            f"Movement report {row.name}",
        )

    def close_it(self) -> None:
        """Close the chosen contract."""
        if self.card.shown is not None and self.card.acts["close"].isEnabled():
            self.desk.act(close_contract, self.card.shown.row.id, owner=self)

    def moves(self) -> None:
        """The moves of the chosen contract."""
        if self.card.shown is not None:
            row = self.card.shown.row
            self.desk.open_place("moves", ("contract", row.id, row.name))

    def _build(self) -> None:
        table = RecordTable(COLUMNS, lines=2, head_height=36, many=False)
        self.take_table(table, FilterBox("Contract, grower, crop or site"))
        self.chips = Chips(one=True)
        self.bars = BarRows(self.table)
        self.both = TableWithBars(self.table, self.bars)
        self.empty = EmptyState(
            "No contract yet",
            "A contract says which grower gets how many hives, when, how strong and at what price.",
            "Write the first contract",
            self.new,
        )
        self.card = ContractCardView(
            {
                "report": Button("Report", self.report, icon="print"),
                "check": Button("Strength check", self.check),
                "bloom": Button("Bloom", self.bloom),
                "change": Button("Change", self.change),
                "moves": Button("Moves", self.moves),
                "close": Button("Close contract", self.close_it),
            }
        )
        self.papers = hang_papers(self.card, self.desk, "pollination")
        self.take_card(self.card)

    def _lay_out(self) -> None:
        band = Band(self.filter, self.chips, right=[self.button("new", "New contract", self.new)])
        self.legend = Legend()
        left = Stack(band, self.empty, self.both, self.legend, grows=self.both)
        panes = Panes(left, self.side)
        panes.share(880, 400)
        self.fill_front(panes)

    def _connect(self) -> None:
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(lambda _id: self.change())
        self.chips.changed.connect(lambda _on: self.refresh())
        self.card.sources.opened.connect(lambda site: self.desk.open_place("sites", site))
        self.command("Ctrl+N", "write a new contract", self.new)
        self.command("Ctrl+E", "change the chosen contract", self.change)
        self.command("Ctrl+P", "the movement report of the chosen contract", self.report)
        self.command("Ctrl+B", "a look at the bloom", self.bloom)
        self.command("Ctrl+T", "a strength check", self.check)

    def _show(self, shown: Season) -> None:
        today, rows = self.desk.clock.today(), shown.rows
        on = [] if shown.year is None else [shown.year]
        self.chips.set_chips([(year, str(year)) for year in shown.years], on=on)
        self.rows = {row.id: row for row in rows}
        bars: dict[Hashable, tuple[Bar, ...]] = {row.id: contract_bars(row, today) for row in rows}
        self.table.set_rows([contract_row(row, today) for row in rows])
        first, last = span_of(list(bars.values()), today)
        self.bars.set_bars(bars, first, last, today)
        self.empty.stand_for(self.both, self.legend, nothing=not shown.years)
        promised = sum(row.terms.hives for row in rows)
        self.legend.say(
            f"{counted(len(rows), 'contract')}, {counted(promised, 'hive')} promised" if rows else ""
        )
        short = sum(is_short(row, today) for row in rows)
        season = f"season {on[0]}" if on else ""
        self.set_subtitle(f"{season}, {counted(short, 'contract')} short" if short else season)
        self._choose(list(rows))

    def _choose(self, rows: list[ContractRow]) -> None:
        wanted, self._choose_next = self._choose_next, None
        if wanted in self.rows:
            self.table.choose([wanted])
        elif rows and not self.table.chosen():
            self.table.choose([most_pressing(rows, self.desk.clock.today()).id])
        elif not rows:
            self.card.show_nothing()
        else:
            self._chosen(self.table.chosen())

    def _chosen(self, ids: list[Hashable]) -> None:
        if not ids:
            return
        today = self.desk.clock.today()

        def filled(card: ContractCard | None) -> None:
            if card is None:
                self.card.show_nothing()
            else:
                self.card.show_contract(card, today)
                self.papers.show_of(("contract", card.row.id))

        self.desk.read(contract_card, int(str(ids[-1])), today, owner=self, then=filled, key="card")

    def _contract_form(self, row: ContractRow | None) -> None:
        today = self.desk.clock.today()

        def offered(choices: ContractChoices) -> None:
            form = contract_form(choices, today, row)
            self.open_form(form, "contract", lambda typed: self._save_contract(form, row, typed))

        self.desk.read(contract_choices, owner=self, then=offered, key="choices")

    def _save_contract(self, form: TypedForm, row: ContractRow | None, typed: ContractTyped) -> None:
        """A grower nobody knows yet is written first, by an act of its own."""
        new = typed.new
        if typed.grower:

            def named(done: Done) -> None:
                known = ContractTyped(with_grower(typed, done.result), "")
                self._save_contract(form, row, known)

            party = NewParty(typed.grower, ("grower",))
            self.desk.act(add_party, party, owner=form, refused=form.refused, then=named)
        elif row is None:
            self.post(form, add_contract, new, then=self._added)
        else:
            self.post(form, change_contract, row.id, new)

    def _save_check(self, form: TypedForm, row: ContractRow, typed: CheckTyped, seed: int) -> None:
        new = NewCheck(row.id, typed.on, typed.by, seed, typed.lines, _SHARE_HUNDREDTHS, typed.weather)
        self.post(form, record_strength_check, new)

    def _added(self, done: Done) -> None:
        self._choose_next = done.result
        self.refresh()
