"""A posted round opened again: the body of the draft that corrects it, and the list it is chosen from."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from PySide6.QtCore import QObject, Signal

from beeledger.base.dates import long
from beeledger.base.findings import Finding, Grade
from beeledger.queries.records.round_desk import PostedRound, Visit
from beeledger.queries.round_again import RoundAgain, round_again
from beeledger.queries.rounds import recent_rounds
from beeledger.rules.rounds.checks import CHECKS, needs_reason
from beeledger.rules.rounds.entry import Entry, outcome_of, settled
from beeledger.rules.rounds.normal import habits_for
from beeledger.rules.rounds.writing import write
from beeledger.ui.desk.desk import Desk
from beeledger.ui.places.rounds.checking import taken_codes
from beeledger.ui.places.rounds.posted_list import MOST, PostedRounds
from beeledger.ui.places.rounds.posting import with_habits_of
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.places.rounds.state import Head, Line, Swapped, body_of, changed, line_of

FRESH = "fresh"
"""In a draft's place: it was just opened, and what its posting accepted is still to be taken over."""
_ASKED = frozenset(check.code for check in CHECKS if check.grade is Grade.AGAINST) | {
    "rounds.split_to_known",
    "rounds.partner_unknown",
}


class Corrections(QObject):
    """Reads a posted round and hands over the draft that corrects it."""

    ready = Signal(object)
    """The body of a draft."""
    listed = Signal()
    """The list is filled and can be shown."""

    def __init__(self, desk: Desk, posted: PostedRounds) -> None:
        super().__init__(posted)
        self._desk = desk
        self._posted = posted

    def list_posted(self, site: str) -> None:
        """Read the posted rounds into the list, those of a site first."""
        self._desk.read(
            recent_rounds, owner=self, then=lambda rounds: self._fill(rounds, site), key="posted", limit=MOST
        )

    def _fill(self, rounds: list[PostedRound], site: str) -> None:
        if not rounds:
            self._desk.say("No round was posted yet")
            return
        self._posted.begin(rounds, site)
        self.listed.emit()

    def open(self, round_id: int) -> None:
        """Read a posted round; one that cannot be corrected is said with the reason."""
        self._desk.read(round_again, round_id, owner=self, then=self._read, key="again")

    def _read(self, one: RoundAgain | None) -> None:
        if one is None:
            self._desk.say("This round is no more: its posting was taken back", "watch")
        elif one.why_not:
            self._desk.say(
                f"The round of {one.site}, {long(one.on)} cannot be corrected here: {one.why_not}", "watch"
            )
        else:
            self.ready.emit(body_again(one))


def body_again(one: RoundAgain) -> dict[str, Any]:
    """The draft of a correction: what was posted, line by line, under a uid of its own."""
    head = Head(
        uuid.uuid4().hex, one.site_id, one.site, one.on, one.start_minute, one.end_minute, one.crew, one.weather,
        one.source, note=one.note, swaps=tuple(Swapped(*swap) for swap in one.swaps),
        corrects=one.round_id, seen=one.version,
    )  # fmt: skip
    head = with_habits_of(head, [visit.entry for _, visit in one.lines])
    head = replace(head, each_text=site_text(head))
    return body_of(
        head, [_line(mark, visit) for mark, visit in one.lines], {"row": 0, "mode": "line", FRESH: True}
    )


def site_text(head: Head) -> str:
    """The line of the whole site that says the swaps and the note of a head."""
    swaps = [
        f"{one.mark}={one.other}@{one.since.day}/{one.since.month}/{one.since.year}" for one in head.swaps
    ]
    note = write(Entry(note=head.note), habits_for(head.on)) if head.note else ""
    return " ".join(part for part in (*swaps, note) if part)


def take_over_accepted(sheet: Sheet) -> None:
    """What the posting accepted is accepted still: it stands in the record, and is asked about only once."""
    if not sheet.place.pop(FRESH, False):
        return
    if sheet.head.medicine is None and sheet.desk_sheet.medicines:
        sheet.head = replace(sheet.head, medicine=sheet.desk_sheet.medicines[0])
    lines = [
        changed(line, accepted=line.accepted | taken_codes(view.findings))
        for line, view in zip(sheet.lines, sheet.views, strict=True)
    ]
    sheet.rejoin(sheet.desk_sheet, lines)


def answered_by_the_posting(sheet: Sheet, found: Sequence[Finding], rows: Sequence[int]) -> dict[int, Line]:
    """Lines that say what was posted, with what the act asks of them accepted as it was then.

    Empty unless that answers every one of the findings.
    """
    new: dict[int, Line] = {}
    for finding in found:
        row = finding.where.row or 0
        if not 0 < row <= len(rows) or finding.code not in _ASKED or needs_reason(finding):
            return {}
        at = rows[row - 1]
        line = new.get(at, sheet.lines[at])
        if finding.code in line.accepted or not unchanged(sheet, at):
            return {}
        new[at] = changed(line, accepted=line.accepted | {finding.code})
    return new


def unchanged(sheet: Sheet, row: int) -> bool:
    """Whether a line of a correction says what was posted."""
    posted = sheet.desk_sheet.posted.get(sheet.lines[row].colony_id or 0)
    return posted is not None and settled(sheet.views[row].entry) == posted


def left_out(sheet: Sheet) -> int:
    """How many hives of the posted round the correction says nothing of any more."""
    said = {line.colony_id for line in sheet.lines if not line.empty}
    return sum(colony not in said for colony in sheet.desk_sheet.posted)


def _line(mark: str, visit: Visit) -> Line:
    return line_of(
        mark=mark, colony_id=visit.colony_id, typed=_as_typed(visit.entry), reason=visit.reason or ""
    )


def _as_typed(entry: Entry) -> Entry:
    """Without the outcome that goes without saying."""
    said = replace(entry, outcome=None)
    return said if outcome_of(said) is entry.outcome else entry
