"""The lines of a round as typed, set beside the record of their hives, with all that speaks against posting."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from sqlalchemy import func, select

from beeledger.base import dates
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import Placement
from beeledger.model.honey import Take, TakeLine
from beeledger.model.medicines import Medicine
from beeledger.model.rounds import RoundEntry
from beeledger.queries.records.round_desk import Elsewhere, HiveLine
from beeledger.queries.rounds import elsewhere, lines_of, sheet_for
from beeledger.rules.rounds.checks import REASON_CODES, check_entry
from beeledger.rules.rounds.entry import Entry, Outcome, blank, settled
from beeledger.rules.rounds.record import HiveRecord


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a round: a colony of the sheet, or the mark that the crew read; a stranger may have none.

    ``accepted`` holds the codes of findings against the record that the office took over from the sheet.
    """

    entry: Entry
    colony_id: int | None = None
    mark: str | None = None
    accepted: frozenset[str] = frozenset()
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class Swap:
    """Two hives whose numbers were swapped since a day."""

    mark: str
    other: str
    since: date


@dataclass(frozen=True, slots=True)
class RoundToPost:
    """A round as typed. Minutes count from local midnight; lines stand in walking order."""

    uid: str
    site_id: int
    on: date
    lines: tuple[Line, ...]
    start_minute: int | None = None
    end_minute: int | None = None
    crew: str | None = None
    weather: str | None = None
    note: str | None = None
    source: str = "typed"
    swaps: tuple[Swap, ...] = ()
    questions_too: bool = False
    """Whether lines under question are posted as well; otherwise they are left out and wait."""


@dataclass(slots=True)
class Read:
    """A line with what the record knows of its hive. ``row`` counts from 1."""

    row: int
    line: Line
    entry: Entry
    record: HiveRecord
    known: HiveLine | None
    colony_id: int | None
    taken: frozenset[str] = frozenset()
    """Findings against the record that tripped and were accepted."""
    entry_id: int = 0

    @property
    def colony(self) -> int:
        """The colony, once it is known or founded."""
        if self.colony_id is None:
            raise ValueError(f"row {self.row} has no colony yet")
        return self.colony_id


@dataclass(slots=True)
class Sorted:
    """The lines of a round: those to post, the rows that wait, and every finding."""

    reads: list[Read]
    waiting: tuple[int, ...]
    findings: list[Finding]
    partners: Mapping[str, Elsewhere] = field(default_factory=dict)
    """Where the hives are that the lines name as split, unite or frame partners, by mark."""


def sort_lines(act: OpenAct, new: RoundToPost, own: frozenset[int] = frozenset()) -> Sorted:
    """Set each line beside the record of that day and check it; blank lines are left out.

    ``own`` are colonies that an earlier version of this round founded: they may be named as new.
    """
    numbered = [(row, line) for row, line in enumerate(new.lines, start=1) if not blank(line.entry)]
    waiting = tuple(row for row, line in numbered if line.entry.question and not new.questions_too)
    live = [(row, line) for row, line in numbered if row not in waiting]
    reads, partners = _set_beside(act, new, live)
    twice = _twice(reads)
    findings = [found for read in reads for found in _findings(new, read)]
    findings += [found for read in reads for found in check_partners(read, partners, new, own)]
    findings += [*twice, *_check_medicines(act, reads), *_dead_yet_later(act, new, reads)]
    findings += _taken_since(act, new, reads)
    return Sorted(reads, waiting, findings, partners)


def open_findings(sorted_: Sorted) -> list[Finding]:
    """What holds the round: the forbidden, and what is against the record and was not accepted.

    A finding that wants a written reason is answered by the reason alone.
    """
    by_row = {read.row: read for read in sorted_.reads}
    return [
        finding
        for finding in sorted_.findings
        if finding.grade is Grade.REFUSED
        or (finding.grade is Grade.AGAINST and not _answered(finding, by_row[finding.where.row or 0].line))
    ]


def note_taken(sorted_: Sorted) -> None:
    """Write on each line which findings against the record it took over."""
    for read in sorted_.reads:
        read.taken = frozenset(
            finding.code
            for finding in sorted_.findings
            if finding.where.row == read.row and finding.grade is Grade.AGAINST
        )


def _answered(finding: Finding, line: Line) -> bool:
    if finding.code in REASON_CODES:
        return bool(tidy(line.reason or ""))
    return finding.code in line.accepted


def _set_beside(
    act: OpenAct, new: RoundToPost, live: Sequence[tuple[int, Line]]
) -> tuple[list[Read], Mapping[str, Elsewhere]]:
    sheet = sheet_for(act.session, new.site_id, new.on)
    here = {line.colony_id: line for line in sheet.lines}
    by_mark = {line.mark: line.colony_id for line in sheet.lines if line.mark}
    partners = elsewhere(act.session, _marks(live))
    colonies = {row: _colony(line, by_mark, partners) for row, line in live}
    away = sorted({number for number in colonies.values() if number is not None} - set(here))
    others = {line.colony_id: line for line in lines_of(act.session, away, new.on)} if away else {}
    reads = [
        _read(new, row, line, colonies[row], here.get(colonies[row] or 0), others.get(colonies[row] or 0))
        for row, line in live
    ]
    return reads, partners


def _read(
    new: RoundToPost,
    row: int,
    line: Line,
    colony_id: int | None,
    here: HiveLine | None,
    away: HiveLine | None,
) -> Read:
    known = here or away
    if known is None:
        # It comes into the record without supers: what is under them tonight is asked about as with any hive.
        record = HiveRecord(mark=tidy(line.mark or ""), colony_id=colony_id, stands_here=False, supers_on=0)
    else:
        record = known.record(new.site_id, new.on, stood_here=here is not None)
        if not record.mark:
            record = replace(record, mark=tidy(line.mark or ""))
    return Read(row, line, settled(line.entry), record, known, colony_id)


def _colony(line: Line, by_mark: Mapping[str, int], known: Mapping[str, Elsewhere]) -> int | None:
    mark = tidy(line.mark or "")
    if line.colony_id is not None:
        return line.colony_id
    if line.entry.outcome is Outcome.STRANGER or not mark:
        return None
    if mark in by_mark:
        return by_mark[mark]
    return known[mark].colony_id if mark in known else None


def _marks(live: Iterable[tuple[int, Line]]) -> set[str]:
    marks: set[str] = set()
    for _, line in live:
        named = (line.mark, line.entry.united_into, line.entry.brood_given_from)
        marks.update(tidy(mark) for mark in (*named, *(split.mark for split in line.entry.split_to)) if mark)
    return marks


def _findings(new: RoundToPost, read: Read) -> list[Finding]:
    found = [
        replace(finding, where=replace(finding.where, row=read.row))
        for finding in check_entry(read.entry, read.record, new.on)
    ]
    if read.entry.outcome is None:
        mend = "Say that it was looked at, or not opened"
        found.append(finding_of(read, "no_outcome", "nothing says whether anybody looked", "outcome", mend))
    if read.colony_id is None and not read.record.mark and read.entry.outcome is not Outcome.STRANGER:
        found.append(
            finding_of(read, "no_hive", "nothing says which hive this is", "mark", "Type its number")
        )
    if read.colony_id is not None and read.known is None:
        what = f"the hive was not in the record yet on {dates.long(new.on)}"
        found.append(finding_of(read, "before_founding", what, "outcome", "Look at the day of the round"))
    return found


def check_partners(
    read: Read, partners: Mapping[str, Elsewhere], new: RoundToPost, own: frozenset[int] = frozenset()
) -> list[Finding]:
    """Whether the hives named as partners can be that: those known, and those founded by this round."""
    entry = read.entry
    made = {tidy(split.mark) for line in new.lines for split in line.entry.split_to}
    made |= {tidy(line.mark) for line in new.lines if line.mark and line.entry.outcome is Outcome.STRANGER}
    found = []
    carrier = partners.get(read.record.mark) if entry.outcome is Outcome.STRANGER else None
    if carrier is not None and carrier.place != "ended" and carrier.colony_id not in own:
        what = f"a stranger with the number of a living hive, {carrier.mark}"
        mend = "Write that it was looked at, and accept that it stands here"
        found.append(finding_of(read, "stranger_known", what, "mark", mend))
    for split in entry.split_to:
        known = partners.get(split.mark)
        if known is not None and known.place != "ended" and known.colony_id not in own:
            what = f"hive {split.mark} is a living colony already"
            mend = "Accept to give it these bees"
            found.append(finding_of(read, "split_to_known", what, "split_to", mend, Grade.AGAINST))
    for name in ("united_into", "brood_given_from"):
        mark = tidy(getattr(entry, name) or "")
        gone = mark not in partners or partners[mark].place == "ended"
        if mark and gone and mark not in made:
            what, mend = f"no living hive {mark} on record", "Accept to keep it as words alone"
            found.append(finding_of(read, "partner_unknown", what, name, mend, Grade.AGAINST))
    return found


def _twice(reads: Sequence[Read]) -> list[Finding]:
    counts = Counter(read.colony_id for read in reads if read.colony_id is not None)
    return [
        finding_of(read, "twice", "the same hive stands on two lines", "mark", "Take one of them out")
        for read in reads
        if read.colony_id is not None and counts[read.colony_id] > 1
    ]


def medicine_named(medicines: Sequence[Medicine], name: str | None) -> Medicine | None:
    """The medicine a sheet means: by its product's name, newest first, or the usual one when none is named."""
    if name:
        return next((row for row in medicines if folded(row.product) == folded(name)), None)
    return next((row for row in medicines if row.usual), medicines[0] if len(medicines) == 1 else None)


def medicines_known(act: OpenAct) -> Sequence[Medicine]:
    """The medicines on the list, newest first."""
    return act.session.scalars(select(Medicine).order_by(Medicine.id.desc())).all()


def medicines_of(entry: Entry) -> tuple[bool, bool]:
    """Whether a line puts a medicine in, and whether it takes one out."""
    into = entry.medicine_in is not None or bool(entry.medicine_in_count)
    return into, entry.medicine_out is not None or bool(entry.medicine_out_count)


def _check_medicines(act: OpenAct, reads: Sequence[Read]) -> list[Finding]:
    concerned = [read for read in reads if any(medicines_of(read.entry))]
    known = medicines_known(act) if concerned else ()
    found = []
    for read in concerned:
        into, out = medicines_of(read.entry)
        names = {"medicine_in": into, "medicine_out": out and "rounds.out_never_in" in read.line.accepted}
        for name, wanted in names.items():
            if wanted and medicine_named(known, getattr(read.entry, name)) is None:
                what = f"no medicine {getattr(read.entry, name) or 'is the usual one'} on the list".replace(
                    "no medicine is the usual one on the list", "no medicine on the list is the usual one"
                )
                mend = "Add it with its active substance under Medicines"
                found.append(finding_of(read, "medicine_unknown", what, name, mend))
    return found


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


def finding_of(
    read: Read, name: str, what: str, where: str, mend: str = "", grade: Grade = Grade.REFUSED
) -> Finding:
    """A finding on one line of a round."""
    return Finding(
        f"rounds.{name}", grade, what, mend, Where(row=read.row, field=where, record=read.record.mark)
    )
