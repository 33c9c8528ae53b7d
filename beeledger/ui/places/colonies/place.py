"""Colonies: every colony with its queen, its last figures and what is due; the card of one tells its story.

Reads: queries.colonies.colonies_shown, queries.colonies.colony_card, queries.sites.open_sites, queries.medicines.packs, queries.restrictions.restricted_by
Acts: operations.colonies.found_colonies, operations.colonies.end_colonies, operations.colonies.give_mark, operations.queens.put_queen, operations.queens.end_queen, operations.hive_marks.swap_marks, operations.colony_making.split_colony, operations.colony_making.make_nucleus, operations.colony_making.unite_colonies, operations.colony_making.give_frames, operations.colony_acts.feed_colonies, operations.colony_acts.treat_colonies, operations.colony_acts.change_boxes, operations.colony_acts.bring_back, operations.putting_off.put_off_due, operations.putting_off.ask_task, operations.putting_off.finish_task
Computes: rules.stores.is_light, rules.mites.infestation_hundredths, rules.due.grade, rules.rounds.writing.write, rules.what_if.if_fed, rules.what_if.if_counted, rules.what_if.if_dropped, rules.what_if.if_hatched, rules.what_if.if_laying_stopped
Prints: nothing
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from beeledger.operations.act import Done
from beeledger.operations.colonies import NewColony, found_colonies
from beeledger.queries.colonies import colonies_shown, colony_card
from beeledger.queries.records.colonies import ColonyCard, ColonyFilter, ColonyLine, ColonyList
from beeledger.queries.records.round_desk import RoundKey
from beeledger.queries.records.sites import SiteName
from beeledger.queries.restrictions import restricted_by
from beeledger.queries.sites import open_sites
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.papers import hang_papers
from beeledger.ui.parts.rows_kept import RowsKept
from beeledger.ui.parts.table_place import TablePlace, known, shown_lines
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.colonies.acts import found_form
from beeledger.ui.places.colonies.card import HiveCard, SeveralCard
from beeledger.ui.places.colonies.due_story import fact_behind
from beeledger.ui.places.colonies.kept_filters import FORGET, KEEP, KeptFilters, as_kept, from_kept, keep_form
from beeledger.ui.places.colonies.table import COLUMNS, colony_row, is_due, is_light, sums
from beeledger.ui.places.colonies.work import WAYS, ColonyWork
from beeledger.ui.widgets.cells import Row, Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable

_CHIPS = (("alive", "alive"), ("due", "due"), ("light", "light"), ("here", "this site"))

if TYPE_CHECKING:
    from sqlalchemy.orm import Session


class Here(TablePlace):
    """The colonies of the farm."""

    key: ClassVar[str] = "colonies"
    title: ClassVar[str] = "Colonies"
    reads: ClassVar[frozenset[str]] = frozenset(
        {"colony", "hive_mark", "placement", "queen", "tenure", "round_entry", "box_stack", "mite_count", "site", "farm_setting", "feeding", "treatment", "colony_transfer", "restriction", "task", "put_off", "graft_batch"}
    )  # fmt: skip

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.lines: dict[int, ColonyLine] = {}
        self.rows: RowsKept[ColonyLine] = RowsKept(colony_row)
        self._here: int | None = None
        self._wanted: int | None = None
        self._kept_now = ""
        self.shown: ColonyCard | None = None
        self.last_mark = ""
        """The last number of the hive on the card: what one that ended was known by."""
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read the colonies the chips ask for."""
        alive = "alive" in self.chips.on()
        self.desk.read(self._read, ColonyFilter(alive=alive), owner=self, then=self._show, key="list")

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
            "number; <b>or</b> between two wishes shows both. A filter can be kept by name beside the chips. Choose several rows for their sums.</p>"
            "<p>What the crew's sheet says of a visit is typed in Rounds. What was done besides is written here: choose "
            "one hive or several, then an act on the card. Each asks for its day, also a past one, and says what the "
            "record has against it; pressing the button again accepts that.</p>"
            "<p>Enter on a line of <b>what is due</b> goes to the fact behind it. <b>Put off</b> takes a day and a note, shown "
            "in the story; <b>Task</b> asks for something by a day. <b>What if</b> reckons feed, a count of mites, a young queen "
            "or the end of laying line by line with the source of each figure; it writes nothing.</p>"
            "<p>A colony is never erased: it ends with a cause, and one that ended by mistake is brought back.</p>"
        )

    def found(self, site_id: int | None = None) -> None:
        """Open the form for new colonies."""

        def offered(sites: list[SiteName]) -> None:
            form = found_form(sites, self.desk.clock.today(), site_id or self._current_site())
            self.show_form(form, "found", lambda new: self._found(form, new))
            if form.fields["site"].value():
                form.fields["hives"].setFocus(Qt.FocusReason.OtherFocusReason)

        self.desk.read(open_sites, owner=self, then=offered, key="sites")

    def show_form(self, form: TypedForm, name: str, ready: Callable[..., None]) -> None:
        """Show the form of an act in place of the card, which comes back from over the whole width."""
        if not self.left.isVisible():
            self.widen()
        self.open_form(form, name, ready)

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
        self.kept = KeptFilters(self._kept_chosen)
        self.kept.show_names(self.desk.settings.kept_filters)
        self.foot = TableFoot()
        self.empty = EmptyState(
            "No colony is in the record",
            "Bring in the hives of a site by their numbers, 1-20; sites are added in Sites.",
            "New colonies",
            self.found,
        )
        self.empty.hide()
        self.work = ColonyWork(self)
        every = {name: (words, (chord, self.work.act(name))) for name, (words, chord, _) in WAYS.items()}
        self.card = HiveCard(dict(every.values()), self.widen)
        self.papers = hang_papers(self.card, self.desk, "colonies")
        self.card.back.clicked.connect(lambda _checked=False: self.work.bring_back())
        self.several = SeveralCard(dict(every[name] for name, (_, _, many) in WAYS.items() if many))
        self.take_card(self.card)
        self.side.addWidget(self.several)
        self.command("Ctrl+N", "new colonies", self.found)
        for name, (words, keys, _) in WAYS.items():
            self.command(keys, words.lower(), self.work.act(name))
        self.command("Ctrl+Shift+K", "bring back", self.work.bring_back)

    def _lay_out(self) -> None:
        band = Band(
            self.filter, self.chips, self.kept, right=[self.button("new", "New colonies", self.found)]
        )
        self.left = Stack(band, self.empty, self.table, self.foot, grows=self.table)
        panes = Panes(self.left, self.side)
        panes.share(820, 436)
        self.fill(panes)

    def _connect(self) -> None:
        self.chips.changed.connect(self._chipped)
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(lambda _id: self.widen())
        self.table.shown_changed.connect(self._counted)
        self.card.due.opened.connect(self._open_fact)
        self.card.visits.opened.connect(lambda number: self.desk.open_place("rounds", RoundKey(number)))

    def _read(self, session: Session, wanted: ColonyFilter) -> tuple[ColonyList, list[Row]]:
        """Off the window's thread: two thousand rows are not made while somebody types."""
        shown = colonies_shown(session, wanted)
        return shown, self.rows.of(shown.lines, self.desk.clock.today(), shown.mite_line_hundredths)

    def _show(self, read: tuple[ColonyList, list[Row]]) -> None:
        shown, rows = read
        self.lines = {line.colony_id: line for line in shown.lines}
        self.table.set_rows(rows)
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

    def _kept_chosen(self, name: str) -> None:
        """Put a kept filter back, keep the one in force, or forget it."""
        kept = self.desk.settings.kept_filters
        if name == KEEP:
            form = keep_form(self.desk.clock.today())
            self.show_form(form, "keep", self._keep_as)
        elif name == FORGET:
            self.desk.change_settings(
                kept_filters={key: text for key, text in kept.items() if key != self._kept_now}
            )
            self._kept_now = ""
        elif name in kept:
            words, chips = from_kept(kept[name])
            self._kept_now = name
            self.chips.set_chips(_CHIPS, [key for key, _ in _CHIPS if key in chips])
            self._chipped(list(self.chips.on()))
            self.filter.setText(words)
        self.kept.show_names(self.desk.settings.kept_filters, self._kept_now)

    def _keep_as(self, name: str) -> None:
        on = [str(key) for key in self.chips.on() if key != "here"]
        kept = {**self.desk.settings.kept_filters, name: as_kept(self.filter.text(), on)}
        self.desk.change_settings(kept_filters=kept)
        self._kept_now = name
        self.kept.show_names(kept, name)
        self.side.leave()

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
            self.papers.show_of(None)

    def _fill(self, card: ColonyCard | None) -> None:
        self.shown = card
        if card is not None:
            self.last_mark = card.marks[-1][0] if card.marks else ""
            self.card.show_colony(card, self.desk.clock.today())
            self.papers.show_of(("colony", card.line.colony_id))
            self.card.show_force(())
            if card.line.site_id is not None and card.line.ended_on is None:
                self.desk.read(
                    restricted_by, card.line.site_id, self.desk.clock.now(), owner=self, key="force",
                    then=self.card.show_force,
                )  # fmt: skip

    def _open_fact(self, at: object) -> None:
        """Go to the fact behind a reason; a task asks whether it is done."""
        if self.shown is None or not isinstance(at, int) or at >= len(self.shown.line.due):
            return
        due = self.shown.line.due[at]
        if due.code == "task":
            self.work.finish(self.shown.line.colony_id, due.what)
            return
        where = fact_behind(self.shown, due)
        if where is None:
            self.desk.say("That fact stands on this card", remedy=due.why)
        else:
            self.desk.open_place(*where)

    def _found(self, form: TypedForm, colonies: list[NewColony]) -> None:
        def founded(done: Done) -> None:
            self._wanted = done.result[0] if done.result else None

        self.post(form, found_colonies, colonies, then=founded)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape brings the table back beside a wide card."""
        if event.key() == Qt.Key.Key_Escape and not self.left.isVisible():
            self.widen()
        else:
            super().keyPressEvent(event)
