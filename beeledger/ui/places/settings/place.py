"""Settings: what the farm has decided, people and firms, crew and vehicles, this desk's look and names, backups and the check of the ledger.

Reads: queries.farm.farm_settings, queries.parties.list_parties, queries.parties.list_crew, queries.parties.list_vehicles
Acts: operations.farm.set_farm, operations.parties.add_party, operations.parties.change_party, operations.erasure.erase_party, operations.crew.add_crew_member, operations.crew.change_crew_member, operations.parties.add_vehicle, operations.parties.change_vehicle
Computes: rules.rounds.normal.habits_for, rules.due.adjustables, rules.due.with_own
Prints: nothing
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Any, ClassVar

from PySide6.QtWidgets import QStackedWidget

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding
from beeledger.database.checking.check import Report
from beeledger.operations.act import Done
from beeledger.operations.checking import check_whole
from beeledger.operations.farm import set_farm
from beeledger.queries.farm import FarmSettings, farm_settings
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.desk.place import Place
from beeledger.ui.parts.backups import KeptBackup, backups_of_ledger, write_backup
from beeledger.ui.parts.side_panes import SidePanes
from beeledger.ui.places.settings.card import DeskCard, backup_name
from beeledger.ui.places.settings.crew import Crew, Vehicles
from beeledger.ui.places.settings.due_form import DueForm, due_changes
from beeledger.ui.places.settings.farm_form import FarmForm, changes
from beeledger.ui.places.settings.hives_form import HivesForm, hive_changes
from beeledger.ui.places.settings.listing import Listing
from beeledger.ui.places.settings.people import People
from beeledger.ui.widgets.form import Form
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.tabs import Tab, Tabs

FarmForms = FarmForm | HivesForm | DueForm
Changes = Callable[[FarmSettings, Mapping[str, str]], tuple[dict[str, Any], list[Finding]]]

ON_SERVER = (
    "Other desks work in it. Whoever keeps the server makes a new, empty database; then the command beeledger restore "
    "brings this backup into it, and every desk opens the new address:"
)
KEEP, RESTORE = "Keep the ledger as it is", "Restore this backup"


TABS = (
    Tab("farm", "The farm"),
    Tab("hives", "Hives and visits"),
    Tab("due", "What is due"),
    Tab("people", "People and firms"),
    Tab("crew", "Crew"),
    Tab("vehicles", "Vehicles"),
)


class Here(Place):
    """Tabs at the left: the farm's decisions and its lists; at the right this desk, or the card of a list."""

    key: ClassVar[str] = "settings"
    title: ClassVar[str] = "Settings"
    reads: ClassVar[frozenset[str]] = frozenset(
        {"farm_setting", "party", "party_contact", "crew_member", "vehicle"}
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.farm: FarmSettings | None = None
        self._kept: list[KeptBackup] = []
        self.form, self.hives, self.due = FarmForm(), HivesForm(), DueForm()
        self._changes: dict[FarmForms, Changes] = {
            self.form: changes, self.hives: hive_changes, self.due: due_changes,
        }  # fmt: skip
        for form in self._changes:
            form.submitted.connect(partial(self._save, form))
            form.cancelled.connect(partial(self._start_over, form))
        self.card = DeskCard(desk.change_settings, self.back_up, self.check)
        self.card.restore_wanted.connect(self._ask_restore)
        self.lists: dict[str, Listing] = {
            "people": People(desk, self.back_up), "crew": Crew(desk), "vehicles": Vehicles(desk),
        }  # fmt: skip
        self._lay_out()
        self.command("Ctrl+N", "add to the list in front", self.new)
        self.command("Ctrl+E", "change the chosen row of the list in front", self.change)
        self.setFocusProxy(self.form.fields["name"])

    def _lay_out(self) -> None:
        self.tabs = Tabs(TABS)
        self.tabs.setObjectName("settings.tabs")
        self.tabs.chosen.connect(self._turned)
        self.front, self.side = QStackedWidget(), QStackedWidget()
        for view in (self.form, self.hives, self.due, *self.lists.values()):
            self.front.addWidget(view)
        for view in (self.card, *(each.side for each in self.lists.values())):
            self.side.addWidget(view)
        left = Stack(self.tabs)
        left.add(self.front, 1)
        self.fill(SidePanes(left, self.side, wanted=560, most=45))

    def refresh(self) -> None:
        """Read the farm's settings and its lists; list the backups."""
        self.card.form.fill(self.desk.settings)
        self.desk.read(farm_settings, owner=self, then=self._show, key="farm")
        for each in self.lists.values():
            each.refresh()
        self._list_backups()

    def come_to_front(self) -> None:
        """What this desk has settled may have changed while another place was in front."""
        super().come_to_front()
        self.card.form.fill(self.desk.settings)
        self._list_backups()

    def show_what(self, what: object) -> None:
        """A tab by its key."""
        if isinstance(what, str):
            self.tabs.choose(what)
            self.setFocus()

    def new(self) -> None:
        """Open the form of a new row of the list in front."""
        listing = self.lists.get(str(self.tabs.current()))
        if listing is not None:
            listing.new()

    def change(self) -> None:
        """Open the form of the chosen row of the list in front."""
        listing = self.lists.get(str(self.tabs.current()))
        if listing is not None:
            listing.change()

    def _turned(self, key: object) -> None:
        listing = self.lists.get(str(key))
        number = [tab.key for tab in TABS].index(str(key))
        self.front.setCurrentIndex(number)
        self.side.setCurrentWidget(listing.side if listing is not None else self.card)
        first = {"farm": self.form.fields["name"], "hives": self.hives.fields["hive_type"]}
        first["due"] = self.due.fields["cells_sealed_days"]
        self.setFocusProxy(listing if listing is not None else first[str(key)])

    def back_up(self) -> None:
        """Write a backup off the window's thread, check it, and thin out the old ones."""

        def written(path: Path) -> None:
            self.desk.say(f"Backup written and checked: {path.name}", "done")
            self._list_backups()

        write_backup(self.desk, owner=self, then=written)

    def check(self) -> None:
        """Prove the whole ledger."""

        def work(job: Job) -> Report:
            return check_whole(self.desk.ledger, job.progress)

        self.desk.run("Checking the ledger", work, owner=self, then=self._checked)

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>At the left what the farm has decided, in tabs: it goes on labels and papers and is kept in the ledger, "
            "with History. At the right what this desk has settled for itself; it holds at once.</p>"
            "<p><b>Hives and visits</b> says what a new hive is taken for, and what the key n fills in on a visit, season "
            "by season, in the marks of the quick line. <b>What is due</b> shows every reason for "
            "which a hive stands on Today, when it falls due and from where the figure comes; figures can be set and reasons "
            "switched off, and all that is due is worked out anew. <b>People and firms</b>, <b>Crew</b> and <b>Vehicles</b> are lists: "
            "Enter or Ctrl+E changes the chosen row, Ctrl+N adds one. A member of the crew who left and a vehicle that is "
            "retired stay in old records.</p>"
            "<p>A private person can be <b>erased</b>: a mark takes the place of the name in every record, in History and "
            "in the bytes of the file, and nothing brings it back. Addresses and telephone numbers are never copied into "
            "History; taking back a change of them says so. Backups from before an erasure are kept for 31 days and then removed.</p>"
            "<p>A backup is written each hour in which something was done, when the window is opened and the last is "
            "older than a day, and when it is closed after something was done. Each is opened, its rows are counted "
            "and it is checked after writing; old ones thin out to daily, weekly and monthly. A backup on the same disk "
            "does not outlive the disk: copy the folders of backups and of papers beside the ledger to another one now "
            "and then.</p><p>A ledger on a server is copied once a day into a file in this desk's own folder, papers "
            "with it; whoever keeps the server backs it up besides.</p>"
        )

    def _checked(self, report: Report) -> None:
        self.card.show_report(report, self.desk.clock.now(), self.desk.clock.zone)
        words = "Checked: all lines are met" if report.clean else f"Checked: {len(report.findings)} found"
        self.desk.say(words, "done" if report.clean else "now")

    def _show(self, farm: FarmSettings) -> None:
        """Show the farm, unless a person has begun to change it: what was typed stays."""
        was, self.farm = self.farm, farm
        for form in self._changes:
            begun = was is not None and form.values() != form.values_of(was)
            if not begun:
                form.fill(farm)
                form.show_findings([])

    def _start_over(self, form: FarmForms) -> None:
        if self.farm is not None:
            form.fill(self.farm)
            form.show_findings([])

    def _save(self, form: FarmForms, values: dict[str, str]) -> None:
        if self.farm is None:
            return
        wanted, wrong = self._changes[form](self.farm, values)
        refused = partial(self._refused, form)
        if wrong:
            refused(Refused(wrong))
        elif not wanted:
            self.desk.say("Nothing was changed")
        else:
            form.main.off("Being saved")
            self.desk.act(set_farm, wanted, owner=self, then=partial(self._saved, form), refused=refused)

    def _saved(self, form: FarmForms, _done: Done) -> None:
        def shown(farm: FarmSettings) -> None:
            form.fill(farm)  # what stands in the form is what was saved
            self._show(farm)

        form.show_findings([])
        self.desk.read(farm_settings, owner=self, then=shown, key="farm")

    def _refused(self, form: Form, refusal: Refused) -> None:
        form.show_findings(refusal.findings)
        form.main.on()
        form.come_to_wrong()

    def _list_backups(self) -> None:
        self.desk.fetch(
            lambda: backups_of_ledger(self.desk.ledger),
            owner=self,
            then=self._show_backups,
            key="backups",
        )

    def _show_backups(self, kept: list[KeptBackup]) -> None:
        self._kept = kept
        self.card.show_backups(kept, self.desk.clock.zone)

    def _ask_restore(self, path: Path) -> None:
        if self.desk.ledger.file is None:
            self.desk.ask(
                "A server's ledger is not replaced from a window",
                f"{ON_SERVER}\n\n{path}",
                (KEEP,),
                lambda _answer: None,
            )
            return

        def answered(answer: str | None) -> None:
            if answer == RESTORE:
                self.desk.restore_wanted.emit(path)

        name = backup_name(path, self._kept, self.desk.clock.zone)
        self.desk.ask(
            f"Restore the backup of {name}?",
            "The window closes and comes back on the backup. What was done since is not in it. The ledger of now is "
            "moved aside, not erased. Close BeeLedger on every other computer that has this ledger open first.",
            (KEEP, RESTORE),
            answered,
        )
