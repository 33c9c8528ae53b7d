"""Today: where to go, worst first, on a map beside it, and what cannot wait; round sheets for the crew.

Reads: queries.pressing.morning, queries.first_steps.first_steps, queries.farm.farm_settings, queries.round_paper.printed_sheet, queries.day_plan.day_problem, queries.parties.list_vehicles, queries.route_card.route_card
Acts: operations.farm.set_farm, operations.imports.import_register, operations.putting_off.put_off_due
Computes: rules.due.grade, rules.haulage.nearest_next, rules.haulage.round_estimate, rules.day_tours.proposed, rules.day_plan.tours
Prints: documents.round_sheet, documents.route_card
"""

from __future__ import annotations

from collections.abc import Hashable
from datetime import date, datetime
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QStackedWidget, QWidget

from beeledger.base.dates import weekday
from beeledger.base.text import counted
from beeledger.database.backup import last_backup, place_of
from beeledger.operations.act import Done
from beeledger.operations.farm import set_farm
from beeledger.operations.putting_off import put_off_due
from beeledger.queries.due import SiteDue
from beeledger.queries.first_steps import FirstSteps, first_steps
from beeledger.queries.pressing import Morning, Pressing, morning
from beeledger.queries.records.route_card import RouteCard
from beeledger.queries.route_card import route_card
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.desk.place import Place
from beeledger.ui.parts.paper import PaperPane, Printed
from beeledger.ui.parts.put_off_form import ALL, put_off_form
from beeledger.ui.parts.site_map import SiteMap
from beeledger.ui.parts.typed_form import SidePane
from beeledger.ui.places.today.first_minutes import FirstMinutes
from beeledger.ui.places.today.plan import CHORDS, PlanPane
from beeledger.ui.places.today.sheets import round_sheets
from beeledger.ui.places.today.spreadsheet import SpreadsheetPane
from beeledger.ui.places.today.table import (
    CHIPS,
    COLUMNS,
    chosen_words,
    driving_order,
    due_row,
    has_reason,
    pressing_facts,
    shapes,
)
from beeledger.ui.places.today.waiting import WaitingPane, backup_pressing
from beeledger.ui.places.today.welcome import Ways, Welcome
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Row, Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.foot import ActFoot
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import RunWords, Words

if TYPE_CHECKING:
    from sqlalchemy.orm import Session


class Here(Place):
    """The morning before the vans leave."""

    key: ClassVar[str] = "today"
    title: ClassVar[str] = "Today"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.lines: dict[int, SiteDue] = {}
        self.home: tuple[str, int, int] | None = None
        self.pressing: list[Pressing] = []
        self._no_backup = False
        self._from_plan = False
        self._build()
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read where to go and what cannot wait; the age of the backup is looked up beside it."""
        today, place = self.desk.clock.today(), place_of(self.desk.ledger)
        self.set_subtitle(f"{weekday(today)} {today.year}")

        def backed_up(at: datetime | None) -> None:
            waits = backup_pressing(at, self.desk.clock.now())
            self._no_backup = bool(waits)
            self.desk.read(
                lambda session: (morning(session, today, self.desk.clock.now()), first_steps(session)),
                owner=self, then=lambda found: self._show(*found, waits), key="morning",
            )  # fmt: skip

        self.desk.fetch(lambda: last_backup(place), owner=self, then=backed_up, key="backup")

    def _job_moved(self, job: object) -> None:
        """A job ended: it may have written the backup that is asked for here."""
        if job is None and self._no_backup and self.isVisible():
            self.refresh()

    def heard(self, done: Done) -> None:
        super().heard(done)
        self.first.heard(done)

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>A new ledger is welcomed here and led from the farm's name to its first posted round.</p>"
            "<p>Sites where something is late, due today or within three days, worst first, with the reasons counted. "
            "Minutes are of work at the hives alone. Tick sites to see their work, an order to drive them in (straight "
            "lines × 1.3, an estimate) and to print their round sheets, or to <b>put off</b> what is due there with a day and a note. Restricted sites carry "
            "their own mark on the map.</p><p><b>Plan the day</b> (Ctrl+D) asks for a date and the vans with their crews and hours, and looks for "
            "the order and the van of each ticked site, or of all where none is ticked: least driving, most of what "
            "presses. Stop takes the best so far. What does not fit stands below with the reason. Ctrl with the arrows moves a stop, Del "
            "leaves it out; times follow at once; weights are not reckoned. Ctrl+P there shows the route card. It is a plan on paper: weather, traffic and the bees decide.</p><p>Which reasons there are, and their figures, stand in Settings.</p><p>What cannot wait stands at the right; "
            "Enter on a line goes there.</p>"
        )

    def open_round(self) -> None:
        """Go to Rounds at the first chosen site."""
        chosen = self.chosen_lines()
        if chosen:
            self.desk.open_place("rounds", chosen[0].site)

    def print_front(self) -> None:
        """The route card where a plan stands in front, else the round sheets."""
        plan = self.plan.planned
        if plan is None or self.stack.currentWidget() is not self.plan:
            self.print_sheets()
            return

        def query(session: Session) -> RouteCard:
            return route_card(session, plan.on, plan.problem, plan.lanes)

        self.paper.show_document("route-card", query, f"Route card {plan.on.isoformat()}")

    def print_sheets(self) -> None:
        """Make the round sheets of the chosen sites in driving order and show them."""
        ids = [line.site_id for line in driving_order(self.chosen_lines(), self.home)]
        if not ids:
            self.desk.say("No site is chosen", "watch", "Tick the sites whose sheets are wanted")
            return
        self._print(ids)

    def _print(self, ids: list[int], on: date | None = None) -> None:
        desk, day = self.desk, on or self.desk.clock.today()

        def work(job: Job) -> Printed:
            return round_sheets(desk, job, ids, day)

        desk.run("Making the round sheets", work, owner=self, then=self._show_paper)

    def plan_day(self) -> None:
        """Ask for the day to plan: to the chosen sites, or to all that are due."""
        if not self.lines:
            self.desk.say("Nothing is due", "watch", "A day is planned from what is due")
            return
        self._in_front(self.front)
        self.plan.ask(self.chosen_lines(), self.side)

    def put_off(self) -> None:
        """Ask until when and why the reasons at the chosen sites are put off; a chip narrows it to its kind."""
        chosen = self.chosen_lines()
        if not chosen:
            self.desk.say("No site is chosen", "watch", "Tick the sites where it can wait")
            return
        names = chosen[0].site if len(chosen) == 1 else counted(len(chosen), "site")
        code = next((str(key) for key in self.chips.on()), ALL)
        ids = [line.site_id for line in chosen]
        form = put_off_form(names, self.desk.clock.today(), site_ids=ids, code=code)
        form.ready.connect(
            lambda wanted: self.desk.act(
                put_off_due, wanted, owner=self, then=lambda _done: self.side.leave(), refused=form.refused
            )
        )
        self.side.open(form, "today.put_off_form")

    def chosen_lines(self) -> list[SiteDue]:
        """The chosen sites in the order shown."""
        return [self.lines[key] for key in self.table.chosen() if isinstance(key, int) and key in self.lines]

    def _build(self) -> None:
        self.chips = Chips(one=True)
        self.chips.set_chips(CHIPS, ("all",))
        self.count = Words(role="small", ink="ink2")
        self.table = RecordTable(COLUMNS, ticks=True)
        self.table.setObjectName("today.table")
        self.sheets = Button("Round sheets", self.print_sheets, icon="print")
        self.sheets.setObjectName("today.sheets")
        self.later = Button("Put off", self.put_off)
        self.later.setObjectName("today.put_off")
        self.round = Button("Open the round", self.open_round, kind="main")
        self.round.setObjectName("today.round")
        self.day = Button("Plan the day", self.plan_day)
        self.day.setObjectName("today.plan_day")
        self.foot = ActFoot(self.later, self.day, self.sheets, self.round)
        self.quiet = EmptyState(
            "Nothing is due", "Rounds, strips and counts make it appear here as they fall due."
        )
        self.quiet.hide()
        self.map = SiteMap()
        self.map.setObjectName("today.map")
        self.waiting = WaitingPane()
        self.paper = PaperPane(self.desk)
        self.plan = PlanPane(self.desk)
        self.spreadsheet = SpreadsheetPane(self.desk, self._back, self._brought_in)
        self.first = FirstMinutes(self.desk, self._print)
        self.welcome = Welcome(
            Ways(
                self._name, self.spreadsheet.choose_file, self.first.add_site, self.first.add_hives,
                self.first.print_sheet, self.first.type_round, self._leave_welcome,
            )
        )  # fmt: skip
        self.table.sort_by(None)
        self.command("Ctrl+P", "round sheets of the chosen sites, the route card of a plan", self.print_front)
        self.command("Ctrl+D", "plan the day", self.plan_day)
        for keys, words in CHORDS:
            self.command(keys, words)
        self.command("Ctrl+Shift+O", "put off what is due at the chosen sites", self.put_off)
        self.command("Ctrl+O", "read an old spreadsheet", self.spreadsheet.choose_file)

    def _lay_out(self) -> None:
        band = Band(self.chips, right=[self.count])
        left = Stack(band, self.quiet, self.table, self.foot, grows=self.table)
        legend = RunWords(
            [
                Run("late", mark=Mark.LATE, gap=14, small=True), Run("due today", mark=Mark.TODAY, gap=14, small=True),
                Run("soon", mark=Mark.SOON, gap=14, small=True),
                Run("restricted", mark=Mark.HELD, gap=14, small=True), Run("size: colonies", small=True),
            ],
            shorten=True,
        )  # fmt: skip
        head = Band()
        head.add(legend, 1)
        right = Panes(Stack(head, self.map), self.waiting, upright=True)
        right.share(470, 330)
        self.side = SidePane(right)
        self.side.back_to = self.table
        panes = Panes(left, self.side)
        panes.share(824, 432)
        self.front = panes
        self.stack = QStackedWidget()
        for pane in (panes, self.welcome, self.spreadsheet, self.plan, self.paper):
            self.stack.addWidget(pane)
        self.fill(self.stack)
        self.setFocusProxy(self.table)

    def _connect(self) -> None:
        self.chips.changed.connect(self._chipped)
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(lambda key: self.desk.open_place("rounds", self.lines[key].site))
        self.map.picked.connect(self._toggled)
        self.map.opened.connect(
            lambda key: self.desk.open_place("sites", key if isinstance(key, int) else None)
        )
        self.waiting.opened.connect(self._go)
        self.plan.found.connect(lambda: self._in_front(self.plan))
        self.plan.closed.connect(self._back)
        self.plan.card_wanted.connect(self.print_front)
        self.paper.shown.connect(self._paper_shown)
        self.plan.sheets_wanted.connect(self._print)
        self.paper.closed.connect(self._paper_closed)
        self.paper.kept.connect(self._paper_kept)
        self.desk.workers.job_moved.connect(self._job_moved)
        self.spreadsheet.shown.connect(lambda: self._in_front(self.spreadsheet))

    def _show(self, found: Morning, steps: FirstSteps, waits: list[Pressing]) -> None:
        today = self.desk.clock.today()
        self.lines = {line.site_id: line for line in found.sites}
        self.home = found.home
        self.pressing = [*found.pressing, *waits]
        self.table.set_rows([due_row(line, today) for line in found.sites])
        self.map.set_sites(shapes(found, today))
        self.waiting.say(pressing_facts(self.pressing, today))
        due = sum(line.colonies_due for line in found.sites)
        self.count.setText(f"{counted(len(found.sites), 'site')}, {counted(due, 'colony', 'colonies')} due")
        self.quiet.stand_for(self.table, nothing=not found.sites)
        self.first.take(steps)
        self.welcome.show_steps(steps)
        if self.stack.currentWidget() in (self.front, self.welcome):
            self._back()
        self._chosen(self.table.chosen())

    def _leave_welcome(self) -> None:
        self.first.leave()
        self._back()

    def _paper_kept(self) -> None:
        self.welcome.paper_kept()
        self.refresh()

    def _back(self) -> None:
        self._in_front(self.welcome if self.first.wanted else self.front)

    def _in_front(self, pane: QWidget) -> None:
        """Bring a piece to the front; if the keys were in the one before, it gets them."""
        had_keys = self.stack.isAncestorOf(QApplication.focusWidget() or self)
        changed = self.stack.currentWidget() is not pane
        self.stack.setCurrentWidget(pane)
        self.setFocusProxy(self.table if pane is self.front else pane)
        if had_keys and changed:
            self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _paper_closed(self) -> None:
        """Back to the plan that was printed, else to the list."""
        if self._from_plan:
            self._in_front(self.plan)
        else:
            self._back()

    def _show_paper(self, printed: Printed) -> None:
        self.paper.show_printed(printed)

    def _paper_shown(self) -> None:
        self._from_plan = self.stack.currentWidget() is self.plan
        self._in_front(self.paper)

    def _chipped(self, on: list[Hashable]) -> None:
        code = str(on[0]) if on else "all"

        def keep(row: Row) -> bool:
            return isinstance(row.id, int) and has_reason(self.lines[row.id], code)

        self.table.filter_by(None if code == "all" else keep)

    def _chosen(self, _ids: list[Hashable]) -> None:
        chosen = self.chosen_lines()
        order = driving_order(chosen, self.home)
        self.map.set_chosen([line.site_id for line in order], route=len(order) > 1)
        self.foot.say(*chosen_words(chosen, self.home))
        if chosen:
            self.sheets.on()
            self.later.on()
            self.round.on()
        else:
            self.sheets.off("No site is chosen")
            self.later.off("No site is chosen")
            self.round.off("No site is chosen")

    def _toggled(self, key: Hashable) -> None:
        chosen = self.table.chosen()
        self.table.choose(
            [one for one in chosen if one != key] if key in chosen else [*chosen, key], scroll=False
        )

    def _go(self, at: Hashable) -> None:
        if isinstance(at, int) and at < len(self.pressing):
            self.desk.open_place(self.pressing[at].place, self.pressing[at].what)

    def _name(self, name: str) -> None:
        self.desk.act(set_farm, {"name": name}, owner=self)

    def _brought_in(self, _done: Done) -> None:
        self._in_front(self.front)
        self.refresh()
