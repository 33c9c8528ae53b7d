"""The planned day in front of Today: asked for in a form, searched off the window's thread, changed by keys."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.queries.due import SiteDue, due_by_site
from beeledger.queries.parties import VehicleLine, list_vehicles
from beeledger.rules.day_plan import Problem
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.parts.typed_form import SidePane
from beeledger.ui.places.today.plan_form import DayWish, plan_form
from beeledger.ui.places.today.plan_rows import COLUMNS, Planned, plan_rows, plan_words
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.foot import ActFoot
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import Words

CHORDS = (
    ("Ctrl+Up", "in a plan: the stop earlier"), ("Ctrl+Down", "in a plan: the stop later"),
    ("Ctrl+Left", "in a plan: to the van before"), ("Ctrl+Right", "in a plan: to the next van"),
    ("Del", "in a plan: leave the stop out"),
)  # fmt: skip
"""The keys that change a plan, as F1 lists them."""
_TOLD = 25
"""Steps of the search between two words to the status line."""


class PlanPane(Stack):
    """One day: asks for it, looks for a plan, shows it, and lets it be changed."""

    closed = Signal()
    found = Signal()
    """A plan is there to be shown."""
    card_wanted = Signal()
    sheets_wanted = Signal(list, object)
    """The sites in order, and the day."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.planned: Planned | None = None
        self.last: DayWish | None = None
        self.title = Words("", weight=600)
        self.table = RecordTable(COLUMNS, many=False)
        self.table.setObjectName("today.plan")
        self.sheets = Button("Round sheets", self._sheets, icon="print")
        self.sheets.setObjectName("today.plan.sheets")
        self.back = Button("Back to Today", self.closed.emit)
        self.back.setObjectName("today.plan.back")
        self.card = Button("Route card", self.card_wanted.emit, kind="main")
        self.card.setObjectName("today.plan.card")
        self.foot = ActFoot(self.back, self.sheets, self.card)
        band = Band(self.title)
        self.add(band)
        self.add(self.table, 1)
        self.add(self.foot)
        self.setFocusProxy(self.table)
        self._listen()

    def ask(self, lines: Sequence[SiteDue], side: SidePane) -> None:
        """Ask for the date and the vans of a day to these sites; none: to all where something is due."""

        def opened(vehicles: Sequence[VehicleLine]) -> None:
            vans = [each for each in vehicles if each.retired_on is None]
            if not vans:
                self.desk.say("No van is in the record", "watch", "Add one in Settings, under Vehicles")
                return
            where = lines[0].site if len(lines) == 1 else counted(len(lines), "site")
            form = plan_form(where if lines else "all sites due", vans, self.desk.clock.today(), self.last)
            form.ready.connect(lambda wish: self._search(wish, lines, side))
            side.open(form, "today.plan_form")

        self.desk.read(list_vehicles, owner=self, then=opened, key="vans")

    def _search(self, wish: DayWish, lines: Sequence[SiteDue], side: SidePane) -> None:
        self.last = wish
        wanted = {line.site_id: line.site for line in lines}
        desk = self.desk

        def work(job: Job) -> Planned:
            return searched(desk, job, wish, wanted)

        def shown(planned: Planned) -> None:
            side.leave()
            self.show_plan(planned)

        desk.run(f"Planning {long(wish.on)}", work, owner=self, then=shown)

    def show_plan(self, planned: Planned) -> None:
        """Show a plan, or say why there is none."""
        if not planned.problem.stops:
            why, remedy = ("Nothing is due on that day", "Choose a later day")
            if planned.no_stop:
                why, remedy = f"No stop can be planned: {planned.no_stop[0][0]}, {planned.no_stop[0][1]}", ""
            self.desk.say(why, "watch", remedy)
            return
        self.title.setText(f"The day planned, {long(planned.on)}")
        self._put(planned)
        self.found.emit()
        self.table.choose([("stop", stop) for lane in planned.lanes for stop in lane][:1])

    def _put(self, planned: Planned) -> None:
        self.planned = planned
        self.table.set_rows(plan_rows(planned))
        self.foot.say(*plan_words(planned))
        if planned.site_ids():
            self.sheets.on()
            self.card.on()
        else:
            self.sheets.off("No van goes anywhere")
            self.card.off("No van goes anywhere")

    def _listen(self) -> None:
        for keys, change in _CHANGES:
            self._key(keys, partial(self._change, change))
        self._key("Escape", self.closed.emit)

    def _key(self, keys: str, act: Callable[[], object]) -> None:
        shortcut = QShortcut(QKeySequence(keys), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(act)

    def _change(self, change: Callable[[Planned, int], Planned]) -> None:
        """Change the chosen stop; it stays chosen where it went."""
        chosen = self.table.chosen()
        match chosen, self.planned:
            case [("stop", int(stop))], Planned() as planned:
                self._put(change(planned, stop))
                self.table.choose(chosen)

    def _sheets(self) -> None:
        if self.planned is not None:
            self.sheets_wanted.emit(self.planned.site_ids(), self.planned.on)


_CHANGES: tuple[tuple[str, Callable[[Planned, int], Planned]], ...] = (
    ("Ctrl+Up", lambda plan, stop: plan.shifted(stop, -1)),
    ("Ctrl+Down", lambda plan, stop: plan.shifted(stop, 1)),
    ("Ctrl+Left", lambda plan, stop: plan.handed(stop, -1)),
    ("Ctrl+Right", lambda plan, stop: plan.handed(stop, 1)),
    ("Del", lambda plan, stop: plan.dropped(stop)),
)


def searched(desk: Desk, job: Job, wish: DayWish, wanted: dict[int, str]) -> Planned:
    """Look for a good plan; asked to stop it is the best so far. Not on the window's thread."""
    from beeledger.queries.day_plan import day_problem
    from beeledger.rules.day_tours import proposed

    with desk.ledger.read() as session:
        due = {line.site_id: line for line in due_by_site(session, wish.on)}
        names = wanted or {number: line.site for number, line in due.items()}
        problem = day_problem(session, wish.on, list(names), wish.vans)

    def progress(done: int, total: int) -> bool:
        job.done, job.total = done, total
        if job.report is not None and done % _TOLD == 0:
            job.report(job)
        return job.stop.is_set()

    lanes = proposed(problem, progress=progress)
    return Planned(wish.on, problem, lanes, due, _no_stop(problem, names, due, wish.on))


def _no_stop(
    problem: Problem, names: dict[int, str], due: dict[int, SiteDue], on: date
) -> tuple[tuple[str, str], ...]:
    stops = {stop.key for stop in problem.stops}
    return tuple(
        (name, "it has no grid reference yet" if number in due else f"nothing is due there on {long(on)}")
        for number, name in names.items()
        if number not in stops
    )
