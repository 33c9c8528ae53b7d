"""A posted round as its summary says it, and a site's sheet as the crew takes it along."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.clock import local_moment
from beeledger.base.dates import short
from beeledger.base.findings import Grade
from beeledger.base.text import listed
from beeledger.base.units import frames, kilograms
from beeledger.model.acts import Act, ActRow
from beeledger.model.rounds import Round
from beeledger.model.sites import Site
from beeledger.queries.farm import FarmSettings, farm_settings
from beeledger.queries.records.round_desk import HiveLine, Visit
from beeledger.queries.records.round_sheet import LastFigures, RoundSheet, SheetLine
from beeledger.queries.records.round_summary import RoundFinding, RoundSummary, SummaryLine
from beeledger.queries.rounds import entries_of_round, lines_of, sheet_for
from beeledger.rules.due import Due as Reason
from beeledger.rules.due import Grade as Pressing
from beeledger.rules.due import counted_words, grade, reason_figures, work_minutes
from beeledger.rules.rounds.checks import check_entry
from beeledger.rules.rounds.entry import Entry, Outcome, QueenState
from beeledger.rules.rounds.readback import CAUSES, FEEDS, OUTCOMES, QUEENS, STAGES, figure
from beeledger.rules.rounds.sums import Foot, foot


def round_summary(session: Session, round_id: int) -> RoundSummary:
    """One posted round for paper: a constant number of statements.

    Findings are those that stay true of the lines by themselves, and the reasons that were written; what
    was against the record has been corrected by the posting.
    """
    row = session.get_one(Round, round_id)
    visits = entries_of_round(session, round_id)
    lines = {
        line.colony_id: line
        for line in lines_of(session, [visit.colony_id for visit in visits], row.on, round_id)
    }
    named = [(lines[visit.colony_id], visit) for visit in visits]
    farm = farm_settings(session)
    act = _posting(session, round_id)
    return RoundSummary(
        site=session.scalars(select(Site.name).where(Site.id == row.site_id)).one(),
        day=row.on,
        lines=tuple(_summary_line(line, visit) for line, visit in named),
        begun=_clock(row.on, row.start_minute, farm.zone),
        ended=_clock(row.on, row.end_minute, farm.zone),
        crew=row.crew or "",
        weather=row.weather or "",
        posted_by=act.who if act else "",
        act=act.id if act else None,
        whole_site=_whole_site(row, [visit.entry for visit in visits]),
        sums=_sums(foot([visit.entry for visit in visits], row.on)),
        findings=tuple(found for line, visit in named for found in _found(row, farm, line, visit)),
    )


def printed_sheet(session: Session, site_id: int, on: date) -> RoundSheet:
    """The sheet of a site for the crew: last figures and what is due by that day or soon after."""
    desk = sheet_for(session, site_id, on)
    site = session.execute(select(Site.grid, Site.way_in).where(Site.id == site_id)).one()
    reasons = [one for line in desk.lines for one in _pressing(line, on)]
    return RoundSheet(
        site=desk.site,
        lines=tuple(_sheet_line(line, on) for line in desk.lines if line.ended_on is None),
        code=desk.code,
        grid=site.grid or "",
        day=on,
        last_visit=desk.last_round_on,
        way_in=site.way_in or "",
        due=counted_words(reasons, on),
        minutes=work_minutes(reasons) if reasons else None,
        site_id=site_id,
    )


_WITHOUT_HER = {
    QueenState.QUEENLESS: "none", QueenState.VIRGIN: "virgin", QueenState.DRONE_LAYER: "drone layer",
    QueenState.CELLS: "cells",
}  # fmt: skip
"""What stands for the queen's colour and year while there is no laying queen."""


def last_figures(entry: Entry, on: date) -> LastFigures:
    """A visit of ``on`` as short words; blank where nobody looked."""
    again = "" if entry.next_days is None else short(on + timedelta(days=entry.next_days))
    return LastFigures(
        queen="q" if entry.queen_seen else "",
        eggs="" if entry.eggs is None else ("e" if entry.eggs else "e-"),
        brood=_frames(entry.brood_tenths),
        bees=_frames(entry.bees_tenths),
        stores=_stores(entry),
        temper=str(entry.temper or ""),
        cells=_cells(entry),
        supers=_supers(entry),
        feed=_feed(entry),
        strips=_strips(entry),
        mites=_mites(entry),
        again=again,
    )


def _sheet_line(line: HiveLine, on: date) -> SheetLine:
    queen = line.queen
    colour = queen.colour if queen.colour and queen.marked is not False else ""
    year = f"'{queen.year % 100:02d}" if queen.year is not None else ""
    state = _WITHOUT_HER.get(queen.state) if queen.state else None
    due = dict.fromkeys(reason_figures()[one.code].words for one in _pressing(line, on))
    return SheetLine(
        hive=line.mark or "",
        stand=str(line.stand or ""),
        queen_colour="" if state else colour,
        queen=state or " ".join(part for part in (colour or ("plain" if year else ""), year) if part),
        last=LastFigures() if line.last is None else last_figures(line.last.entry, line.last.on),
        due=", ".join(due),
        colony_id=line.colony_id,
    )


def _pressing(line: HiveLine, on: date) -> list[Reason]:
    return [
        Reason(one.colony_id, one.code, one.what, one.why, one.due_on, one.minutes)
        for one in line.due
        if grade(one.due_on, on) is not Pressing.LATER
    ]


def _summary_line(line: HiveLine, visit: Visit) -> SummaryLine:
    entry = visit.entry
    words = last_figures(entry, visit.on)
    change = None if entry.supers_on is None and entry.supers_off is None else 0
    return SummaryLine(
        hive=line.mark or "",
        outcome=_outcome(entry),
        queen=_queen(entry),
        eggs="" if entry.eggs is None else ("seen" if entry.eggs else "none"),
        brood_tenths=entry.brood_tenths,
        bees_tenths=entry.bees_tenths,
        stores=words.stores,
        temper=entry.temper,
        cells=words.cells,
        supers=change if change is None else (entry.supers_on or 0) - (entry.supers_off or 0),
        feed=words.feed,
        strips=words.strips,
        mites=words.mites,
        again=None if entry.next_days is None else visit.on + timedelta(days=entry.next_days),
        note="; ".join(part for part in (_between(entry), entry.signs, entry.note) if part),
    )


def _outcome(entry: Entry) -> str:
    if entry.outcome in (None, Outcome.LOOKED):
        return ""
    return ", ".join([OUTCOMES[entry.outcome], *([CAUSES[entry.cause]] if entry.cause else [])])


def _queen(entry: Entry) -> str:
    parts = [QUEENS[entry.queen_state]] if entry.queen_state else []
    parts += ["seen"] if entry.queen_seen else []
    parts += [str(entry.queen_colour)] if entry.queen_colour else []
    return ", ".join(parts)


def _between(entry: Entry) -> str:
    """What passed to or from other hives."""
    parts = [f"split to {listed([split.mark for split in entry.split_to])}"] if entry.split_to else []
    parts += [f"united into {entry.united_into}"] if entry.united_into else []
    parts += [f"brood from {entry.brood_given_from}"] if entry.brood_given_from else []
    return "; ".join(parts)


def _frames(tenths: int | None) -> str:
    return "" if tenths is None else frames(tenths)


def _stores(entry: Entry) -> str:
    if entry.stores_g is not None:
        return f"{figure(entry.stores_g, 1000)} kg"
    if entry.stores_tenths is not None:
        return f"{frames(entry.stores_tenths)} fr."
    return str(entry.stores_heft or "")


def _cells(entry: Entry) -> str:
    if entry.cells_stage is None:
        return ""
    return " ".join([*([str(entry.cells_count)] if entry.cells_count else []), STAGES[entry.cells_stage]])


def _supers(entry: Entry) -> str:
    parts = [f"+{entry.supers_on}"] if entry.supers_on else []
    parts += [f"−{entry.supers_off}"] if entry.supers_off else []
    return " ".join(parts)


def _feed(entry: Entry) -> str:
    parts = [f"{figure(entry.feed_ml, 1000)} l"] if entry.feed_ml else []
    parts += [f"{figure(entry.feed_g, 1000)} kg"] if entry.feed_g else []
    kind = FEEDS[entry.feed_kind].removeprefix("syrup ") if entry.feed_kind and parts else ""
    return " ".join([*parts, *([kind] if kind else [])])


def _strips(entry: Entry) -> str:
    into = entry.medicine_in is not None or entry.medicine_in_count
    out = entry.medicine_out is not None or entry.medicine_out_count
    parts = [f"{entry.medicine_in_count or ''} in".strip()] if into else []
    parts += [f"{entry.medicine_out_count or ''} out".strip()] if out else []
    return ", ".join(parts)


def _mites(entry: Entry) -> str:
    if entry.mites_count is None:
        return ""
    if entry.mites_bees:
        return f"{entry.mites_count} in {entry.mites_bees}"
    return f"{entry.mites_count} in {entry.mites_days} d" if entry.mites_days else str(entry.mites_count)


def _sums(sums: Foot) -> tuple[tuple[str, str, str], ...]:
    feed_ml, feed_g = sum(sums.feed_ml.values()), sum(sums.feed_g.values())
    rows = (
        ("Looked at", f"{sums.looked} of {sums.hives}", "hives"),
        ("Queens seen", _count(sums.queens_seen), ""),
        ("Brood", _frames(sums.brood_tenths), "frames"),
        ("Bees", _frames(sums.bees_tenths), "frames"),
        ("Hives with cells", _count(sums.cells_hives), ""),
        ("Supers on", _count(sums.supers_on), ""),
        ("Supers off", _count(sums.supers_off), ""),
        ("Liquid feed", figure(feed_ml, 1000) if feed_ml else "", "l"),
        ("Solid feed", kilograms(feed_g) if feed_g else "", "kg"),
        ("Strips in", _count(sum(sums.medicine_in.values())), ""),
        ("Strips out", _count(sum(sums.medicine_out.values())), ""),
        ("Mites counted", _count(sums.mites_counted), "hives"),
        ("Next look", short(sums.next_look) if sums.next_look else "", ""),
    )
    return tuple(row for row in rows if row[1])


def _count(number: int | None) -> str:
    return f"{number:,}" if number else ""


def _whole_site(row: Round, entries: Sequence[Entry]) -> tuple[str, ...]:
    looked = [entry for entry in entries if entry.outcome is Outcome.LOOKED]
    feeds = {_feed(entry) for entry in looked}
    same = [f"all fed {feeds.pop()}"] if len(looked) > 1 and len(feeds) == 1 and "" not in feeds else []
    return (*same, *([row.note] if row.note else []))


def _found(row: Round, farm: FarmSettings, line: HiveLine, visit: Visit) -> list[RoundFinding]:
    hive = line.mark or ""
    record = line.record(row.site_id, row.on, stood_here=True)
    found = [
        RoundFinding(hive, finding.grade, finding.what)
        for finding in check_entry(visit.entry, record, visit.on, farm.round_figures)
        if finding.grade in (Grade.DOUBTFUL, Grade.NOTED)
    ]
    if visit.reason:
        found.insert(0, RoundFinding(hive, Grade.AGAINST, "posted against the record", visit.reason))
    return found


def _clock(on: date, minute: int | None, zone: str) -> datetime | None:
    return None if minute is None else local_moment(on, minute, zone).astimezone(ZoneInfo(zone))


def _posting(session: Session, round_id: int) -> Act | None:
    """The act that first wrote the round, or, once corrected, the last that did."""
    query = (
        select(Act)
        .join(ActRow, ActRow.act_id == Act.id)
        .where(ActRow.table == Round.__tablename__, ActRow.row_id == round_id)
        .order_by(Act.id.desc())
        .limit(1)
    )
    return session.scalars(query).first()
