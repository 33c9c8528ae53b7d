"""Colonies: every colony with its queen, its last figures and what is due; the card of one tells its story.

Reads: queries.colonies.colonies_shown, queries.colonies.colony_card, queries.sites.open_sites
Acts: operations.colonies.found_colonies, operations.colonies.end_colonies, operations.queens.put_queen, operations.colonies.give_mark, operations.hive_marks.swap_marks
Computes: rules.stores.is_light, rules.mites.infestation_hundredths, rules.due.grade, rules.rounds.writing.write
Prints: nothing
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from beeledger.operations.act import Done
from beeledger.operations.colonies import NewColony, end_colonies, found_colonies, give_mark
from beeledger.operations.hive_marks import swap_marks
from beeledger.operations.queens import put_queen
from beeledger.queries.colonies import colonies_shown, colony_card
from beeledger.queries.records.colonies import ColonyCard, ColonyFilter, ColonyLine, ColonyList
from beeledger.queries.records.round_desk import RoundKey
from beeledger.queries.records.sites import SiteName
from beeledger.queries.sites import open_sites
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.table_place import TablePlace, known, shown_lines
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.colonies.acts import (
    Ending,
    Numbering,
    Requeening,
    end_form,
    found_form,
    names_of,
    number_form,
    requeen_form,
)
from beeledger.ui.places.colonies.card import HiveCard, SeveralCard
from beeledger.ui.places.colonies.table import COLUMNS, colony_row, is_due, is_light, sums
from beeledger.ui.widgets.cells import Row, Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable

_CHIPS = (("alive", "alive"), ("due", "due"), ("light", "light"), ("here", "this site"))


class Here(TablePlace):
    """The colonies of the farm."""

    key: ClassVar[str] = "colonies"
    title: ClassVar[str] = "Colonies"
    reads: ClassVar[frozenset[str]] = frozenset(
        {"colony", "hive_mark", "placement", "queen", "tenure", "round_entry", "box_stack", "mite_count", "site", "farm_setting"}
    )  # fmt: skip

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.lines: dict[int, ColonyLine] = {}
        self._here: int | None = None
        self._wanted: int | None = None
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read the colonies the chips ask for."""
        alive = "alive" in self.chips.on()
        self.desk.read(colonies_shown, ColonyFilter(alive=alive), owner=self, then=self._show, key="list")

    def show_what(self, what: object) -> None:
        """A colony by its id; ("site", id) shows those of one site; ("found", site id) opens the form."""
        if isinstance(what, int):
            self._here = None
            self._clear_filters()
            self._wanted = what
            self._choose_wanted()
        elif isinstance(what, tuple) and len(what) == 2 and isinstance(what[1], int):
            if what[0] == "site":
                self._at_site(what[1])
            elif what[0] == "found":
                self.found(what[1])

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Type to filter: <b>at ash lane</b>, <b>late</b>, <b>queenless</b>, <b>light</b>, <b>strips out</b>, a "
            "number; <b>or</b> between two wishes shows both. Choose several rows for their sums.</p>"
            "<p>What was seen, fed or treated at a hive is typed in Rounds. A colony is never erased: it ends with a cause."
            "</p>"
        )

    def found(self, site_id: int | None = None) -> None:
        """Open the form for new colonies."""

        def offered(sites: list[SiteName]) -> None:
            form = found_form(sites, self.desk.clock.today(), site_id or self._current_site())
            self._open(form, "found", self._found)
            if form.fields["site"].value():
                form.fields["hives"].setFocus(Qt.FocusReason.OtherFocusReason)

        self.desk.read(open_sites, owner=self, then=offered, key="sites")

    def end_chosen(self) -> None:
        """Open the form that ends the chosen colonies."""
        chosen = self.chosen_lines()
        if chosen:
            names = names_of([line.mark for line in chosen])
            self._open(end_form(names, self.desk.clock.today()), "end", self._end)

    def requeen(self) -> None:
        """Open the form for a new queen."""
        self._open_for_one(requeen_form, "requeen", self._requeen)

    def renumber(self) -> None:
        """Open the form for the hive's number."""
        self._open_for_one(number_form, "number", self._number)

    def move_chosen(self) -> None:
        """Go to Moves with the chosen colonies, which a move takes from one site."""
        chosen = self.chosen_lines()
        sites = {line.site_id for line in chosen}
        if len(sites) > 1:
            self.desk.say(
                "The chosen hives stand at several sites",
                "watch",
                "A move leaves one site; choose hives of one",
            )
        elif chosen:
            marks = ", ".join(line.mark for line in chosen if line.mark)
            self.desk.open_place("moves", ("new", chosen[0].site_id, marks))

    def open_round(self) -> None:
        """Go to Rounds at the site of the chosen colony."""
        chosen = self.chosen_lines()
        if chosen and chosen[0].site_id is not None:
            self.desk.open_place("rounds", chosen[0].site)

    def chosen_lines(self) -> list[ColonyLine]:
        """The chosen colonies in the order shown."""
        return known(self.lines, self.table.chosen())

    def widen(self) -> None:
        """The card over the whole width, and back."""
        wide = self.left.isVisible()
        self.left.setVisible(not wide)
        self.card.wide.setText("Narrow" if wide else "Widen")
        (self.card.wide if wide else self.table).setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.take_table(RecordTable(COLUMNS), FilterBox("Number, site, late, light", width=230))
        self.chips = Chips()
        self.chips.set_chips(_CHIPS, ("alive",))
        self.foot = TableFoot()
        self.empty = EmptyState(
            "No colony is in the record",
            "Bring in the hives of a site by their numbers, 1-20; sites are added in Sites.",
            "New colonies",
            self.found,
        )
        self.empty.hide()
        acts = {
            "Move": self.move_chosen,
            "Requeen": self.requeen,
            "Number": self.renumber,
            "Round": self.open_round,
            "End": self.end_chosen,
        }
        self.card = HiveCard(acts, self.widen)
        self.several = SeveralCard({"Move": self.move_chosen, "End": self.end_chosen})
        self.take_card(self.card)
        self.side.addWidget(self.several)
        self.command("Ctrl+N", "new colonies", self.found)

    def _lay_out(self) -> None:
        band = Band(self.filter, self.chips, right=[self.button("new", "New colonies", self.found)])
        self.left = Stack(band, self.empty, self.table, self.foot, grows=self.table)
        panes = Panes(self.left, self.side)
        panes.share(820, 436)
        self.fill(panes)

    def _connect(self) -> None:
        self.chips.changed.connect(self._chipped)
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(lambda _id: self.widen())
        self.table.shown_changed.connect(self._counted)
        self.card.visits.opened.connect(lambda number: self.desk.open_place("rounds", RoundKey(number)))

    def _show(self, shown: ColonyList) -> None:
        today = self.desk.clock.today()
        self.lines = {line.colony_id: line for line in shown.lines}
        self.table.set_rows([colony_row(line, today, shown.mite_line_hundredths) for line in shown.lines])
        nothing = not shown.lines and "alive" in self.chips.on()
        self.empty.stand_for(self.table, self.foot, nothing=nothing)
        if self._here is not None:
            self._at_site(self._here)
        self._choose_wanted()
        if self.side.form() is not None:
            return
        self.choose()
        self._chosen(self.table.chosen())

    def _choose_wanted(self) -> None:
        if self._wanted is None:
            return
        if self._wanted in self.lines:
            self.table.choose([self._wanted])
            self._wanted = None
        elif self.lines and "alive" in self.chips.on():
            self.chips.set_chips(_CHIPS, ())
            self.refresh()

    def _clear_filters(self) -> None:
        self.filter.clear()
        if "alive" not in self.chips.on() or len(self.chips.on()) > 1:
            refresh = "alive" not in self.chips.on()
            self.chips.set_chips(_CHIPS, ("alive",))
            self._keep()
            if refresh:
                self.refresh()

    def _at_site(self, site_id: int) -> None:
        self._here = site_id
        name = next((line.site for line in self.lines.values() if line.site_id == site_id), "")
        on = [key for key in self.chips.on() if key != "here"]
        chips = [*_CHIPS[:-1], ("here", f"at {name}" if name else "this site")]
        self.chips.set_chips(chips, [*on, "here"])
        self._keep()

    def _current_site(self) -> int | None:
        current = known(self.lines, [self.table.current_id()])
        return current[0].site_id if current else None

    def _chipped(self, on: list[Hashable]) -> None:
        if "here" in on and self._here is None:
            site = self._current_site()
            if site is not None:
                self._at_site(site)
        elif "here" not in on and self._here is not None:
            self._here = None
            self.chips.set_chips(_CHIPS, on)
        alive = next((line.ended_on is None for line in self.lines.values()), True)
        if ("alive" in on) != alive or not self.lines:
            self.refresh()
        self._keep()

    def _keep(self) -> None:
        on, today, here = set(self.chips.on()), self.desk.clock.today(), self._here

        def keep(row: Row) -> bool:
            line = known(self.lines, [row.id])[0]
            return (
                ("due" not in on or is_due(line, today))
                and ("light" not in on or is_light(line, today))
                and (here is None or line.site_id == here)
            )

        self.table.filter_by(keep if on & {"due", "light", "here"} else None)

    def _counted(self, shown: int, of: int) -> None:
        kind = "living" if "alive" in self.chips.on() else "ended"
        self.set_subtitle(f"{shown:,} shown" if shown != of else f"{of:,} {kind}")
        self.foot.say(
            sums(shown_lines(self.lines, self.table)), [Run(f"{shown:,} of {of:,}")] if shown != of else []
        )

    def _chosen(self, ids: Sequence[Hashable]) -> None:
        if self.side.form() is not None:
            self.side.close_form()
        chosen = self.chosen_lines()
        self.side.card = self.several if len(chosen) > 1 else self.card
        self.side.setCurrentWidget(self.side.card)
        if len(chosen) > 1:
            self.several.show_lines(chosen, self.desk.clock.today())
        elif chosen:
            self.desk.read(
                colony_card,
                chosen[0].colony_id,
                self.desk.clock.today(),
                owner=self,
                then=self._fill,
                key="card",
            )
        elif not ids:
            self.card.say("No colony chosen", (), "Choose one in the table.")
            self.card.show_nothing()

    def _fill(self, card: ColonyCard | None) -> None:
        if card is not None:
            self.card.show_colony(card, self.desk.clock.today())

    def _open_for_one(
        self,
        build: Callable[[str, object], TypedForm] | Callable[..., TypedForm],
        name: str,
        then: Callable[[TypedForm, object], None] | Callable[..., None],
    ) -> None:
        chosen = self.chosen_lines()
        if len(chosen) == 1:
            self._open(build(names_of([chosen[0].mark]), self.desk.clock.today()), name, then)

    def _open(self, form: TypedForm, name: str, then: Callable[..., None]) -> None:
        if not self.left.isVisible():
            self.widen()
        self.open_form(form, name, lambda thing: then(form, thing))

    def _found(self, form: TypedForm, colonies: list[NewColony]) -> None:
        def founded(done: Done) -> None:
            self._wanted = done.result[0] if done.result else None

        self.post(form, found_colonies, colonies, then=founded)

    def _end(self, form: TypedForm, ending: Ending) -> None:
        ids = [line.colony_id for line in self.chosen_lines()]
        self.post(form, end_colonies, ids, ending.on, ending.cause)

    def _requeen(self, form: TypedForm, new: Requeening) -> None:
        colony = self.chosen_lines()[0].colony_id
        self.post(form, put_queen, colony, new.queen, new.on, new.why)

    def _number(self, form: TypedForm, new: Numbering) -> None:
        line = self.chosen_lines()[0]
        if new.swap:
            self.post(form, swap_marks, line.mark or "", new.mark, new.on)
        else:
            self.post(form, give_mark, line.colony_id, new.mark, new.on)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape brings the table back beside a wide card."""
        if event.key() == Qt.Key.Key_Escape and not self.left.isVisible():
            self.widen()
        else:
            super().keyPressEvent(event)
