"""Settings: what the farm has decided, this desk's look and names, backups and the check of the ledger.

Reads: queries.farm.farm_settings
Acts: operations.farm.set_farm
Prints: nothing
"""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from PySide6.QtCore import Qt

from beeledger.base.errors import Refused
from beeledger.database.checking.check import Report, check_ledger
from beeledger.operations.act import Done
from beeledger.operations.farm import set_farm
from beeledger.queries.farm import FarmSettings, farm_settings
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.desk.place import Place
from beeledger.ui.parts.backups import KeptBackup, kept_backups, write_backup
from beeledger.ui.parts.side_panes import SidePanes
from beeledger.ui.places.settings.card import DeskCard, backup_name
from beeledger.ui.places.settings.farm_form import FarmForm, changes

KEEP, RESTORE = "Keep the ledger as it is", "Restore this backup"


class Here(Place):
    """The farm at the left, this desk at the right."""

    key: ClassVar[str] = "settings"
    title: ClassVar[str] = "Settings"
    reads: ClassVar[frozenset[str]] = frozenset({"farm_setting"})

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.farm: FarmSettings | None = None
        self._kept: list[KeptBackup] = []
        self.form = FarmForm()
        self.form.submitted.connect(self._save)
        self.form.cancelled.connect(self._start_over)
        self.card = DeskCard(desk.change_settings, self.back_up, self.check)
        self.card.restore_wanted.connect(self._ask_restore)
        self.fill(SidePanes(self.form, self.card, wanted=560, most=45))
        self.setFocusProxy(self.form.fields["name"])

    def refresh(self) -> None:
        """Read the farm's settings; list the backups."""
        self.card.form.fill(self.desk.settings)
        self.desk.read(farm_settings, owner=self, then=self._show, key="farm")
        self._list_backups()

    def come_to_front(self) -> None:
        """What this desk has settled may have changed while another place was in front."""
        super().come_to_front()
        self.card.form.fill(self.desk.settings)
        self._list_backups()

    def back_up(self) -> None:
        """Write a backup off the window's thread, check it, and thin out the old ones."""

        def written(path: Path) -> None:
            self.desk.say(f"Backup written and checked: {path.name}", "done")
            self._list_backups()

        write_backup(self.desk, owner=self, then=written)

    def check(self) -> None:
        """Prove the whole ledger."""

        def work(job: Job) -> Report:
            return check_ledger(self.desk.ledger, job.progress)

        self.desk.run("Checking the ledger", work, owner=self, then=self._checked)

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>At the left what the farm has decided: it goes on labels and papers and is kept in the ledger, with "
            "History. At the right what this desk has settled for itself; it holds at once.</p>"
            "<p>A backup is written when the window is opened and the last is older than a day, and when it is closed "
            "after something was done. Each is opened and checked after writing; old ones thin out to daily, weekly "
            "and monthly. A backup on the same disk does not outlive the disk: copy the folder beside the ledger to "
            "another one now and then.</p>"
        )

    def _checked(self, report: Report) -> None:
        self.card.show_report(report, self.desk.clock.now(), self.desk.clock.zone)
        words = "Checked: all lines are met" if report.clean else f"Checked: {len(report.findings)} found"
        self.desk.say(words, "done" if report.clean else "now")

    def _show(self, farm: FarmSettings) -> None:
        """Show the farm, unless a person has begun to change it: what was typed stays."""
        begun = self.farm is not None and self.form.values() != self.form.values_of(self.farm)
        self.farm = farm
        if not begun:
            self.form.fill(farm)
            self.form.show_findings([])

    def _start_over(self) -> None:
        if self.farm is not None:
            self.form.fill(self.farm)
            self.form.show_findings([])

    def _save(self, values: dict[str, str]) -> None:
        if self.farm is None:
            return
        wanted, wrong = changes(self.farm, values)
        if wrong:
            self._refused(Refused(wrong))
        elif not wanted:
            self.desk.say("Nothing was changed")
        else:
            self.form.main.off("Being saved")
            self.desk.act(set_farm, wanted, owner=self, then=self._saved, refused=self._refused)

    def _saved(self, _done: Done) -> None:
        self.farm = None  # what stands in the form is what was saved; the next read shows it
        self.form.show_findings([])
        self.desk.read(farm_settings, owner=self, then=self._show, key="farm")

    def _refused(self, refusal: Refused) -> None:
        self.form.show_findings(refusal.findings)
        self.form.main.on()
        named = {finding.where.field for finding in refusal.findings}
        first = next((field for name, field in self.form.fields.items() if name in named), None)
        if first is not None:
            first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _list_backups(self) -> None:
        file = self.desk.ledger.file
        if file is None:
            self.card.no_backups_here()
            return
        self.desk.fetch(lambda: kept_backups(file), owner=self, then=self._show_backups, key="backups")

    def _show_backups(self, kept: list[KeptBackup]) -> None:
        self._kept = kept
        self.card.show_backups(kept, self.desk.clock.zone)

    def _ask_restore(self, path: Path) -> None:
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
