"""This desk and its ledger: look, text size, who sits here, backups, the check."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.database.checking.check import Report
from beeledger.ui.parts.backups import KeptBackup
from beeledger.ui.places.settings.desk_form import DeskForm
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button, ButtonRow
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import Words

BACKUPS_SHOWN = 12
FINDINGS_SHOWN = 20


class DeskCard(Card):
    """Sections about this desk and its ledger. ``restore_wanted`` carries the backup that was opened."""

    restore_wanted = Signal(object)

    def __init__(
        self, change: Callable[..., None], backup: Callable[[], None], check: Callable[[], None]
    ) -> None:
        super().__init__()
        self.setObjectName("settings.card")
        self.form = DeskForm(change)
        self.backups = FactRows(marks=True)
        self.backups.setObjectName("settings.backups.list")
        self.backups.opened.connect(self.restore_wanted)
        self.check = FactRows(marks=True)
        self.check.setObjectName("settings.check.list")
        self.back_up = Button("Back up now", backup)
        self.back_up.setObjectName("settings.backups.write")
        self.prove = Button("Check everything", check)
        self.prove.setObjectName("settings.check.run")
        self.hint = Words("", role="small", ink="ink2", wrap=True)
        self.say("This desk", (), "Kept on this computer; other desks have their own.")
        self.section("settings.look", "Look and names", self.form, inset=0)
        kept = _under(self.backups, self.back_up, self.hint)
        self.kept = self.section("settings.backups", "Backups", kept)
        self.proved = self.section("settings.check", "Check of the ledger", _under(self.check, self.prove))
        self.check.say([Fact("Not checked since the window was opened", ink="ink2")])

    def show_backups(self, kept: Sequence[KeptBackup], zone: str) -> None:
        """The newest backups with their time and size; one that is opened can be restored."""
        self.kept.say(counted(len(kept), "backup") if kept else "none yet")
        self.backups.say([_backup_fact(one, zone) for one in kept[:BACKUPS_SHOWN]] or [_NO_BACKUP])
        older = (
            f" {len(kept) - BACKUPS_SHOWN} older ones lie beside the ledger."
            if len(kept) > BACKUPS_SHOWN
            else ""
        )
        self.hint.setText(f"Open one with Enter or a click to restore it.{older}" if kept else "")
        self.hint.setVisible(bool(kept))

    def show_report(self, report: Report, at: datetime, zone: str) -> None:
        """Every line of the check, met or not, then what was found."""
        when = f"{at.astimezone(ZoneInfo(zone)):%H:%M}"
        count = len(report.findings)
        self.proved.say(f"all met at {when}" if report.clean else f"{_breaches(count)} at {when}")
        more = count - FINDINGS_SHOWN
        self.check.say(
            [_check_fact(words, number) for _code, words, number in report.lines]
            + [
                Fact(found.sentence(), mark=Mark.CANNOT, ink="now")
                for found in report.findings[:FINDINGS_SHOWN]
            ]
            + ([Fact(f"and {more:,} more", ink="now")] if more > 0 else [])
        )


_NO_BACKUP = Fact("No backup yet", mark=Mark.TODAY, ink="watch")


def _backup_fact(kept: KeptBackup, zone: str) -> Fact:
    local = kept.at.astimezone(ZoneInfo(zone))
    middle = ", before a new version" if kept.before_version else ""
    words = f"{long(local.date())}, {local:%H:%M}{middle}"
    if kept.goes_at is not None:
        words += f"; holds a person erased since, goes {long(kept.goes_at.astimezone(ZoneInfo(zone)).date())}"
    return Fact(words, f"{kept.size_bytes / 1e6:,.1f} MB", Mark.MET, key=kept.path)


def _check_fact(words: str, count: int) -> Fact:
    said = words[:1].upper() + words[1:]
    if not count:
        return Fact(said, mark=Mark.MET)
    return Fact(said, _breaches(count), Mark.CANNOT, ink="now", value_ink="now")


def _breaches(count: int) -> str:
    return counted(count, "breach", "breaches")


def backup_name(kept: Path, shown: Sequence[KeptBackup], zone: str) -> str:
    """A backup as the question names it: by its day and time."""
    at = next((one.at for one in shown if one.path == kept), None)
    return (
        f"{long(at.astimezone(ZoneInfo(zone)).date())}, {at.astimezone(ZoneInfo(zone)):%H:%M}"
        if at
        else kept.name
    )


def _under(rows: FactRows, button: Button, hint: Words | None = None) -> QWidget:
    box = QWidget()
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 0, 0, look.px(8))
    column.setSpacing(look.px(4))
    column.addWidget(rows)
    foot = ButtonRow(button)
    foot.setContentsMargins(look.px(16), look.px(4), 0, 0)
    if hint is not None:
        hint.setContentsMargins(look.px(16), 0, look.px(16), 0)
        column.addWidget(hint)
    column.addWidget(foot)
    return box
