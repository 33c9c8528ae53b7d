"""The sheet on the desk: lines, findings, sums, and undo without an end. Knows nothing of the window."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from beeledger.base.findings import Finding
from beeledger.queries.records.round_desk import HiveLine
from beeledger.queries.round_start import Carried, DeskSheet
from beeledger.rules.rounds.entry import Entry
from beeledger.rules.rounds.normal import Habits
from beeledger.rules.rounds.record import HiveRecord
from beeledger.rules.rounds.sums import Foot, foot
from beeledger.rules.rounds.writing import write
from beeledger.ui.places.rounds.checking import (
    LineView,
    between_lines,
    entry_with,
    partnered,
    partners_of,
    record_of,
    view_of,
)
from beeledger.ui.places.rounds.columns import GridColumn, grid_columns
from beeledger.ui.places.rounds.state import Head, Line, body_of, changed, line_of

Heard = Callable[[frozenset[int]], None]
EVERY_ROW = frozenset({-1})
"""Said instead of rows when lines came, went or changed their order, or the head did."""


@dataclass(frozen=True, slots=True)
class _Step:
    """One step of undo: the lines and the head before it, and what it was for (typing goes on in one step)."""

    lines: tuple[Line, ...]
    head: Head
    row: int
    what: str


class Sheet:
    """A round being typed. ``heard`` is told which rows changed; ``save`` gets the body after each change."""

    def __init__(
        self, head: Head, desk_sheet: DeskSheet, lines: Sequence[Line] = (), *, newcomers: bool = True
    ) -> None:
        self.head = head
        self.heard: list[Heard] = []
        self.save: Callable[[dict[str, Any]], None] = lambda _body: None
        self.desk_sheet = desk_sheet
        self.carried = desk_sheet.carried
        self.here: dict[int, HiveLine] = {line.colony_id: line for line in desk_sheet.sheet.lines}
        """Hives that stood at the site that day, by colony."""
        self.away: dict[int, HiveLine] = {line.colony_id: line for line in desk_sheet.others}
        """Hives of the draft that did not."""
        self.lines: list[Line] = list(lines) or self._fresh()
        self._newcomers = newcomers
        if lines:
            self._take_in_newcomers()
        self.place: dict[str, Any] = {"row": 0, "mode": "line"}
        self._undo: list[_Step] = []
        self._redo: list[_Step] = []
        self._from_act: dict[int, list[Finding]] = {}
        self._between: dict[int, list[Finding]] = {}
        self._named: frozenset[str] = frozenset()
        self._set_habits()
        self._judge_all()

    @property
    def foot(self) -> Foot:
        """The sums."""
        return foot((view.entry for view in self.views), self.head.on)

    def hive(self, row: int) -> HiveLine | None:
        """What the record knows of a line's hive."""
        number = self._colony(self.lines[row])
        return None if number is None else self.here.get(number) or self.away.get(number)

    def _colony(self, line: Line) -> int | None:
        """The colony that a line's number means: the other's, where the round says that two were swapped."""
        return line.colony_id if line.colony_id is None else self._swapped.get(line.colony_id, line.colony_id)

    def record(self, row: int) -> HiveRecord:
        """The same as the checks want it."""
        line = self.lines[row]
        here = self._colony(line) in self.here
        return record_of(line, self.hive(row), self.head, self.carried, here=here)

    def text(self, row: int) -> str:
        """The quick line of a row: as typed, or as the cells say it."""
        line = self.lines[row]
        return line.text if line.text is not None else write(line.typed, self.habits)

    def refused(self, found: Iterable[Finding], rows: Sequence[int]) -> None:
        """What the act had against lines, beside them until they are changed; ``rows`` maps its rows to ours."""
        self._from_act = {}
        for finding in found:
            if finding.where.row and finding.where.row <= len(rows):
                self._from_act.setdefault(rows[finding.where.row - 1], []).append(finding)
        self._judge_all()
        self._tell(EVERY_ROW)

    def know(self, hives: Iterable[HiveLine]) -> None:
        """What the record knows of hives that were added."""
        self.away.update({hive.colony_id: hive for hive in hives})
        self._judge_all()
        self._tell(EVERY_ROW)

    def rejoin(self, desk_sheet: DeskSheet, lines: Sequence[Line] = ()) -> None:
        """The record read anew: other acts may have changed it. ``lines`` take the place of those not typed on yet."""
        self.lines = list(lines) or self.lines
        self.desk_sheet, self.carried = desk_sheet, desk_sheet.carried
        self.here = {line.colony_id: line for line in desk_sheet.sheet.lines}
        self.away.update({line.colony_id: line for line in desk_sheet.others})
        self._take_in_newcomers()
        self._set_habits()
        self._judge_all()
        self._tell(EVERY_ROW)

    # -- undo and keeping

    def undo(self) -> int | None:
        """Back one step; gives the row it was at."""
        return self._travel(self._undo, self._redo)

    def redo(self) -> int | None:
        """Forth again."""
        return self._travel(self._redo, self._undo)

    def pause(self) -> None:
        """What is typed from now on is a step of its own."""
        if self._undo:
            self._undo[-1] = replace(self._undo[-1], what="")

    def body(self) -> dict[str, Any]:
        """The draft as it stands."""
        return body_of(self.head, self.lines, self.place)

    def keep(self) -> None:
        """Save the draft as it stands."""
        self.save(self.body())

    def _travel(self, back: list[_Step], forth: list[_Step]) -> int | None:
        if not back:
            return None
        step = back.pop()
        forth.append(_Step(tuple(self.lines), self.head, step.row, ""))
        self.lines, self.head = list(step.lines), step.head
        self._set_habits()
        self._judge_all()
        self._tell(EVERY_ROW)
        return min(step.row, len(self.lines) - 1)

    def put_entries(self, entries: Mapping[int, Entry]) -> None:
        new = {
            row: with_entry(self.lines[row], entry)
            for row, entry in entries.items()
            if entry != self.lines[row].typed
        }
        self.put(new, min(new, default=0), "")

    def put(self, new: Mapping[int, Line], row: int, what: str) -> None:
        new = {at: line for at, line in new.items() if line != self.lines[at]}
        if not new:
            return
        self._remember(row, what)
        partners = any(
            line.mark in self._named or partnered(self.views[at].entry) or partnered(line.typed)
            for at, line in new.items()
        )
        for at, line in new.items():
            self.lines[at] = line
            self._from_act.pop(at, None)
        touched = set(new) | (self._judge_between() if partners else set())
        for at in touched:
            self.views[at] = self._judged(at)
        self._tell(frozenset(touched))

    def replace_all(self, lines: Sequence[Line], head: Head, row: int) -> None:
        self._remember(row, "")
        self.lines, self.head = list(lines), head
        self._from_act = {}
        self._set_habits()
        self._judge_all()
        self._tell(EVERY_ROW)

    def _remember(self, row: int, what: str) -> None:
        self._redo.clear()
        if not (what and self._undo and self._undo[-1].what == what):
            self._undo.append(_Step(tuple(self.lines), self.head, row, what))

    def _tell(self, rows: frozenset[int]) -> None:
        self.keep()
        for heard in self.heard:
            heard(rows)

    def _set_habits(self) -> None:
        self.habits: Habits = self.head.habits(self.desk_sheet.settings.normals)
        self._swapped = _exchanged(self.head, self.carried)
        self._figures = self.desk_sheet.settings.round_figures
        self.columns: tuple[GridColumn, ...] = grid_columns(self.habits)

    def _judge_all(self) -> None:
        self._judge_between()
        self.views: list[LineView] = [self._judged(row) for row in range(len(self.lines))]

    def _judge_between(self) -> set[int]:
        """What lines say of each other's hives, anew; gives the rows of which something else is said than before."""
        entries = [entry_with(self.head.each, line.typed) for line in self.lines]
        before, self._between = self._between, between_lines(self.lines, entries, self.carried)
        self._named = frozenset(mark for entry in entries for mark in partners_of(entry))
        return {
            row for row in before.keys() | self._between.keys() if before.get(row) != self._between.get(row)
        }

    def _judged(self, row: int) -> LineView:
        line = self.lines[row]
        entry = entry_with(self.head.each, line.typed)
        more = [*self._between.get(row, ()), *self._from_act.get(row, ())]
        return view_of(line, entry, self.record(row), self.head, more, self._figures)

    def _fresh(self) -> list[Line]:
        sheet = self.desk_sheet.sheet
        lines = [line_of(mark=hive.mark or "", colony_id=hive.colony_id) for hive in sheet.lines]
        return lines[::-1] if self.desk_sheet.settings.walking_reversed else lines

    def _take_in_newcomers(self) -> None:
        if not self._newcomers:
            return  # what was left of a posted round is not the whole site again
        have = {line.colony_id for line in self.lines}
        new = [hive for hive in self.desk_sheet.sheet.lines if hive.colony_id not in have]
        self.lines += [line_of(mark=hive.mark or "", colony_id=hive.colony_id) for hive in new]


def _exchanged(head: Head, carried: Mapping[str, Carried]) -> dict[int, int]:
    """By colony, the one that carries its number by what the round says; the record of a posted one knows it."""
    changed_places: dict[int, int] = {}
    for swap in head.swaps if head.corrects is None else ():
        if swap.since <= head.on and swap.mark in carried and swap.other in carried:
            first, second = carried[swap.mark].colony_id, carried[swap.other].colony_id
            changed_places |= {first: second, second: first}
    return changed_places


def with_entry(line: Line, entry: Entry) -> Line:
    """The line as its cells now say it."""
    return changed(line, typed=entry, text=None, unread=())
