"""Sites: every site in a table and on a map at true scale; the card says what stands there and how to get in.

Reads: queries.sites.list_sites, queries.sites.site_card, queries.sites.landholders, queries.restrictions.official_of_site, queries.restrictions.in_force, queries.spray.spray_at
Acts: operations.sites.add_site, operations.sites.change_site, operations.sites.close_site, operations.restrictions.impose_restriction, operations.restrictions.change_restriction, operations.restrictions.release_restriction, operations.official.record_visit, operations.official.record_sample, operations.official.record_result, operations.spray.record_spray_notice, operations.spray.close_spray_notice
Computes: rules.sites.read_grid, rules.sites.near_m, rules.due.grade, rules.restrictions.first_words, rules.spray.choices
Prints: nothing
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from datetime import date
from typing import ClassVar

from beeledger.base.text import counted
from beeledger.operations.act import Done
from beeledger.operations.sites import add_site, change_site, close_site
from beeledger.queries.records.restrictions import RestrictionLine, SiteOfficial
from beeledger.queries.records.sites import SiteCard, SiteLine
from beeledger.queries.restrictions import in_force
from beeledger.queries.sites import landholders, list_sites, site_card
from beeledger.rules.restrictions import first_words
from beeledger.rules.sites import near_m
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.papers import hang_papers
from beeledger.ui.parts.site_map import SiteMap
from beeledger.ui.parts.table_place import TablePlace, shown_lines
from beeledger.ui.places.sites.authority import Authority
from beeledger.ui.places.sites.card import PlaceCard
from beeledger.ui.places.sites.form import SiteForm
from beeledger.ui.places.sites.official import paper_records
from beeledger.ui.places.sites.spray import Spraying
from beeledger.ui.places.sites.table import COLUMNS, is_due, on_map, site_row, sums
from beeledger.ui.widgets.cells import Row, Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.fact_rows import Fact
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable


class Here(TablePlace):
    """The sites of the farm."""

    key: ClassVar[str] = "sites"
    title: ClassVar[str] = "Sites"
    reads: ClassVar[frozenset[str]] = frozenset(
        {
            "site",
            "placement",
            "round",
            "colony",
            "hive_mark",
            "party",
            "contract",
            "round_entry",
            "tenure",
            "restriction",
            "licence_use",
            "official_visit",
            "sample",
            "vehicle",
            "spray_notice",
        }
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.lines: dict[int, SiteLine] = {}
        self.shown: SiteCard | None = None
        self._wanted: int | None = None
        self.restricted: list[RestrictionLine] = []
        self.authority = Authority(
            self,
            lambda: self.shown,
            self._show_official,
        )
        self.spraying = Spraying(self, lambda: self.shown, self._show_spray)
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read the sites."""
        closed = "closed" in self.chips.on()
        now = self.desk.clock.now()
        self.desk.read(in_force, now, owner=self, then=self._show_force, key="force")
        self.desk.read(
            list_sites, self.desk.clock.today(), closed=closed, owner=self, then=self._show, key="list"
        )

    def show_what(self, what: object) -> None:
        """A site by its id; "new" opens the form."""
        if what == "new":
            self.new()
        elif isinstance(what, int):
            self._wanted = what
            self._choose_wanted()

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>The map is drawn at true scale on the National Grid and needs no network: shapes say how urgent, their "
            "size how many colonies. Wheel or <b>+</b> <b>−</b> come nearer, dragging or arrows move it, <b>0</b> shows "
            "everything. The dashed circle is 3 km around the chosen site.</p><p>A grid reference may be typed in any "
            "usual form; the degrees it means are shown. A site where hives stand cannot be given up.</p>"
            f"<p><b>On suspicion of a notifiable disease or pest:</b> {first_words()} A restriction holds from the "
            "notification on and ends only by the inspector’s written release; until then moves, takes, dispatches and "
            "frames given out of the site ask for a licence. Enter on its line changes it; Enter on a sample’s line "
            "writes its result.</p><p><b>Spray notice</b> writes what a grower or neighbour rang through: where, from when "
            "until when. It says which own sites are inside and whom to ring; while it runs it stands on Today. Enter on "
            "its line closes it with what was done.</p>"
        )

    def new(self) -> None:
        """Open the form for a new site."""
        self._with_landholders(self._open_new)

    def change(self) -> None:
        """Open the form of the chosen site."""
        card = self.shown
        if card is not None and card.line.closed_on is None:
            self._with_landholders(lambda names: self._open_change(card, names))

    def give_up(self) -> None:
        """Give up the chosen site."""
        if self.shown is not None:
            self.desk.act(close_site, self.shown.line.site_id, self.desk.clock.today(), owner=self)

    def open_round(self) -> None:
        """Go to Rounds at the chosen site."""
        if self.shown is not None:
            self.desk.open_place("rounds", self.shown.line.name)

    def open_hives(self) -> None:
        """Go to Colonies at the chosen site."""
        self._go("colonies", "site")

    def add_hives(self) -> None:
        """Go to Colonies with the form for new ones at the chosen site."""
        self._go("colonies", "found")

    def _go(self, place: str, what: str) -> None:
        if self.shown is not None:
            self.desk.open_place(place, (what, self.shown.line.site_id))

    def _build(self) -> None:
        self.take_table(RecordTable(COLUMNS), FilterBox("Site, landholder", width=150))
        self.filter.setMinimumWidth(60)
        self.chips = Chips()
        self.chips.set_chips((("due", "due"), ("closed", "closed")))
        self.foot = TableFoot()
        self.map = SiteMap()
        self.map.setObjectName("sites.map")
        self.empty = EmptyState(
            "No site is in the record",
            "Add one by its name and its grid reference; then bring in the hives that stand there.",
            "New site",
            self.new,
        )
        self.empty.hide()
        acts = {
            "Round here": self.open_round, "Hives": self.open_hives, "Add hives": self.add_hives, "Change": self.change,
            "Give up": self.give_up,
        }  # fmt: skip
        self.card = PlaceCard(
            acts,
            {**self.authority.acts(), "Spray notice": self.spraying.record},
            self.desk.open_place,
            self.authority.open,
        )
        self.papers = hang_papers(self.card, self.desk, "sites")
        self.take_card(self.card)
        self.command("Ctrl+N", "new site", self.new)
        self.command("Ctrl+E", "change the chosen site", self.change)
        self.command("Ctrl+Shift+R", "restrict the chosen site", self.authority.restrict)
        self.command("Ctrl+Shift+V", "an official visit to it", self.authority.visit)
        self.command("Ctrl+Shift+N", "a notice of spraying near it", self.spraying.record)
        self.command("Ctrl+Shift+S", "a sample taken there", self.authority.sample)

    def _lay_out(self) -> None:
        band = Band(self.filter, self.chips, right=[self.button("new", "New site", self.new)])
        left = Stack(band, self.empty, self.table, self.foot, grows=self.table)
        panes = Panes(left, self.map, self.side)
        panes.share(468, 354, 434)
        panes.setStretchFactor(1, 1)
        self.fill(panes)

    def _connect(self) -> None:
        self.chips.changed.connect(self._chipped)
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(lambda _id: self.open_round())
        self.table.shown_changed.connect(self._counted)
        self.card.spray.opened.connect(self.spraying.open)
        self.map.picked.connect(lambda key: self.table.choose([key]))
        self.map.opened.connect(lambda _key: self.open_round())

    def _show(self, lines: list[SiteLine]) -> None:
        today = self.desk.clock.today()
        self.lines = {line.site_id: line for line in lines}
        self._mark_sites(today)
        nothing = not lines and "closed" not in self.chips.on()
        self.empty.stand_for(self.table, self.foot, nothing=nothing)
        self._choose_wanted()
        if self.side.form() is not None:
            return
        self.choose()
        self._chosen(self.table.chosen())

    def _show_force(self, lines: list[RestrictionLine]) -> None:
        self.restricted = lines
        self.map.set_circles(
            [
                (one.easting_m, one.northing_m, one.radius_m)
                for one in lines
                if one.easting_m and one.northing_m and one.radius_m
            ]
        )
        if self.lines:
            self._mark_sites(self.desk.clock.today())

    def _mark_sites(self, today: date) -> None:
        """Rows and shapes; where something is restricted, both say so before anything else."""
        held = {name for line in self.restricted for name in line.sites}
        lines = self.lines.values()
        self.table.set_rows([site_row(line, today, restricted=line.name in held) for line in lines])
        self.map.set_sites([on_map(line, today, restricted=line.name in held) for line in lines])

    def _choose_wanted(self) -> None:
        if self._wanted in self.lines:
            self.filter.clear()
            self.table.choose([self._wanted])
            self._wanted = None

    def _chipped(self, on: list[Hashable]) -> None:
        def keep(row: Row) -> bool:
            return isinstance(row.id, int) and is_due(self.lines[row.id])

        closed = next((line.closed_on is not None for line in self.lines.values()), False)
        self.table.filter_by(keep if "due" in on else None)
        if ("closed" in on) != closed:
            self.refresh()

    def _counted(self, shown: int, of: int) -> None:
        self.foot.say(
            sums(shown_lines(self.lines, self.table)), [Run(f"{shown} of {of}")] if shown != of else []
        )
        self.set_subtitle(f"{shown:,} of {of:,} shown" if shown != of else counted(of, "site"))

    def _chosen(self, ids: Sequence[Hashable]) -> None:
        self.map.set_chosen(ids, near_m=near_m())
        self.side.close_form()
        if not ids:
            self.shown = None
            self.card.show_nothing()
            return
        self.desk.read(site_card, ids[-1], self.desk.clock.today(), owner=self, then=self._fill, key="card")

    def _fill(self, card: SiteCard | None) -> None:
        self.shown = card
        if card is not None:
            self.card.show_site(card, self.desk.clock.today())
            self.authority.read(card.line.site_id)
            self.spraying.read(card.line.site_id)

    def _show_official(self, official: SiteOfficial) -> None:
        self.card.show_official(official, self.desk.clock.today())
        self.papers.show_of(("site", official.site_id), paper_records(official))

    def _show_spray(self, facts: list[Fact]) -> None:
        self.card.show_spray(facts)

    def _with_landholders(self, then: Callable[[list[str]], None]) -> None:
        self.desk.read(landholders, owner=self, then=then, key="landholders")

    def _open_new(self, names: list[str]) -> None:
        form = SiteForm("A new site", "Add this site", self.desk.clock.today(), names)
        self.ask(form, "form", add_site, then=self._added)

    def _added(self, done: Done) -> None:
        self._wanted = done.result

    def _open_change(self, card: SiteCard, names: list[str]) -> None:
        form = SiteForm(card.line.name, "Save this site", self.desk.clock.today(), names)
        form.fill(card)
        self.ask(form, "form", change_site, card.line.site_id)
