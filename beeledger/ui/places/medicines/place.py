"""Medicines: the packs, the register of what was given with what the law still wants, and mites by site.

Reads: queries.medicines.packs, queries.medicines.given, queries.medicines.given_card, queries.medicines.suppliers, queries.medicines.register_sites, queries.mites.mites_by_site, queries.mites.counts_at
Acts: operations.medicines.add_medicine, operations.medicines.change_medicine, operations.medicines.dispose_medicine, operations.medicines.complete_treatments
Computes: rules.medicines.check_record, rules.medicines.keep_until, rules.mites.infestation_hundredths
Prints: documents.medicine_register
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from datetime import date, timedelta
from functools import partial
from typing import ClassVar

from PySide6.QtWidgets import QStackedWidget

from beeledger.operations.medicines import (
    add_medicine,
    change_medicine,
    complete_treatments,
    dispose_medicine,
)
from beeledger.queries.medicines import (
    GivenFilter,
    given,
    given_card,
    packs,
    register_record,
    register_sites,
    suppliers,
)
from beeledger.queries.mites import counts_at, mites_by_site
from beeledger.queries.records.medicines import GivenCard, GivenKey, GivenLine, MiteView, PackRow, Supplier
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.papers import hang_papers
from beeledger.ui.parts.side_panes import SidePanes
from beeledger.ui.parts.table_place import PaperPlace
from beeledger.ui.places.medicines.acts import (
    RegisterWanted,
    disposal_form,
    given_form,
    pack_form,
    register_form,
)
from beeledger.ui.places.medicines.card import PackCard
from beeledger.ui.places.medicines.given_card import GivenCardView
from beeledger.ui.places.medicines.lists import Lists
from beeledger.ui.places.medicines.mites_card import MitesCard
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.form import Form

_A_YEAR = timedelta(days=365)


class Here(PaperPlace):
    """Packs, register and mites, one behind the other, and the card of what is chosen."""

    key: ClassVar[str] = "medicines"
    title: ClassVar[str] = "Medicines"
    reads: ClassVar[frozenset[str]] = frozenset(
        {
            "medicine", "medicine_disposal", "treatment", "mite_count", "party", "party_contact", "site", "round",
            "colony", "hive_mark", "placement", "farm_setting",
        }
    )  # fmt: skip

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.packs: dict[int, PackRow] = {}
        self.given: dict[GivenKey, GivenLine] = {}
        self.mites: MiteView | None = None
        self._colony: int | None = None
        self._build()
        self._connect()
        self.setFocusProxy(self.lists)

    def refresh(self) -> None:
        """Read the packs, the register and the mites anew."""
        today = self.desk.clock.today()
        self.desk.read(packs, owner=self, then=self._show_packs, key="packs")
        self.desk.read(given, self._filter_of(today), owner=self, then=self._show_given, key="given")
        self.desk.read(mites_by_site, today, owner=self, then=self._show_mites, key="mites")

    def show_what(self, what: object) -> None:
        """A pack by its id; "given" or "mites" goes to that list; ("colony", id, name) what one hive was given."""
        if isinstance(what, int):
            self.lists.go("packs")
            self.lists.packs.choose([what])
        elif what in ("packs", "given", "mites"):
            self.lists.go(str(what))
        elif isinstance(what, tuple) and len(what) >= 2 and what[0] == "colony" and isinstance(what[1], int):
            self._colony = what[1]
            self.lists.go("given")
            self.lists.only.add(
                "only", str(what[2]) if len(what) > 2 else "one hive", on=True, removable=True
            )
            self.refresh()

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p><b>Packs</b> as bought. The law wants product, batch, day, quantity, supplier with address and proof of "
            "purchase; what is missing is marked, and counted beside the place.</p><p><b>Given</b> is the register: what "
            "rounds put into hives and took out, one line for the hives of a site. What a sheet left out is filled in "
            "here. Each line says until when the law wants it kept.</p><p><b>Mites</b> by site, the newest count of each hive: the dot is "
            "the mean, the line runs from the least to the most, the upright is the farm's line.</p><p>The label, the "
            "law and licensed practice decide on every treatment.</p>"
        )

    def new(self) -> None:
        """Open the form of a pack."""
        today = self.desk.clock.today()

        def offered(known: tuple[Supplier, ...]) -> None:
            self.ask(pack_form(known, today), "add", add_medicine)

        self.desk.read(suppliers, owner=self, then=offered, key="suppliers")

    def edit(self) -> None:
        """Open the chosen pack, or what the sheet left out of the chosen line."""
        if self.lists.current() == "given":
            self._fill_in()
        elif self.lists.current() == "packs":
            self._change()

    def dispose(self) -> None:
        """Open the form for what was left of the chosen pack."""
        pack = self.pack_card.shown
        if pack is not None and self.lists.current() == "packs":
            self.ask(disposal_form(pack, self.desk.clock.today()), "dispose", dispose_medicine)

    def register(self) -> None:
        """Ask for the period and site of the register."""
        today = self.desk.clock.today()

        def offered(sites: tuple[tuple[int, str], ...]) -> None:
            form = register_form(sites, date(today.year, 1, 1), today)
            self.open_form(form, "register", self._print)

        self.desk.read(register_sites, owner=self, then=offered, key="sites")

    def _change(self) -> None:
        pack, today = self.pack_card.shown, self.desk.clock.today()
        if pack is None:
            return

        def offered(known: tuple[Supplier, ...]) -> None:
            self.ask(pack_form(known, today, pack), "change", change_medicine, pack.id)

        self.desk.read(suppliers, owner=self, then=offered, key="suppliers")

    def _fill_in(self) -> None:
        card = self.given_card.shown
        if card is not None:
            self.ask(given_form(card, self.desk.clock.today()), "fill", complete_treatments)

    def _build(self) -> None:
        self.pack_card = PackCard(Button("Change", self._change), Button("Dispose", self.dispose))
        self.papers = hang_papers(self.pack_card, self.desk, "medicines")
        self.given_card = GivenCardView(
            Button("Fill in", self._fill_in), Button("The site", partial(self._go_to_site, mites=False))
        )
        self.mites_card = MitesCard(Button("The site", partial(self._go_to_site, mites=True)))
        self.cards = QStackedWidget()
        for card in (self.pack_card, self.given_card, self.mites_card):
            self.cards.addWidget(card)
        self.lists = Lists(
            Button("Add a pack", self.new, icon="plus"), Button("Register", self.register, icon="print")
        )
        self.take_card(self.cards, back_to=self.lists)
        self.fill_front(SidePanes(self.lists, self.side, wanted=370, most=36))

    def _connect(self) -> None:
        lists = self.lists
        lists.turned.connect(self._turned)
        lists.period_changed.connect(self.refresh)
        lists.only.removed.connect(lambda _key: self._every_hive())
        lists.only.changed.connect(lambda _on: self._keep_only())
        lists.packs.chosen_changed.connect(self._pack_chosen)
        lists.given.chosen_changed.connect(self._given_chosen)
        lists.mites.chosen_changed.connect(self._site_chosen)
        lists.packs.opened.connect(lambda _id: self._change())
        lists.given.opened.connect(lambda _id: self._fill_in())
        lists.mites.opened.connect(lambda _id: self._go_to_site(mites=True))
        self.given_card.hives.opened.connect(lambda colony: self.desk.open_place("colonies", colony))
        lists.no_packs.button.clicked.connect(lambda _on=False: self.new())
        for empty in (lists.no_given, lists.no_mites):
            empty.button.clicked.connect(lambda _on=False: self.desk.open_place("rounds"))
        self.command("Ctrl+N", "add a pack", self.new)
        self.command("Ctrl+E", "change the chosen pack, fill in the chosen line", self.edit)
        self.command("Ctrl+D", "dispose of what is left of the chosen pack", self.dispose)
        self.command("Ctrl+P", "print the register", self.register)

    def _filter_of(self, today: date) -> GivenFilter:
        if self._colony is not None:
            return GivenFilter(colony_id=self._colony)
        return GivenFilter(today - _A_YEAR if self.lists.period() == "year" else None, or_still_in=True)

    def _show_packs(self, found: Sequence[PackRow]) -> None:
        self.packs = {pack.id: pack for pack in found}
        self.lists.show_packs(found, self.desk.clock.today())
        self._pack_chosen(self.lists.packs.chosen())

    def _show_given(self, found: Sequence[GivenLine]) -> None:
        self.given = {line.key: line for line in found}
        whole = self.lists.period() == "all"
        none = "to this hive" if self._colony is not None else "yet" if whole else "in twelve months"
        self.lists.show_given(found, self.desk.clock.today(), none)
        self._given_chosen(self.lists.given.chosen())

    def _show_mites(self, found: MiteView) -> None:
        self.mites = found
        self.lists.show_mites(found)
        self._site_chosen(self.lists.mites.chosen())

    def _turned(self, _key: str) -> None:
        """Another list is in front: its card comes with it, a form that is open is left."""
        self.side.close_form()
        self.cards.setCurrentIndex(self.lists.number())

    def _pack_chosen(self, ids: list[Hashable]) -> None:
        pack = self.packs.get(int(str(ids[-1]))) if ids else None
        if pack is None:
            self.pack_card.show_nothing()
        else:
            self.pack_card.show_pack(pack, self.desk.clock.today())
            self.papers.show_of(("medicine", pack.id))

    def _given_chosen(self, ids: list[Hashable]) -> None:
        key = ids[-1] if ids else None
        line = self.given.get(key) if isinstance(key, GivenKey) else None
        if line is None:
            self.given_card.show_nothing()
            return

        def filled(card: GivenCard) -> None:
            self.given_card.show_given(card, self.desk.clock.today())

        self.desk.read(given_card, line, owner=self, then=filled, key="given card")

    def _site_chosen(self, ids: list[Hashable]) -> None:
        view, today = self.mites, self.desk.clock.today()
        site = next((one for one in view.sites if ids and one.site_id == ids[-1]), None) if view else None
        if site is None or view is None:
            self.mites_card.show_nothing()
            return
        self.mites_card.show_site(site, view)
        self.desk.read(
            counts_at, site.site_id, today, owner=self, key="counts",
            then=lambda counts: self.mites_card.show_counts(counts, view, today),
        )  # fmt: skip

    def _go_to_site(self, *, mites: bool) -> None:
        card = self.given_card.shown
        site = self.mites_card.shown if mites else card.line.key.site_id if card else None
        if site is not None:
            self.desk.open_place("sites", site)

    def _every_hive(self) -> None:
        self._colony = None
        self.refresh()

    def _keep_only(self) -> None:
        """The chip of the one hive is taken away by its cross, not switched off."""
        if self._colony is not None and not self.lists.only.on():
            self.lists.only.choose("only")

    def _print(self, wanted: RegisterWanted) -> None:
        name = f"Medicine register {wanted.scope} {wanted.first.isoformat()} to {wanted.last.isoformat()}"
        self.side.leave()
        self.paper.show_document(
            "medicine-register",
            lambda session: register_record(session, wanted.first, wanted.last, site_id=wanted.site_id),
            name,
        )

    def form(self) -> Form | None:
        """The form that is open."""
        return self.side.form()
