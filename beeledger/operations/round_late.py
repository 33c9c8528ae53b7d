"""A round written down late, and what was recorded since: honey taken, medicine put in, the hive looked at or moved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from sqlalchemy import func, select

from beeledger.base import dates
from beeledger.base.findings import Finding, Grade
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import BoxStack, Placement
from beeledger.model.honey import Take, TakeLine
from beeledger.model.medicines import Treatment
from beeledger.model.rounds import RoundEntry
from beeledger.operations.round_lines import Read, RoundToPost, finding_of, medicines_of
from beeledger.rules.rounds.entry import Outcome


def late_findings(act: OpenAct, new: RoundToPost, reads: Sequence[Read]) -> list[Finding]:
    """What records of later days, or of another visit of that day, say against the lines."""
    return [
        *_dead_yet_later(act, new, reads),
        *_taken_since(act, new, reads),
        *_strips_since(act, new, reads),
    ]


def takes_since(act: OpenAct, colony_ids: Sequence[int], on: date) -> Sequence[TakeLine]:
    """Honey taken without a written reason from these colonies after ``on``, or in another visit of that day."""
    query = (
        select(TakeLine)
        .join(Take, Take.id == TakeLine.take_id)
        .where(TakeLine.colony_id.in_(colony_ids), Take.on >= on, TakeLine.reason.is_(None))
    )
    return act.session.scalars(query).all() if colony_ids else ()


def _taken_since(act: OpenAct, new: RoundToPost, reads: Sequence[Read]) -> list[Finding]:
    """Medicine, or feed under supers, written down late, while honey was taken since by the record."""
    into = {read.colony_id: field for read in reads if read.colony_id and (field := _tells_on_honey(read))}
    taken = {row.colony_id for row in takes_since(act, [number for number in into if number], new.on)}
    what, mend = "honey was taken since", "Accept to note it on that take, and hold its honey apart"
    return [
        finding_of(read, "honey_taken_since", what, into[read.colony], mend, Grade.AGAINST)
        for read in reads
        if read.colony_id in taken
    ]


def strips_under(act: OpenAct, more: Mapping[int, int], on: date) -> list[Treatment]:
    """Medicine put in without a written reason since ``on``, where so many ``more`` supers mean some were on.

    ``more`` counts supers by colony, as a line of ``on`` adds them to what later rounds left.
    """
    stack = (
        select(BoxStack.supers)
        .where(BoxStack.colony_id == Treatment.colony_id, BoxStack.on <= Treatment.in_on)
        .order_by(BoxStack.on.desc(), BoxStack.id.desc())
        .limit(1)
        .scalar_subquery()
    )
    query = select(Treatment, stack).where(
        Treatment.colony_id.in_(list(more)), Treatment.in_on >= on, Treatment.reason.is_(None)
    )
    rows = act.session.execute(query) if more else ()
    return [row for row, supers in rows if (supers or 0) + more[row.colony_id] > 0]


def supers_added(reads: Iterable[Read]) -> dict[int, int]:
    """By colony, how many more supers its line leaves on than were on; those that add none left out."""
    added = {}
    for read in reads:
        was = read.record.supers_on or 0
        after = max(0, was + (read.entry.supers_on or 0) - (read.entry.supers_off or 0))
        if read.colony_id is not None and after > was:
            added[read.colony_id] = after - was
    return added


def _strips_since(act: OpenAct, new: RoundToPost, reads: Sequence[Read]) -> list[Finding]:
    """Supers written down late, under which medicine went in since by the record."""
    into = {row.colony_id: row for row in strips_under(act, supers_added(reads), new.on)}
    mend = "Accept to note it on that medicine. The label and the law stand above the record"
    return [
        finding_of(
            read, "strips_since", f"medicine went in on {dates.long(into[read.colony].in_on)}, under these supers",
            "supers_on", mend, Grade.AGAINST,
        )
        for read in reads
        if read.colony_id in into
    ]  # fmt: skip


def _tells_on_honey(read: Read) -> str:
    """The field by which honey taken after this line may not be sold without a written reason."""
    if medicines_of(read.entry)[0]:
        return "medicine_in"
    supers = (read.record.supers_on or 0) + (read.entry.supers_on or 0)
    if supers and read.entry.feed_ml:
        return "feed_ml"
    return "feed_g" if supers and read.entry.feed_g else ""


def _dead_yet_later(act: OpenAct, new: RoundToPost, reads: Sequence[Read]) -> list[Finding]:
    ends = {
        read.colony_id: read
        for read in reads
        if read.colony_id is not None
        and (read.entry.outcome in (Outcome.DEAD, Outcome.EMPTY) or read.entry.united_into)
    }
    query = (
        select(RoundEntry.colony_id, func.max(RoundEntry.on))
        .where(
            RoundEntry.colony_id.in_(list(ends)), RoundEntry.on > new.on, RoundEntry.outcome == Outcome.LOOKED
        )
        .group_by(RoundEntry.colony_id)
    )
    moved = (
        select(Placement.colony_id, func.min(Placement.from_on))
        .where(
            Placement.colony_id.in_(list(ends)),
            Placement.from_on > new.on,
            Placement.move_line_id.is_not(None),
        )
        .group_by(Placement.colony_id)
    )
    asked = (
        (query, "looked at", "Correct the later round first"),
        (moved, "moved", "Take it out of that move first"),
    )
    return [
        finding_of(ends[colony_id], "ended_yet_later", f"ended, and {done} on {dates.long(on)}", "outcome", mend)
        for each, done, mend in (asked if ends else ())
        for colony_id, on in act.session.execute(each)
    ]  # fmt: skip
