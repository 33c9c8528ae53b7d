"""This desk and its ledger: look, text size, who sits here, backups, the check."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from PySide6.QtWidgets import QVBoxLayout, QWidget

from beeledger.base.dates import long
from beeledger.base.settings import DeskSettings
from beeledger.base.text import counted
from beeledger.database.checking.check import Report
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button, ButtonRow
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.marks import Mark

_LOOKS = (("auto", "as the desktop"), ("light", "light"), ("dark", "dark"))
_FOLDS = (("auto", "folded when the window is narrow"), ("folded", "always icons"), ("wide", "always words"))
_SIZES = tuple((f"{size:g}", f"{size:g} pt") for size in (9, 9.75, 11, 12.5, 14, 16))
_SHOWN = 8


class DeskCard(Card):
    """Sections about this desk and its ledger."""

    def __init__(
        self, change: Callable[..., None], backup: Callable[[], None], check: Callable[[], None]
    ) -> None:
        super().__init__()
        self.setObjectName("settings.desk")
        self._change = change
        self._filling = False
        self.look = Field("Look", editor=Choice(_LOOKS), message=False)
        self.text_size = Field("Text size", editor=Choice(_SIZES), message=False)
        self.fold = Field("List of places", editor=Choice(_FOLDS), message=False)
        self.who = Field("Who sits here, as History shows it", message=False)
        self.desk_name = Field("Name of this desk", message=False)
        self.backups = FactRows(marks=True)
        self.check = FactRows(marks=True)
        self.say("This desk", (), "Kept on this computer; other desks have their own.")
        self.section("settings.look", "Look and names", self._form(), inset=0)
        self.kept = self.section(
            "settings.backups", "Backups", _with(self.backups, Button("Back up now", backup))
        )
        self.proved = self.section(
            "settings.check", "Check of the ledger", _with(self.check, Button("Check everything", check))
        )
        self.check.say([Fact("Not checked since the window was opened", ink="ink2")])

    def fill(self, settings: DeskSettings) -> None:
        """Show what is settled."""
        self._filling = True
        for field, value in (
            (self.look, settings.look), (self.text_size, f"{settings.base_pt:g}"), (self.fold, settings.places_folded),
            (self.who, settings.who), (self.desk_name, settings.desk),
        ):  # fmt: skip
            field.set_value(value)
        self._filling = False

    def show_backups(self, files: Sequence[tuple[Path, datetime, int]], zone: str) -> None:
        """The newest backups with their time and size."""
        self.kept.say(counted(len(files), "backup"))
        facts = [
            Fact(
                f"{long(at.astimezone(ZoneInfo(zone)).date())}, {at.astimezone(ZoneInfo(zone)):%H:%M}",
                f"{size / 1e6:,.1f} MB",
                Mark.MET,
            )
            for _path, at, size in files[:_SHOWN]
        ]
        self.backups.say(facts or [Fact("No backup yet", mark=Mark.TODAY, ink="watch")])

    def show_report(self, report: Report) -> None:
        """Every line of the check, met or not."""
        self.proved.say("all met" if report.clean else counted(len(report.findings), "breach", "breaches"))
        self.check.say(
            [
                Fact(words[:1].upper() + words[1:], "" if not count else counted(count, "breach", "breaches"), Mark.MET if not count else Mark.CANNOT, ink="ink" if not count else "now")
                for _code, words, count in report.lines
            ]
            + [Fact(found.sentence(), mark=Mark.CANNOT, ink="now") for found in report.findings[:20]]
        )  # fmt: skip

    def _form(self) -> QWidget:
        box = QWidget()
        column = QVBoxLayout(box)
        column.setContentsMargins(look.px(16), look.px(4), look.px(16), look.px(12))
        column.setSpacing(look.px(8))
        for name, field in (
            ("look", self.look), ("base_pt", self.text_size), ("places_folded", self.fold), ("who", self.who), ("desk", self.desk_name),
        ):  # fmt: skip
            field.setObjectName(f"settings.desk.{name}")
            field.changed.connect(lambda _text, name=name, field=field: self._changed(name, field))
            column.addWidget(field)
        return box

    def _changed(self, name: str, field: Field) -> None:
        value = field.value()
        if self._filling or not value:
            return
        self._change(**{name: float(value) if name == "base_pt" else value})


def _with(rows: FactRows, button: Button) -> QWidget:
    box = QWidget()
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 0, 0, look.px(8))
    column.addWidget(rows)
    foot = ButtonRow(button)
    foot.setContentsMargins(look.px(16), 0, 0, 0)
    column.addWidget(foot)
    return box
