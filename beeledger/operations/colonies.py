"""Colonies: founded, ended, found living after all; the marks on their hives."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select

from beeledger.base import dates
from beeledger.base.clock import local_moment
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where, holds
from beeledger.base.text import counted, listed, shortened, tidy
from beeledger.database.audit import OpenAct
from beeledger.database.restricted import laid
from beeledger.model.colonies import (
    COLONY_KINDS,
    EXITS,
    FOUNDED_HOW,
    LOSSES,
    BoxStack,
    Colony,
    HiveMark,
    Placement,
)
from beeledger.model.rounds import RoundEntry
from beeledger.model.sites import Site
from beeledger.operations.placements import chains, end_stays, rewrite, stay_of
from beeledger.operations.queens import COLONY_ENDED, NewQueen, Reign, bring_back_reigns, end_reigns, enthrone
from beeledger.queries.farm import farm_settings
from beeledger.queries.stopped import between_by
from beeledger.rules.placements import reopened
from beeledger.rules.restrictions import Goes

END_MINUTE = 23 * 60 + 59
"""A colony that ended on a day still stood there that day, unless somebody says when."""


@dataclass(frozen=True, slots=True)
class Boxes:
    """The boxes of a hive."""

    hive_type: str
    brood_boxes: int
    brood_frames: int
    brood_frame: str
    supers: int
    super_frames: int
    excluder: bool = True


@dataclass(frozen=True, slots=True)
class NewColony:
    """A colony that comes into the record at a site on a day. ``boxes`` None: the farm's usual ones."""

    mark: str | None
    site_id: int
    on: date
    kind: str = "full"
    how: str = "opening"
    queen: NewQueen | None = None
    boxes: Boxes | None = None
    stand: int | None = None
    minute: int = 0
    """Minutes after local midnight."""
    note: str | None = None
    entry_id: int | None = None


def hives_at(
    site_id: int, on: date, marks: Sequence[str], *, queen_year: int | None = None, kind: str = "full"
) -> list[NewColony]:
    """Several hives of one kind at a site, in walking order as named."""
    queen = None if queen_year is None else NewQueen(hatch_year=queen_year)
    return [
        NewColony(mark, site_id, on, kind=kind, queen=queen, stand=stand)
        for stand, mark in enumerate(marks, start=1)
    ]


def usual_boxes(act: OpenAct, supers: int = 0) -> Boxes:
    """The boxes a hive of this farm usually has."""
    farm = farm_settings(act.session)
    return Boxes(
        farm.hive_type, farm.brood_boxes, farm.brood_frames, farm.brood_frame, supers, farm.super_frames
    )


def found_colonies(act: OpenAct, colonies: Sequence[NewColony]) -> str:
    """Found colonies, each with its mark, place, boxes and, where known, its queen.

    ``act.result`` is their ids in order. Refused for a number twice or on another living hive, a site
    that is not there, and days that have not come.
    """
    findings = check_founding(act, colonies)
    if holds(findings):
        raise Refused(findings)
    act.result = found(act, colonies)
    names = dict(act.session.execute(select(Site.id, Site.name)).all())
    sites = [names[site_id] for site_id in dict.fromkeys(new.site_id for new in colonies)]
    where = listed(sites) if len(sites) <= 3 else counted(len(sites), "site")
    return f"Founded {counted(len(colonies), 'colony', 'colonies')} at {where}"


def check_founding(act: OpenAct, colonies: Sequence[NewColony]) -> list[Finding]:
    """What forbids founding these colonies; rows count from 1."""
    marks = [tidy(new.mark) for new in colonies if new.mark]
    twice = {mark for mark, times in Counter(marks).items() if times > 1}
    used = marks_in_use(act, marks)
    sites = {site.id: site for site in act.session.scalars(select(Site))}
    findings: list[Finding] = []
    for row, new in enumerate(colonies, start=1):
        mark = tidy(new.mark or "")
        site = sites.get(new.site_id)
        problems = (
            (mark in used, "mark", f"hive {mark} is on another living hive"),
            (mark in twice, "mark", f"hive {mark} is named twice"),
            (new.kind not in COLONY_KINDS, "kind", f"{new.kind} is no kind of colony"),
            (new.how not in FOUNDED_HOW, "how", f"{new.how} is no way to come into the record"),
            (site is None, "site", "there is no such site"),
            (site is not None and site.closed_on is not None and site.closed_on <= new.on, "site", "the site was given up"),
            (new.on > act.today, "on", f"{dates.long(new.on)} has not come yet"),
        )  # fmt: skip
        findings += [
            Finding("colony.founding", Grade.REFUSED, what, where=Where(row=row, field=field))
            for wrong, field, what in problems
            if wrong
        ]
    return findings


def found(act: OpenAct, colonies: Sequence[NewColony]) -> list[int]:
    """Write colonies that were checked; returns their ids. Part of other acts too: splits, imports."""
    rows = [
        Colony(kind=new.kind, founded_on=new.on, founded_how=new.how, note=tidy(new.note or "") or None)
        for new in colonies
    ]
    act.session.add_all(rows)
    act.session.flush()
    pairs = [(row.id, new) for row, new in zip(rows, colonies, strict=True)]
    usual = usual_boxes(act)
    free = free_from(act, [new.mark for new in colonies if new.mark])
    act.session.add_all(
        _mark(colony_id, new.mark, max(new.on, free.get(tidy(new.mark), new.on)))
        for colony_id, new in pairs
        if new.mark and tidy(new.mark)
    )
    act.session.add_all(_placed(act, colony_id, new) for colony_id, new in pairs)
    act.session.add_all(
        stack_row(colony_id, new.on, new.boxes or usual, new.entry_id) for colony_id, new in pairs
    )
    act.session.flush()
    enthrone(
        act, [Reign(colony_id, new.queen, new.on, new.entry_id) for colony_id, new in pairs if new.queen]
    )
    return [colony_id for colony_id, _ in pairs]


def end_colonies(
    act: OpenAct, colony_ids: Sequence[int], on: date, cause: str, minute: int = END_MINUTE
) -> str:
    """End colonies with one cause on a day: sold or united, or a loss by its cause.

    Refused where a colony has ended already, was founded later, or was looked at or moved later.
    """
    findings = [*check_ending(act, colony_ids, on, cause, minute), *_sold_out_of(act, colony_ids, on, cause)]
    if holds(findings):
        raise Refused(findings)
    marks = marks_of(act, colony_ids)
    end(act, colony_ids, on, cause, minute)
    named = shortened(listed([marks.get(colony_id, "one without a number") for colony_id in colony_ids]), 80)
    return f"Ended {named}: {cause.replace('_', ' ')}"


def end(act: OpenAct, colony_ids: Sequence[int], on: date, cause: str, minute: int = END_MINUTE) -> None:
    """Write the end of colonies that was checked: place, mark and queen end with them."""
    rows = act.session.scalars(select(Colony).where(Colony.id.in_(colony_ids))).all()
    for row in rows:
        row.ended_on, row.end_cause = on, cause
    for mark in _open_marks(act, colony_ids):
        mark.until_on = max(on, mark.from_on)
    end_reigns(act, colony_ids, on, COLONY_ENDED)
    end_stays(act, colony_ids, local_moment(on, minute, act.clock.zone), on)


def revive(act: OpenAct, colony_id: int, mark: str | None = None) -> None:
    """Correct the record of a colony that was called dead and lives: place, mark and queen run on."""
    row = act.session.get_one(Colony, colony_id)
    if row.ended_on is None:
        return
    ended_on = row.ended_on
    row.ended_on = row.end_cause = None
    act.session.flush()
    bring_back_reigns(act, colony_id, ended_on)
    chain = [stay_of(stay) for stay in chains(act, [colony_id])[colony_id]]
    rewrite(act, {colony_id: reopened(chain)})
    last = act.session.scalars(
        select(HiveMark)
        .where(HiveMark.colony_id == colony_id)
        .order_by(HiveMark.from_on.desc(), HiveMark.id.desc())
    ).first()
    text = last.mark if last is not None and last.until_on == ended_on else tidy(mark or "")
    if text and not marks_in_use(act, [text]):
        free = max(ended_on, free_from(act, [text]).get(text, ended_on))
        if last is not None and last.mark == text and last.until_on == free:
            last.until_on = None
        else:
            act.session.add(_mark(colony_id, text, free))
    act.session.flush()


def give_mark(act: OpenAct, colony_id: int, mark: str, on: date) -> str:
    """Put a number on a hive from a day on; the one it had ends. An empty mark only ends it.

    Refused for a number on another living hive, a colony that has ended, and a day that cannot be.
    """
    wanted = tidy(mark)
    _check_bearer(act, colony_id, on)
    if wanted and colony_id not in (used := marks_in_use(act, [wanted])).values() and used:
        what = f"hive {wanted} is on another living hive"
        raise Refused(
            [Finding("colony.mark", Grade.REFUSED, what, "Swap the two instead", Where(field="mark"))]
        )
    old = _open_marks(act, [colony_id])
    for row in old:
        row.until_on = max(on, row.from_on)
    act.session.flush()
    if wanted:
        act.session.add(_mark(colony_id, wanted, max(on, free_from(act, [wanted]).get(wanted, on))))
    before = f", before {old[0].mark}" if old else ""
    return f"Hive number {wanted or 'taken off'}{before}"


def marks_of(act: OpenAct, colony_ids: Iterable[int]) -> dict[int, str]:
    """The marks the hives of these colonies carry now."""
    return {row.colony_id: row.mark for row in _open_marks(act, colony_ids)}


def marks_in_use(act: OpenAct, marks: Iterable[str]) -> dict[str, int]:
    """Which of ``marks`` are on a living hive now, and on which colony's."""
    wanted = [tidy(mark) for mark in marks]
    if not wanted:
        return {}
    query = select(HiveMark.mark, HiveMark.colony_id).where(
        HiveMark.mark.in_(wanted), HiveMark.until_on.is_(None)
    )
    return dict(act.session.execute(query).all())


def free_from(act: OpenAct, marks: Iterable[str]) -> dict[str, date]:
    """From which day marks that were on hives before are free again: what is written down late may not overlap."""
    wanted = [tidy(mark) for mark in marks]
    query = (
        select(HiveMark.mark, func.max(HiveMark.until_on))
        .where(HiveMark.mark.in_(wanted), HiveMark.until_on.is_not(None))
        .group_by(HiveMark.mark)
    )
    rows = act.session.execute(query) if wanted else ()
    return {mark: until_on for mark, until_on in rows if until_on is not None}


def stack_row(colony_id: int, on: date, boxes: Boxes, entry_id: int | None = None) -> BoxStack:
    """The boxes of a hive from a day on, as a row."""
    return BoxStack(
        colony_id=colony_id, on=on, hive_type=boxes.hive_type, brood_boxes=boxes.brood_boxes,
        brood_frames=boxes.brood_frames, brood_frame=boxes.brood_frame, supers=boxes.supers,
        super_frames=boxes.super_frames, excluder=boxes.excluder, entry_id=entry_id,
    )  # fmt: skip


def number_in(mark: str) -> int | None:
    """The figures in a mark, by which hives are sorted: 7 for "H007". None without figures."""
    figures = re.search(r"\d{1,9}", mark)
    return int(figures[0]) if figures else None


def _mark(colony_id: int, mark: str | None, on: date) -> HiveMark:
    text = tidy(mark or "")
    return HiveMark(mark=text, number=number_in(text), colony_id=colony_id, from_on=on)


def _placed(act: OpenAct, colony_id: int, new: NewColony) -> Placement:
    return Placement(
        colony_id=colony_id, place="site", site_id=new.site_id, stand=new.stand,
        from_at=local_moment(new.on, new.minute, act.clock.zone), from_on=new.on,
    )  # fmt: skip


def _open_marks(act: OpenAct, colony_ids: Iterable[int]) -> Sequence[HiveMark]:
    query = select(HiveMark).where(HiveMark.colony_id.in_(list(colony_ids)), HiveMark.until_on.is_(None))
    return act.session.scalars(query).all()


def _check_bearer(act: OpenAct, colony_id: int, on: date) -> None:
    colony = act.session.get(Colony, colony_id)
    problems = (
        (colony is None, "colony", "there is no such colony"),
        (colony is not None and colony.ended_on is not None, "colony", "a colony that has ended carries no number"),
        (colony is not None and on < colony.founded_on, "on", f"it was not there yet on {dates.long(on)}"),
        (on > act.today, "on", f"{dates.long(on)} has not come yet"),
    )  # fmt: skip
    findings = [
        Finding("colony.mark", Grade.REFUSED, what, where=Where(field=field))
        for wrong, field, what in problems
        if wrong
    ]
    if findings:
        raise Refused(findings)


def check_ending(
    act: OpenAct, colony_ids: Sequence[int], on: date, cause: str, minute: int = END_MINUTE
) -> list[Finding]:
    """What forbids that colonies ended on a day of a cause."""
    findings = [] if cause in (*EXITS, *LOSSES) else [_refusal(f"{cause} is no cause of an end", "cause")]
    if on > act.today:
        findings.append(_refusal(f"{dates.long(on)} has not come yet", "on"))
    later = set(
        act.session.scalars(
            select(RoundEntry.colony_id).where(RoundEntry.colony_id.in_(colony_ids), RoundEntry.on > on)
        )
    )
    moved = set(
        act.session.scalars(
            select(Placement.colony_id).where(
                Placement.colony_id.in_(colony_ids),
                Placement.from_at >= local_moment(on, minute, act.clock.zone),
                Placement.move_line_id.is_not(None),
            )
        )
    )
    marks = marks_of(act, colony_ids)
    rows = act.session.scalars(select(Colony).where(Colony.id.in_(colony_ids))).all()
    if len(rows) < len(set(colony_ids)) or not rows:
        findings.append(_refusal("there is no such colony", "colony"))
    for row in rows:
        name = f"hive {marks[row.id]}" if row.id in marks else "a hive without a number"
        if row.ended_on is not None:
            findings.append(_refusal(f"{name} ended on {dates.long(row.ended_on)}", "on"))
        if row.founded_on > on:
            findings.append(_refusal(f"{name} was not there yet on {dates.long(on)}", "on"))
        if row.id in later:
            findings.append(_refusal(f"{name} was looked at after {dates.long(on)}", "on"))
        if row.id in moved:
            findings.append(_refusal(f"{name} was moved after that, by the record", "on"))
    return findings


def _sold_out_of(act: OpenAct, colony_ids: Sequence[int], on: date, cause: str) -> list[Finding]:
    """A sold hive leaves: out of a restricted site it first goes by a move, which keeps the licence."""
    if cause != "sold":
        return []
    query = select(Placement.site_id).where(Placement.colony_id.in_(colony_ids), Placement.until_at.is_(None))
    sites = set(act.session.scalars(query))
    ones = laid(act.session)
    stopped = [one for site_id in sites for one in between_by(ones, Goes.HIVES, site_id, None, on)]
    mend = "Write its move out under the licence first, then its sale"
    return [
        Finding("colony.restricted", Grade.REFUSED, one.finding.what, mend, Where(field="cause"))
        for one in stopped
    ]


def _refusal(what: str, field: str) -> Finding:
    return Finding("colony.end", Grade.REFUSED, what, where=Where(field=field))
