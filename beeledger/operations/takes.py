"""Supers taken off for honey, and their first weighing.

A take is counted; grams begin when its supers stand on the scale. Honey taken during a treatment, within
its withdrawal, or with feed on wants a written reason, which stays with the line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, tidy
from beeledger.base.units import kilograms
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import BoxStack
from beeledger.model.honey import HoneyLot, HoneyTransfer, Take, TakeLine
from beeledger.model.sites import Site
from beeledger.operations.honey_lots import check_day, check_scale, numbered, refusal, refuse
from beeledger.operations.restricting import open_stops, write_uses
from beeledger.queries.hives import boxes_on, colonies_at, marks_on
from beeledger.queries.stopped import CODE as RESTRICTED
from beeledger.queries.stopped import stopped_take
from beeledger.queries.takes import honey_barred
from beeledger.rules.honey_composition import kinds
from beeledger.rules.restrictions import NO_LICENCE, Licence

TREATED, FED = "take.treatment", "take.feed"
"""Codes that only a written reason answers."""
ELSEWHERE, MORE = "take.elsewhere", "take.supers"
"""Codes that are accepted: the hive stands elsewhere by the record; fewer supers were on by the record."""


@dataclass(frozen=True, slots=True)
class NewTakeLine:
    """Supers taken from one colony, or with ``colony_id`` None from the site as a whole."""

    supers: int
    colony_id: int | None = None
    estimate_g: int | None = None
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class NewTake:
    """Supers taken off at a site on a day. ``accepted``: codes of findings against the record taken over."""

    site_id: int
    on: date
    lines: tuple[NewTakeLine, ...]
    note: str | None = None
    accepted: frozenset[str] = frozenset()
    licence: Licence = NO_LICENCE
    """That lets the supers out of a restricted site."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """One turn on the scale: full, and empty. For supers ``tare_g`` is boxes with frames and dry comb."""

    gross_g: int
    tare_g: int
    note: str | None = None

    @property
    def net_g(self) -> int:
        """The honey."""
        return self.gross_g - self.tare_g


@dataclass(frozen=True, slots=True)
class NewWeighing:
    """The supers of a take, put on the scale one after another. ``name`` empty: made of site and day."""

    take_id: int
    on: date
    weighed: tuple[Weighed, ...]
    name: str = ""
    honey_kind: str = "blossom"


def record_take(act: OpenAct, new: NewTake) -> str:
    """Write supers taken, and take them off the hives they stood on. ``act.result`` is the take's id.

    Honey from a colony under treatment, in its withdrawal or with feed on is refused without a reason.
    """
    stopped = stopped_take(act.session, new.site_id, new.on)
    refuse([*open_stops(stopped, new.licence), *_check_take(act, new)], new.accepted - {RESTRICTED})
    take = Take(site_id=new.site_id, on=new.on, note=tidy(new.note or "") or None)
    act.session.add(take)
    act.session.flush()
    act.session.add_all(
        TakeLine(
            take_id=take.id, colony_id=line.colony_id, supers=line.supers, estimate_g=line.estimate_g,
            reason=tidy(line.reason or "") or None,
        )
        for line in new.lines
    )  # fmt: skip
    _take_off(act, new)
    write_uses(act, stopped, new.licence, take_id=take.id)
    act.result = take.id
    site = act.session.get_one(Site, new.site_id).name
    supers = counted(sum(line.supers for line in new.lines), "super")
    return f"Took {supers} at {site}, {dates.long(new.on)}"


def weigh_take(act: OpenAct, new: NewWeighing) -> str:
    """Write the first weighing of a take's supers: grams begin here. ``act.result`` is the lot's id."""
    take = act.session.get_one(Take, new.take_id)
    findings = check_day(act, new.on) + check_scale(new.weighed)
    if new.on < take.on:
        findings.append(refusal("honey.too-early", f"it was taken on {dates.long(take.on)}", "on"))
    if new.honey_kind not in kinds():
        findings.append(refusal("lot.honey", f"{new.honey_kind} is no kind of honey", "honey_kind"))
    refuse(findings)
    site = act.session.get_one(Site, take.site_id).name
    lot = act.session.scalars(select(HoneyLot).where(HoneyLot.take_id == take.id)).first()
    if lot is None:
        name = free_name_of_take(act, tidy(new.name) or f"supers {site}, {dates.long(take.on)}")
        lot = HoneyLot(kind="supers", name=name, opened_on=new.on, take_id=take.id, honey_kind=new.honey_kind)
        act.session.add(lot)
        act.session.flush()
    act.session.add_all(
        HoneyTransfer(
            on=new.on, to_lot_id=lot.id, origin="weighed", grams=each.net_g, gross_g=each.gross_g,
            tare_g=each.tare_g, note=each.note,
        )
        for each in new.weighed
    )  # fmt: skip
    act.result = lot.id
    return f"Weighed {lot.name}: {kilograms(sum(each.net_g for each in new.weighed))} kg"


def free_name_of_take(act: OpenAct, wanted: str) -> str:
    """A name for the supers of a take; the second take of a site and day is "…, take 2"."""
    used = act.session.scalars(
        select(HoneyLot.name).where(HoneyLot.name.startswith(wanted, autoescape=True))
    ).all()
    return wanted if wanted not in used else numbered(f"{wanted}, take ", used)


def _check_take(act: OpenAct, new: NewTake) -> list[Finding]:
    findings = check_day(act, new.on)
    if not new.lines:
        findings.append(refusal("take.nothing", "no supers were taken", "supers"))
    for row, line in enumerate(new.lines, start=1):
        if line.supers < 1:
            findings.append(
                refusal("take.none", "a line of a take has at least one super", "supers", row=row)
            )
        if line.estimate_g is not None and line.estimate_g < 0:
            findings.append(refusal("take.estimate", "an estimate below nought", "estimate_g", row=row))
    ids = _colonies(new)
    if len(set(ids)) < len(ids):
        findings.append(refusal("take.twice", "a hive stands twice in the take", "colony_id"))
    return findings + _check_standing(act, new, ids) + _check_barred(act, new, ids)


def _check_standing(act: OpenAct, new: NewTake, ids: Sequence[int]) -> list[Finding]:
    here = colonies_at(act.session, new.site_id, new.on)
    boxes, marks = boxes_on(act.session, ids, new.on), marks_on(act.session, ids, new.on)
    findings = []
    for row, line in enumerate(new.lines, start=1):
        colony, name = line.colony_id, _hive(line.colony_id, marks)
        if colony is None:
            continue
        where = Where(row=row, field="supers")
        if colony not in here:
            what = f"{name} did not stand there on {dates.long(new.on)}, by the record"
            findings.append(Finding(ELSEWHERE, Grade.AGAINST, what, "Correct the site, or accept", where))
        if colony in boxes and line.supers > boxes[colony].supers:
            what = f"{name}: {line.supers} taken, {boxes[colony].supers} on by the record"
            findings.append(Finding(MORE, Grade.AGAINST, what, "Count again, or accept", where))
    return findings


def _check_barred(act: OpenAct, new: NewTake, ids: Sequence[int]) -> list[Finding]:
    of_all = any(line.colony_id is None for line in new.lines)
    asked = sorted({*ids, *(colonies_at(act.session, new.site_id, new.on) if of_all else ())})
    barred, marks = honey_barred(act.session, asked, new.on), marks_on(act.session, asked, new.on)
    findings = []
    for row, line in enumerate(new.lines, start=1):
        # Of supers that nobody told apart, each may be of a hive under treatment.
        colony = line.colony_id if line.colony_id is not None else min(barred, default=None)
        if colony not in barred or tidy(line.reason or ""):
            continue
        why, name = barred[colony], _hive(colony, marks)
        where = Where(row=row, field="reason")
        if why.treatment:
            mend = "Write the reason. The medicine's label and the veterinary law stand above it"
            findings.append(
                refusal(TREATED, f"{name}: honey under treatment, {why.treatment}", "reason", mend, row)
            )
        if why.feed:
            mend = "Write the reason: no sugar may be in honey for sale"
            found = Finding(FED, Grade.REFUSED, f"{name}: honey where feed was on, {why.feed}", mend, where)
            findings.append(found)
    return findings


def _take_off(act: OpenAct, new: NewTake) -> None:
    """Lower the stacks of the hives, and those that later rounds left."""
    boxes = boxes_on(act.session, _colonies(new), new.on)
    taken = {
        line.colony_id: min(line.supers, boxes[line.colony_id].supers)
        for line in new.lines
        if line.colony_id in boxes
    }
    for colony_id, supers in taken.items():
        have = boxes[colony_id]
        if supers:
            act.session.add(
                BoxStack(
                    colony_id=colony_id, on=new.on, hive_type=have.hive_type, brood_boxes=have.brood_boxes,
                    brood_frames=have.brood_frames, brood_frame=have.brood_frame, supers=have.supers - supers,
                    super_frames=have.super_frames, excluder=have.excluder,
                )
            )  # fmt: skip
    later = select(BoxStack).where(BoxStack.colony_id.in_(list(taken)), BoxStack.on > new.on)
    for row in act.session.scalars(later):
        row.supers = max(0, row.supers - taken[row.colony_id])


def _colonies(new: NewTake) -> list[int]:
    return [line.colony_id for line in new.lines if line.colony_id is not None]


def _hive(colony_id: int | None, marks: Mapping[int, str]) -> str:
    mark = marks.get(colony_id or 0)
    return f"hive {mark}" if mark else "a hive without a number"
