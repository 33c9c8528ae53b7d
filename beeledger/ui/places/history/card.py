"""The card of one act: what it changed, row by row."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from zoneinfo import ZoneInfo

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.queries.acts import ActLine, RowChange
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.fact_rows import Fact, FactRows

_WORDS = {"round_entry": "entry", "box_stack": "boxes", "hive_mark": "hive number", "farm_setting": "farm"}


class HistoryCard(Card):
    """What one act changed, and the button that takes it back."""

    def __init__(self, undo: Callable[[int], None]) -> None:
        super().__init__()
        self.setObjectName("history.card")
        self._line: ActLine | None = None
        self._take_back = undo
        self.undo = Button("Take back", self._undo_wanted)
        self.undo.setObjectName("history.card.undo")
        self.head.set_acts(self.undo)
        self.facts = FactRows(middle_at=120)
        self.changes = self.section("history.changes", "What changed", self.facts)
        self.say("No act yet", (), "What is done from now on is listed here.")
        self.undo.off("Nothing is chosen")

    def _undo_wanted(self) -> None:
        if self._line is not None:
            self._take_back(self._line.id)

    def show_act(self, line: ActLine, total: int, changes: Sequence[RowChange]) -> None:
        """Fill the card."""
        self._line = line
        local = line.at.astimezone(ZoneInfo(line.zone))
        self.say(
            f"Act {line.id:,}",
            (),
            f"{line.sentence}\n{long(line.on)}, {local:%H:%M} · {line.who} at desk {line.desk}",
        )
        if line.taken_back_by is not None:
            self.undo.off(f"Taken back by act {line.taken_back_by:,}")
        else:
            self.undo.on()
        self.changes.say(counted(total, "row"))
        self.facts.say([fact for change in changes for fact in _facts(change)])


def _facts(change: RowChange) -> list[Fact]:
    name = _WORDS.get(change.table, change.table.replace("_", " "))
    head = Fact(f"{name} {change.row_id}", change.how, weight=600)
    if change.how == "removed":
        return [head]
    lines = [
        Fact("", middle=f"{field.field.replace('_', ' ')}: {_from_to(field.before, field.after)}")
        for field in change.fields
    ]
    return [head, *lines]


def _from_to(before: str | None, after: str | None) -> str:
    if before is None:
        return after or ""
    return f"{before} → {after if after is not None else '(nothing)'}"
