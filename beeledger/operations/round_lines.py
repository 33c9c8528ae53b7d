"""The lines of a round as typed, set beside the record of their hives, with all that speaks against posting."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded, tidy
from beeledger.database.audit import OpenAct
from beeledger.model.medicines import Medicine
from beeledger.queries.farm import farm_settings
from beeledger.queries.records.round_desk import Elsewhere, HiveLine
from beeledger.queries.rounds import elsewhere, lines_of, sheet_for
from beeledger.rules.rounds.checks import REASON_CODES, check_entry
from beeledger.rules.rounds.entry import Entry, Outcome, blank, settled
from beeledger.rules.rounds.figures import Figures
from beeledger.rules.rounds.partners import check_partners
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
    entry_id: int | None = None
    """None before the entry is written, and for what was done without a round."""

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
    figures = farm_settings(act.session).round_figures
    findings = [found for read in reads for found in _findings(new, read, figures)]
    findings += _between(reads, partners, own)
    findings += [*twice, *_check_medicines(act, reads)]
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


def _findings(new: RoundToPost, read: Read, figures: Figures) -> list[Finding]:
    found = [
        replace(finding, where=replace(finding.where, row=read.row))
        for finding in check_entry(read.entry, read.record, new.on, figures)
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


def _between(
    reads: Sequence[Read], partners: Mapping[str, Elsewhere], own: frozenset[int] = frozenset()
) -> list[Finding]:
    """What the lines say of each other's hives, and strangers with the number of a living hive."""
    living = {
        mark: one.site for mark, one in partners.items() if one.place != "ended" and one.colony_id not in own
    }
    found = [
        replace(finding, where=replace(finding.where, row=reads[finding.where.row or 0].row))
        for finding in check_partners([(read.record.mark, read.entry) for read in reads], living)
    ]
    for read in reads:
        if read.entry.outcome is Outcome.STRANGER and read.record.mark in living:
            what = f"a stranger with the number of a living hive, {read.record.mark}"
            mend = "Write that it was looked at, and accept that it stands here"
            found.append(finding_of(read, "stranger_known", what, "mark", mend))
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


def finding_of(
    read: Read, name: str, what: str, where: str, mend: str = "", grade: Grade = Grade.REFUSED
) -> Finding:
    """A finding on one line of a round."""
    return Finding(
        f"rounds.{name}", grade, what, mend, Where(row=read.row, field=where, record=read.record.mark)
    )
