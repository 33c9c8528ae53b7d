"""Rounds, posted and corrected: the entries, and by ``round_facts`` all that follows from them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.database.audit import OpenAct
from beeledger.model.rounds import ROUND_SOURCES, Round, RoundEntry
from beeledger.model.sites import Site
from beeledger.operations.hive_marks import swap_marks
from beeledger.operations.round_correcting import colonies_of_versions, kept_lines, unpost
from beeledger.operations.round_corrections import correct_after, correct_before
from beeledger.operations.round_facts import Facts, derive
from beeledger.operations.round_late import late_findings
from beeledger.operations.round_lines import (
    Line,
    Read,
    RoundToPost,
    Sorted,
    Swap,
    note_taken,
    open_findings,
    sort_lines,
)
from beeledger.operations.round_restricted import crossings, keep_licences, restricted_findings
from beeledger.operations.still_true import still_true
from beeledger.queries.farm import farm_settings
from beeledger.rules.rounds.entry import Entry
from beeledger.rules.rounds.plain import as_plain

__all__ = ["Line", "RoundPosted", "RoundToPost", "Swap", "check_round", "correct_round", "post_round"]


@dataclass(frozen=True, slots=True)
class RoundPosted:
    """What a posted round gives back."""

    round_id: int
    entries: Mapping[int, int]
    """The entry made of each row of the round; rows count from 1."""
    colonies: Mapping[int, int]
    """The colony of each row, those founded by this round included."""
    waiting: tuple[int, ...]
    """Rows left out because they are under question."""
    findings: tuple[Finding, ...]
    """Everything the checks said, settled or not holding anything."""


def post_round(act: OpenAct, new: RoundToPost) -> str:
    """Post a round: entries in walking order, corrections of the record that were accepted, derived facts.

    Checks every line again against the record as it was on the round's day. Refused, with the row and the
    field, for what is forbidden and for what is against the record and was neither accepted nor, where a
    reason is wanted, given one. ``act.result`` is a ``RoundPosted``.
    """
    site = _check_head(act, new)
    for swap in new.swaps:
        swap_marks(act, swap.mark, swap.other, swap.since)
    lines = check_round(act, new)
    row = Round(
        uid=new.uid, site_id=new.site_id, on=new.on, start_minute=new.start_minute, end_minute=new.end_minute,
        crew=new.crew, weather=new.weather, note=new.note, source=new.source,
    )  # fmt: skip
    act.session.add(row)
    act.session.flush()
    _write_lines(act, new, row, lines)
    act.result = _posted(row, lines)
    return f"Posted round, {site}, {dates.short(new.on)}: {counted(len(lines.reads), 'hive')}"


def correct_round(act: OpenAct, round_id: int, new: RoundToPost, seen: int | None = None) -> str:
    """Write a posted round anew, also weeks later: all that followed from it follows the new version.

    Checked like a posting, against the record without the old version. Refused when something later stands
    on what would change. ``act.result`` is a ``RoundPosted``; the old version stays in History. Numbers that
    the old version swapped are swapped back unless ``new`` names them again. ``seen`` is the version of the
    round that the correction was made of; refused when it was corrected since.
    """
    site = _check_head(act, new, round_id)
    if seen is not None and act.session.get_one(Round, round_id).version != seen:
        raise Refused([_wrong("rounds.corrected_since", "it was corrected since it was opened here", "uid")])
    named = {line.colony_id for line in new.lines if line.colony_id is not None}
    with still_true(act.session, named | colonies_of_versions(act.session, round_id)):
        lines = _write_anew(act, round_id, new)
    act.result = _posted(act.session.get_one(Round, round_id), lines)
    return f"Corrected round, {site}, {dates.short(new.on)}: {counted(len(lines.reads), 'hive')}"


def _write_anew(act: OpenAct, round_id: int, new: RoundToPost) -> Sorted:
    left = unpost(act, round_id, new)
    for swap in new.swaps:
        swap_marks(act, swap.mark, swap.other, swap.since)
    new = kept_lines(new, left)
    lines = check_round(act, new, frozenset(left.kept))
    row = act.session.get_one(Round, round_id)
    row.on, row.start_minute, row.end_minute = new.on, new.start_minute, new.end_minute
    row.crew, row.weather, row.note = new.crew, new.weather, new.note
    row.version = act.id
    _write_lines(act, new, row, lines, left.courses)
    if left.courses:
        what = "strips of this round were taken out later, and no line puts them in any more"
        raise Refused([_wrong("rounds.courses", what, "medicine_in")])
    return lines


def check_round(act: OpenAct, new: RoundToPost, own: frozenset[int] = frozenset()) -> Sorted:
    """The round's lines, checked; Refused with all that holds them."""
    lines = sort_lines(act, new, own)
    lines.findings += [*late_findings(act, new, lines.reads), *restricted_findings(act, new, lines)]
    holding = open_findings(lines)
    if not lines.reads and not holding:
        holding = [_wrong("rounds.empty", "no line of this round can be posted", "lines")]
    if holding:
        raise Refused(holding)
    note_taken(lines)
    return lines


def _write_lines(
    act: OpenAct, new: RoundToPost, row: Round, lines: Sorted, kept_courses: dict[int, int] | None = None
) -> None:
    facts = Facts(act, new, row.id, farm_settings(act.session), {} if kept_courses is None else kept_courses)
    crossed = crossings(act, new, lines)
    correct_before(facts, lines.reads)
    rows = [_entry_row(new, row.id, seq, read) for seq, read in enumerate(lines.reads, start=1)]
    act.session.add_all(rows)
    act.session.flush()
    for read, entry_row in zip(lines.reads, rows, strict=True):
        read.entry_id = entry_row.id
    correct_after(facts, lines.reads)
    derive(facts, lines)
    keep_licences(act, crossed, row.id)


def _check_head(act: OpenAct, new: RoundToPost, round_id: int | None = None) -> str:
    site = act.session.get(Site, new.site_id)
    if site is None:
        raise Refused([_wrong("rounds.site", "there is no such site", "site")])
    posted = act.session.scalar(select(Round.id).where(Round.uid == new.uid))
    old = act.session.get(Round, round_id) if round_id is not None else None
    minutes = [minute for minute in (new.start_minute, new.end_minute) if minute is not None]
    problems = (
        (posted not in (None, round_id), "uid", "this round was posted already"),
        (round_id is not None and old is None, "uid", "there is no such round"),
        (old is not None and old.site_id != new.site_id, "site", "a round keeps its site"),
        (new.on > act.today, "on", f"{dates.long(new.on)} has not come yet"),
        (new.source not in ROUND_SOURCES, "source", f"{new.source} is no source of a round"),
        (any(not 0 <= minute < 24 * 60 for minute in minutes), "start", "a time of day that no clock shows"),
        (minutes != sorted(minutes), "end", "it ended before it began"),
    )
    findings = [_wrong(f"rounds.{field}", what, field) for wrong, field, what in problems if wrong]
    if findings:
        raise Refused(findings)
    return site.name


def _entry_row(new: RoundToPost, round_id: int, seq: int, read: Read) -> RoundEntry:
    return RoundEntry(
        round_id=round_id, colony_id=read.colony, on=new.on, seq=seq, reason=read.line.reason or None,
        **entry_values(read.entry),
    )  # fmt: skip


def entry_values(entry: Entry) -> dict[str, object]:
    """An entry as the columns of its row hold it."""
    values = as_plain(entry)
    if "split_to" in values:
        values["split_to"] = json.dumps(values["split_to"], ensure_ascii=False, separators=(",", ":"))
    return values


def _posted(row: Round, lines: Sorted) -> RoundPosted:
    return RoundPosted(
        row.id,
        {read.row: read.entry_id for read in lines.reads if read.entry_id is not None},
        {read.row: read.colony for read in lines.reads},
        lines.waiting,
        tuple(lines.findings),
    )


def _wrong(code: str, what: str, field: str) -> Finding:
    return Finding(code, Grade.REFUSED, what, where=Where(field=field))
