"""What the checks say of a draft's lines, sorted into what holds, what is asked and what wants a look."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.queries.records.round_desk import HiveLine
from beeledger.queries.round_start import Carried
from beeledger.rules.rounds.checks import check_entry, needs_reason
from beeledger.rules.rounds.entry import Entry, Outcome, blank, outcome_of, settled
from beeledger.rules.rounds.figures import Figures
from beeledger.rules.rounds.partners import check_partners
from beeledger.rules.rounds.record import HiveRecord
from beeledger.rules.rounds.sums import fill_with
from beeledger.ui.places.rounds.state import Head, Line

UNREAD = "rounds.unread"


@dataclass(frozen=True, slots=True)
class LineView:
    """A line with what it says together with the whole site's line, and what speaks against it."""

    entry: Entry
    findings: tuple[Finding, ...] = ()
    open: tuple[Finding, ...] = ()
    """Those that hold the line."""
    odd: tuple[Finding, ...] = ()
    """Those that ask for a look and were not confirmed."""
    waits: bool = False
    """Whether it is kept for the crew. In a correction nothing waits: what stands in the record stays there."""

    @property
    def held(self) -> bool:
        """Whether it cannot be posted as it stands."""
        return bool(self.open) and not self.waits


def record_of(
    line: Line, hive: HiveLine | None, head: Head, carried: Mapping[str, Carried], *, here: bool
) -> HiveRecord:
    """What the record says of a line's hive."""
    if hive is not None:
        record = hive.record(head.site_id, head.on, stood_here=here)
        return replace(record, mark=line.mark) if line.mark else record
    known = carried.get(line.mark)
    site = known.site if known else ""
    return HiveRecord(mark=line.mark, colony_id=line.colony_id, stands_here=False, site=site)


def entry_with(each: Entry, typed: Entry) -> Entry:
    """A line's own entry with what is said for the whole site in its blanks, if the hive was looked at."""
    return typed if blank(each) else fill_with([typed], range(1), each)[0]


def reached(lines: Sequence[Line], each: Entry) -> list[tuple[str, str]]:
    """In words, how many lines a whole site's line goes to, and how many of them say nothing else."""
    if blank(each):
        return []
    entries = [(line.typed, entry_with(each, line.typed)) for line in lines]
    to = [entry for typed, entry in entries if entry != typed]
    unopened = sum(outcome_of(entry) is Outcome.NOT_OPENED for entry in to)
    more = f", {unopened:,} of them not opened" if unopened else ""
    return [("goes to", counted(len(to), "hive") + more)]


def view_of(
    line: Line,
    entry: Entry,
    record: HiveRecord,
    head: Head,
    more: Sequence[Finding],
    figures: Figures | None = None,
) -> LineView:
    """The line judged by the farm's figures. ``more`` are findings between lines and those the act gave back."""
    unread = [_unread(token.problem, token.suggestion, record) for token in line.unread]
    checked = [] if blank(entry) else check_entry(settled(entry), record, head.on, figures)
    plain = [] if blank(entry) or unread else _no_outcome(entry, record)
    findings = [*unread, *plain, *checked, *(one for one in more if not _said(one, checked))]
    order = list(Grade)
    findings.sort(key=lambda one: order.index(one.grade))
    opened = tuple(one for one in findings if _holds(one, line))
    odd = tuple(one for one in findings if one.grade is Grade.DOUBTFUL and one.code not in line.confirmed)
    return LineView(
        entry, tuple(findings), opened, odd, waits=entry.question is not None and head.corrects is None
    )


def taken_codes(findings: Sequence[Finding]) -> frozenset[str]:
    """The codes that accepting these findings puts on the line."""
    return frozenset(one.code for one in findings if one.grade is Grade.AGAINST and not needs_reason(one))


def between_lines(
    lines: Sequence[Line], entries: Sequence[Entry], carried: Mapping[str, Carried]
) -> dict[int, list[Finding]]:
    """Findings that stand between lines, by row."""
    named = {mark for entry in entries for mark in partners_of(entry)}
    if not named:
        return {}
    living = {mark: carried[mark].site for mark in named if mark in carried}
    found: dict[int, list[Finding]] = {}
    pairs = [(line.mark, entry) for line, entry in zip(lines, entries, strict=True)]
    for finding in check_partners(pairs, living):
        found.setdefault(finding.where.row or 0, []).append(finding)
    return found


def partnered(entry: Entry) -> bool:
    """Whether an entry names another hive."""
    return bool(partners_of(entry))


def partners_of(entry: Entry) -> list[str]:
    """The marks of the other hives that an entry names."""
    marks = [split.mark for split in entry.split_to]
    return marks + [mark for mark in (entry.united_into, entry.brood_given_from) if mark]


def _holds(finding: Finding, line: Line) -> bool:
    if finding.grade is Grade.REFUSED:
        return True
    if finding.grade is not Grade.AGAINST:
        return False
    return not line.reason.strip() if needs_reason(finding) else finding.code not in line.accepted


def _said(finding: Finding, findings: Sequence[Finding]) -> bool:
    return any(one.code == finding.code for one in findings)


def _unread(problem: str, suggestion: str, record: HiveRecord) -> Finding:
    return Finding(UNREAD, Grade.REFUSED, problem, suggestion, Where(record=record.mark))


def _no_outcome(entry: Entry, record: HiveRecord) -> list[Finding]:
    if outcome_of(entry) is None and entry.question is None:
        return [
            Finding(
                "rounds.no_outcome", Grade.REFUSED, "nothing says whether anybody looked",
                "Say that it was looked at (ol), or not opened (ou)", Where(field="outcome", record=record.mark),
            )
        ]  # fmt: skip
    if entry.outcome is not Outcome.STRANGER and not record.mark and record.colony_id is None:
        return [
            Finding(
                "rounds.no_hive", Grade.REFUSED, "nothing says which hive this is",
                "Say that it is a stranger (os)", Where(field="outcome"),
            )
        ]  # fmt: skip
    return []


def counted_words(held: int) -> str:
    """How many lines hold the posting, in words."""
    return f"{counted(held, 'line')} cannot be posted"
