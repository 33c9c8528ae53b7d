"""Work at hives that no round tells of: each hive beside the record of that day, with the guards of a round's line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import listed, shortened
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import Colony
from beeledger.operations.colonies import marks_of
from beeledger.operations.round_late import late_findings
from beeledger.operations.round_lines import Line, Read, RoundToPost, Sorted, note_taken, open_findings
from beeledger.operations.round_work import Facts
from beeledger.queries.farm import farm_settings
from beeledger.queries.records.round_desk import HiveLine
from beeledger.queries.rounds import lines_of
from beeledger.rules.rounds.checks import check_entry
from beeledger.rules.rounds.entry import EMPTY, Entry, settled

NO_SITE = 0
_MOST_NAMED = 60


@dataclass(frozen=True, slots=True)
class Answers:
    """What the person said to what was asked: findings taken over by their codes, and a written reason."""

    accepted: frozenset[str] = frozenset()
    reason: str | None = None


NO_ANSWERS = Answers()


def set_beside(
    act: OpenAct, works: Sequence[tuple[int, Entry]], on: date, answers: Answers = NO_ANSWERS
) -> list[Read]:
    """Colonies and what was done at each, beside the record of that day.

    Refused for a day that has not come, and for a colony that was not there or had ended.
    """
    ids = [colony_id for colony_id, _ in works]
    known = {line.colony_id: line for line in lines_of(act.session, ids, on)}
    refuse(day_findings(act, on) + _absent(act, ids, known, on))
    reads = []
    for row, (colony_id, entry) in enumerate(works, start=1):
        line = known[colony_id]
        record = line.record(line.site_id or NO_SITE, on, stood_here=True)
        said = Line(entry, colony_id, line.mark, answers.accepted, answers.reason)
        reads.append(Read(row, said, settled(entry) if entry != EMPTY else entry, record, line, colony_id))
    return reads


def guard(
    act: OpenAct, reads: Sequence[Read], on: date, answers: Answers, more: Iterable[Finding] = ()
) -> Facts:
    """Check what was done as a round's line is checked; Refused with all that holds it, many hives in one sentence."""
    figures = farm_settings(act.session).round_figures
    done = [read for read in reads if read.entry != EMPTY]
    new = _as_round(on, done)
    found = [
        replace(finding, where=replace(finding.where, row=read.row))
        for read in done
        for finding in check_entry(read.entry, read.record, on, figures)
    ]
    lines = Sorted(list(reads), (), [*found, *late_findings(act, new, done)])
    asked = [finding for finding in more if finding.code not in answers.accepted]
    refuse([*asked, *_together(open_findings(lines), reads)])
    note_taken(lines)
    return Facts(act, new, None, farm_settings(act.session))


def refuse(findings: Sequence[Finding]) -> None:
    """Raise Refused when anything was found."""
    if findings:
        raise Refused(findings)


def day_findings(act: OpenAct, on: date) -> list[Finding]:
    """What is wrong with the day of an act."""
    return [wrong(f"{dates.long(on)} has not come yet", "on")] if on > act.today else []


def wrong(what: str, field: str, mend: str = "") -> Finding:
    """What cannot be true, beside a field of the form."""
    return Finding("colony.act", Grade.REFUSED, what, mend, Where(field=field))


def asked(code: str, what: str, field: str, mend: str) -> Finding:
    """What speaks against the record and can be accepted."""
    return Finding(f"colony.{code}", Grade.AGAINST, what, mend, Where(field=field))


def named(reads: Sequence[Read]) -> str:
    """The hives by their numbers on that day: "hive 3", "hives 3, 7 and 12"."""
    return hives_named([read.record.mark or None for read in reads])


def hives_named(marks: Sequence[str | None]) -> str:
    """Hives in a sentence: "hive 3", "hives 3 and 7"."""
    if len(marks) == 1:
        return f"hive {marks[0]}" if marks[0] else "a hive without a number"
    said = [mark or "one without a number" for mark in marks]
    return f"hives {shortened(listed(said), _MOST_NAMED)}"


def _as_round(on: date, reads: Sequence[Read]) -> RoundToPost:
    return RoundToPost("", NO_SITE, on, tuple(read.line for read in reads))


def _together(findings: Iterable[Finding], reads: Sequence[Read]) -> list[Finding]:
    """What several hives have in common is said once, with their numbers."""
    by_row = {read.row: read for read in reads}
    same: dict[tuple[str, str, str], list[Finding]] = {}
    for finding in findings:
        same.setdefault((finding.code, finding.what, finding.where.field), []).append(finding)
    return [
        replace(
            several[0], what=f"{named([by_row[one.where.row or 1] for one in several])}: {several[0].what}"
        )
        for several in same.values()
    ]


def _absent(act: OpenAct, ids: Sequence[int], known: dict[int, HiveLine], on: date) -> list[Finding]:
    marks = marks_of(act, ids)
    missing = [number for number in ids if number not in known]
    there = set(act.session.scalars(select(Colony.id).where(Colony.id.in_(missing)))) if missing else set()
    found = []
    for number in missing:
        what = "was not there yet on" if number in there else "is in no record, so neither on"
        found.append(wrong(f"{hives_named([marks.get(number)])} {what} {dates.long(on)}", "on"))
    for line in known.values():
        if line.ended_on is not None and line.ended_on <= on:
            what = f"{hives_named([line.mark])} ended on {dates.long(line.ended_on)}"
            found.append(wrong(what, "on", "Bring it back first if that was a mistake"))
    return found if ids else [wrong("no hive is named", "hives")]
