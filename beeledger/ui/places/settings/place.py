"""Settings: what the farm has decided, this desk's look and names, backups and the check of the ledger.

Reads: queries.farm.farm_settings
Acts: operations.farm.set_farm
Prints: nothing
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any, ClassVar

from PySide6.QtWidgets import QVBoxLayout

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.database.backup import backup, backups_of, thin
from beeledger.database.checking.check import Report, check_ledger
from beeledger.operations.act import Done
from beeledger.operations.farm import set_farm
from beeledger.queries.farm import FarmSettings, farm_settings
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.desk.place import Place
from beeledger.ui.places.settings.card import DeskCard
from beeledger.ui.places.settings.farm_form import FarmForm, changes
from beeledger.ui.widgets.panes import Panes


class Here(Place):
    """The farm at the left, this desk at the right."""

    key: ClassVar[str] = "settings"
    title: ClassVar[str] = "Settings"
    reads: ClassVar[frozenset[str]] = frozenset({"farm_setting"})

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.farm: FarmSettings | None = None
        self.form = FarmForm()
        self.form.submitted.connect(self._save)
        self.form.cancelled.connect(self.refresh)
        self.card = DeskCard(desk.change_settings, self.back_up, self.check)
        panes = Panes(self.form, self.card)
        panes.share(700, 560)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(panes)
        self.setFocusProxy(self.form.fields["name"])

    def refresh(self) -> None:
        """Read the farm's settings; list the backups."""
        self.card.fill(self.desk.settings)
        self.desk.read(farm_settings, owner=self, then=self._show, key="farm")
        self._list_backups()

    def back_up(self) -> None:
        """Write a backup off the window's thread, check it, and thin out the old ones."""

        def work(job: Job) -> Path:
            job.progress(0, 2)
            path = backup(self.desk.ledger)
            job.progress(1, 2)
            if self.desk.ledger.file is not None:
                thin(self.desk.ledger.file, self.desk.clock.now())
            return path

        def written(path: Path) -> None:
            self.desk.say(f"Backup written and checked: {path.name}", "done")
            self._list_backups()

        self.desk.run("Writing a backup", work, owner=self, then=written)

    def check(self) -> None:
        """Prove the whole ledger."""

        def work(job: Job) -> Report:
            return check_ledger(self.desk.ledger, job.progress)

        self.desk.run("Checking the ledger", work, owner=self, then=self.card.show_report)

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>At the left what the farm has decided: it goes on labels and papers and is kept in the ledger, with "
            "History. At the right what this desk has settled for itself.</p><p>A backup is opened and checked after "
            "writing; old ones thin out to daily, weekly and monthly. Restore one with <b>beeledger restore</b>.</p>"
        )

    def _show(self, farm: FarmSettings) -> None:
        self.farm = farm
        self.form.fill(farm)
        self.form.show_findings([])

    def _save(self, values: dict[str, str]) -> None:
        if self.farm is None:
            return
        wanted, wrong = changes(self.farm, values)
        if wrong:
            self._refused(Refused([_wrong(field, what) for field, what in wrong.items()]))
            return
        if not wanted:
            self.desk.say("Nothing was changed")
            return
        self.desk.act(set_farm, wanted, owner=self, then=self._saved, refused=self._refused)

    def _saved(self, _done: Done) -> None:
        self.form.show_findings([])

    def _refused(self, refusal: Refused) -> None:
        self.form.show_findings(refusal.findings)
        self.form.main.on()

    def _list_backups(self) -> None:
        file = self.desk.ledger.file
        found: list[Any] = []
        for path in backups_of(file) if file is not None else []:
            status = path.stat()
            found.append((path, datetime.fromtimestamp(status.st_mtime, UTC), status.st_size))
        self.card.show_backups(found, self.desk.clock.zone)


def _wrong(field: str, what: str) -> Finding:
    return Finding("settings.unread", Grade.REFUSED, what, "Type a figure", Where(field=field))
