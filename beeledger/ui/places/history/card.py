"""The card of one act: what it changed, row by row, what stands on it, and the button that takes it back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from zoneinfo import ZoneInfo

from beeledger.base.dates import long
from beeledger.base.findings import Finding
from beeledger.base.text import counted
from beeledger.queries.acts import ActLine, FieldChange, RowChange
from beeledger.queries.round_again import POSTING
from beeledger.ui.parts.act_words import act_words
from beeledger.ui.places.history.words import field_word, table_word, value_words
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import Words

_HOW = {"added": "added", "changed": "changed", "removed": "taken out"}
MIDDLE_AT = 140
INSET, SCROLL_BAR = 16, 10
SILENT = frozenset({"uid", "key"})
"""Fields that say nothing to a person, or what the row is called already."""


class HistoryCard(Card):
    """What one act changed, and the button that takes it back."""

    def __init__(self, undo: Callable[[], None], correct: Callable[[], None]) -> None:
        super().__init__()
        self.setObjectName("history.card")
        self.undo = Button("Take back", undo)
        self.undo.setObjectName("history.card.undo")
        self.correct = Button("Correct the round", correct)
        self.correct.setObjectName("history.card.correct")
        self._reason = Words(role="small", ink="ink2", wrap=True)
        self._reason.setObjectName("history.card.why")
        self.undo.say_reason_in(self._reason)
        self.head.set_acts(self.undo, self.correct)
        self.head.layout().addWidget(self._reason)  # type: ignore[union-attr]  # the head has a layout
        self.facts = FactRows(middle_at=MIDDLE_AT)
        self.changes = self.section("history.changes", "What changed", self.facts)
        self.clear_act()

    def clear_act(self) -> None:
        """No act is chosen, or there is none yet."""
        self.say("No act chosen", (), "Each thing that is done is listed here from now on.")
        self.undo.off("Choose an act in the table first.")
        self.correct.hide()
        self.changes.say("")
        self.facts.say([])

    def show_act(
        self, line: ActLine, total: int, changes: Sequence[RowChange], held: Sequence[Finding]
    ) -> None:
        """Fill the card; ``held`` is what forbids taking the act back."""
        local = line.at.astimezone(ZoneInfo(line.zone))
        back = [Run("taken back", "ink2", 600)] if line.taken_back_by is not None else []
        self.say(
            f"Act {line.id:,}",
            back,
            f"{act_words(line.sentence)}\n{long(line.on)}, {local:%H:%M} · {line.who} at desk {line.desk}",
        )
        self._say_undo(line, held)
        self.correct.setVisible(line.kind in POSTING and line.taken_back_by is None)
        more = f", {len(changes)} shown" if total > len(changes) else ""
        self.changes.say(f"{counted(total, 'row')}{more}")
        room = self.facts.width() - look.px(MIDDLE_AT + 2 * INSET) - SCROLL_BAR
        self.facts.say(change_facts(changes, line.zone, room) or [_NOTHING])

    def _say_undo(self, line: ActLine, held: Sequence[Finding]) -> None:
        self.undo.setText("Bring again" if line.undoes is not None else "Take back")
        self._reason.setVisible(line.taken_back_by is not None or bool(held))
        if line.taken_back_by is not None:
            self.undo.off(f"Taken back by act {line.taken_back_by:,}.")
        elif held:
            self.undo.off(held[0].sentence())
        else:
            self.undo.on()


_NOTHING = Fact("No row of the record: only what is worked out from it", ink="ink2")


def change_facts(changes: Sequence[RowChange], zone: str, room: int = 0) -> list[Fact]:
    """Each row with its fields below it, in words; what is longer than ``room`` pixels goes on below."""
    return [fact for change in changes for fact in _facts(change, zone, room)]


def _facts(change: RowChange, zone: str, room: int) -> list[Fact]:
    name = change.name.replace("_", " ") if change.table == "farm_setting" else change.name
    title = f"{table_word(change.table)} {name or change.row_id}"
    mark = Mark.ODD if change.how == "removed" else None
    facts = [Fact(title[:1].upper() + title[1:], _HOW[change.how], mark, weight=600)]
    for field in change.fields:
        if field.field not in SILENT:
            first, *rest = broken(_from_to(change, field, zone), room)
            facts.append(Fact(field_word(field.field), middle=first, ink="ink2"))
            facts.extend(Fact("", middle=line) for line in rest)
    return facts


def broken(text: str, room: int) -> list[str]:
    """A text in lines of at most ``room`` pixels where it has blanks to break at; whole without a room."""
    metrics = look.metrics("small")
    lines = [""]
    for word in " ".join(text.split()).split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if room <= 0 or not lines[-1] or metrics.horizontalAdvance(longer) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _from_to(change: RowChange, field: FieldChange, zone: str) -> str:
    if change.how == "added":
        return value_words(field.field, field.after, zone)
    if change.how == "removed":
        return value_words(field.field, field.before, zone)
    return f"{value_words(field.field, field.before, zone)} → {value_words(field.field, field.after, zone)}"
