"""History: every act with who and when, what it changed, its undo, and what stands on it.

Reads: queries.acts.acts, queries.acts.changes_of, queries.round_again.round_of_act
Acts: operations.undo.undo
Prints: nothing
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt

from beeledger.base.findings import Finding
from beeledger.base.text import counted
from beeledger.operations.undo import why_not
from beeledger.queries.acts import PAGE, ActLine, RowChange, acts, changes_of
from beeledger.queries.records.round_desk import RoundKey
from beeledger.queries.round_again import round_of_act
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.place import Place
from beeledger.ui.parts.side_panes import SidePanes
from beeledger.ui.places.history.card import HistoryCard
from beeledger.ui.places.history.table import COLUMNS, act_row
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Row, Run
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

ABOVE = 20
"""How many newer acts stand above one that was gone to."""
_Card = tuple[int, list[RowChange], list[Finding]]


def read_card(session: Session, act_id: int) -> _Card:
    """What the card shows of an act: rows changed, and what forbids taking it back."""
    total, changes = changes_of(session, act_id)
    return total, changes, why_not(session, act_id)


class Here(Place):
    """The acts of the farm, newest first, read page by page as one scrolls down."""

    key: ClassVar[str] = "history"
    title: ClassVar[str] = "History"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.lines: dict[int, ActLine] = {}
        self._rows: list[Row] = []
        self._all_there = True
        self._fetching = False
        self._below: int | None = None
        self._wanted: int | None = None
        self.filter = FilterBox("What, who, or the number of an act", width=320)
        self.filter.setObjectName("history.filter")
        self.newest = Button("Newest acts", self.to_newest, kind="quiet")
        self.newest.setObjectName("history.newest")
        self.newest.hide()
        self.table = RecordTable(COLUMNS, many=False)
        self.table.setObjectName("history.table")
        self.table.setAccessibleName("Acts, newest first")
        self.foot = TableFoot()
        self.card = HistoryCard(self.take_back, self.correct_round)
        self._lay_out()
        self._connect()

    def refresh(self) -> None:
        """Read anew as many acts as are shown: the newest that fit the filter, or those about the one gone to."""
        self._read(max(PAGE, len(self.lines)))

    def show_what(self, what: object) -> None:
        """Go to an act by its number, however long ago it was."""
        if not isinstance(what, int):
            return
        self._wanted = what
        if what in self.lines:
            self._choose_wanted()
            return
        self._below = what + ABOVE
        if self.filter.text():
            self.filter.clear()  # which reads anew
        else:
            self._read(PAGE)

    def to_newest(self) -> None:
        """From the acts about an old one back to the newest."""
        self._below = self._wanted = None
        self.table.choose([])
        self._read(PAGE)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def take_back(self) -> None:
        """Take back the chosen act; what stands on it is said in the card and in the top line."""
        line = self._chosen_line()
        if line is None:
            self.desk.say("Choose an act first")
        else:
            self.desk.undo(line.id)

    def correct_round(self) -> None:
        """Open the round that the chosen act posted, to correct it under Rounds."""
        line = self._chosen_line()
        if line is not None:
            self.desk.read(round_of_act, line.id, owner=self, then=self._open_round, key="round")

    def _open_round(self, round_id: int | None) -> None:
        if round_id is None:
            self.desk.say("This round is no more: its posting was taken back", "watch")
        else:
            self.desk.open_place("rounds", RoundKey(round_id))

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Every act of every desk, newest first. An act can be taken back while nothing later stands on what it "
            "changed; taking back is an act of its own, and can be taken back too.</p>"
            "<p>What identifies a private person is never copied here.</p>"
        )

    def _lay_out(self) -> None:
        left = Stack(Band(self.filter, right=[self.newest]), self.table, self.foot, grows=self.table)
        self.fill(SidePanes(left, self.card, wanted=400, most=36))
        self.setFocusProxy(self.table)

    def _connect(self) -> None:
        self.filter.listen(self)
        self.filter.words_changed.connect(self._filtered)
        self.filter.left_down.connect(lambda: self.table.setFocus(Qt.FocusReason.ShortcutFocusReason))
        self.table.typed.connect(self.filter.take)
        self.table.chosen_changed.connect(self._chosen)
        self.table.verticalScrollBar().valueChanged.connect(self._scrolled)
        self.command("Ctrl+Z", "take back the chosen act, or bring it again", self.take_back)

    def _filtered(self, words: str) -> None:
        if words:
            self._below = None
        self._read(PAGE)

    def _read(self, limit: int) -> None:
        self._fetching = True
        self.desk.read(
            acts, self.filter.text(), self._below, limit, owner=self, key="acts", failed=self._not_read,
            then=lambda lines: self._show_first(lines, limit),
        )  # fmt: skip

    def _scrolled(self, value: int) -> None:
        bar = self.table.verticalScrollBar()
        if (
            value >= bar.maximum() - bar.pageStep()
            and not self._all_there
            and not self._fetching
            and self.lines
        ):
            self._fetching = True
            self.desk.read(
                acts, self.filter.text(), min(self.lines), PAGE, owner=self, then=self._show_more, key="acts",
                failed=self._not_read,
            )  # fmt: skip

    def _not_read(self, error: BaseException) -> None:
        self._fetching = False
        self.desk.say(str(error), "now")

    def _show_first(self, lines: list[ActLine], limit: int) -> None:
        self.lines, self._rows = {}, []
        self._take(lines, limit)
        if self._wanted in self.lines:
            self._choose_wanted()
        elif lines and not self.table.chosen():
            self.table.choose([lines[0].id])
        else:
            self._chosen(self.table.chosen())

    def _show_more(self, lines: list[ActLine]) -> None:
        self._take(lines, PAGE)

    def _take(self, lines: Sequence[ActLine], limit: int) -> None:
        self._all_there = len(lines) < limit
        self.lines |= {line.id: line for line in lines}
        self._rows += [act_row(line) for line in lines]
        self.table.set_rows(self._rows)
        self._fetching = False  # only now: the table scrolls while its rows are exchanged
        self.newest.setVisible(self._below is not None)
        self._say_how_many()

    def _say_how_many(self) -> None:
        more = "" if self._all_there else ", older ones follow as you scroll"
        self.foot.say([Run(counted(len(self.lines), "act"), "ink", 600), Run(f"shown{more}")])
        about = "about one of them" if self._below is not None else "newest first"
        self.set_subtitle(f"{counted(len(self.lines), 'act')} shown, {about}")

    def _choose_wanted(self) -> None:
        if self._wanted is not None:
            self.table.choose([self._wanted])
        self._wanted = None

    def _chosen_line(self) -> ActLine | None:
        chosen = self.table.chosen()
        return self.lines.get(int(str(chosen[-1]))) if chosen else None

    def _chosen(self, _ids: list[Hashable]) -> None:
        line = self._chosen_line()
        if line is None:
            self.card.clear_act()
            return
        self.desk.read(
            read_card, line.id, owner=self, then=lambda found: self.card.show_act(line, *found), key="card"
        )
