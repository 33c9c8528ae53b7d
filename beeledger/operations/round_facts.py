"""What follows from the entries of a round: feed, medicines, mites, boxes, takes, tasks, the walking order.

Queens and what passes between colonies stand in ``round_queens`` and ``round_colonies``.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from sqlalchemy import Select, func, select

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade
from beeledger.base.text import folded
from beeledger.model.colonies import HiveMark, Placement
from beeledger.model.due import Task
from beeledger.model.feeding import Feeding
from beeledger.model.honey import HoneyLot, Take, TakeLine
from beeledger.model.medicines import Medicine, MiteCount, Treatment
from beeledger.model.restrictions import LicenceUse
from beeledger.model.rounds import Round, RoundEntry
from beeledger.operations.box_counts import count_on
from beeledger.operations.colonies import Boxes, stack_row, usual_boxes
from beeledger.operations.round_colonies import carry_between
from beeledger.operations.round_lines import Read, Sorted, medicine_named, medicines_known, medicines_of
from beeledger.operations.round_queens import note_queens
from beeledger.operations.round_work import Facts
from beeledger.operations.stock_following import follow_round
from beeledger.queries.hives import stood_on
from beeledger.queries.records.round_desk import BoxesKnown
from beeledger.rules.rounds.entry import Entry, FeedKind, MiteMethod, NextAction, Outcome
from beeledger.rules.rounds.readback import ACTIONS
from beeledger.rules.stores import sugar_g_in
from beeledger.rules.walking import rewalked

__all__ = ["Facts", "derive"]
_STRENGTHS = {FeedKind.SYRUP_1_1: "1:1", FeedKind.SYRUP_2_1: "2:1"}


def derive(facts: Facts, lines: Sorted) -> None:
    """Write all that follows from the lines of a round, which have their entries and colonies."""
    reads = lines.reads
    put_into_hives(facts, reads)
    _take(facts, reads)
    follow_round(facts.act, facts.round_id, facts.on, [read.entry for read in reads])
    _tasks(facts, reads)
    note_queens(facts, reads)
    facts.session.flush()
    carry_between(facts, lines)
    _walk(facts, reads)
    facts.session.flush()


def put_into_hives(facts: Facts, reads: Sequence[Read]) -> None:
    """Feed, mites counted, medicines and boxes: what a round says of single hives, and an act at the desk too."""
    facts.session.add_all(row for read in reads for row in (*_feedings(facts, read), *_mites(facts, read)))
    _medicines(facts, reads)
    _boxes(facts, reads)


def _feedings(facts: Facts, read: Read) -> list[Feeding]:
    entry = read.entry
    if not entry.feed_ml and not entry.feed_g:
        return []
    return [
        Feeding(
            colony_id=read.colony, entry_id=read.entry_id, on=facts.on, kind=str(entry.feed_kind or "unknown"),
            volume_ml=entry.feed_ml or None, weight_g=entry.feed_g or None, sugar_g=sugar_in(entry),
        )
    ]  # fmt: skip


def sugar_in(entry: Entry) -> int | None:
    """Grams of sugar in what was fed; None for feed whose share of sugar is not on record."""
    if entry.feed_kind in _STRENGTHS and entry.feed_ml:
        return sugar_g_in(entry.feed_ml, _STRENGTHS[entry.feed_kind])
    return entry.feed_g or None if entry.feed_kind is FeedKind.SUGAR else None


def _mites(facts: Facts, read: Read) -> list[MiteCount]:
    entry = read.entry
    if entry.mites_count is None:
        return []
    method = entry.mites_method or (MiteMethod.DROP if entry.mites_days else MiteMethod.WASH)
    return [
        MiteCount(
            colony_id=read.colony, entry_id=read.entry_id, on=facts.on, method=str(method),
            mites=entry.mites_count, bees=entry.mites_bees, days=entry.mites_days,
        )
    ]  # fmt: skip


def _medicines(facts: Facts, reads: Sequence[Read]) -> None:
    concerned = [read for read in reads if any(medicines_of(read.entry))]
    if not concerned:
        return
    known = medicines_known(facts.act)
    products = {row.id: row.product for row in known}
    query = select(Treatment).where(
        Treatment.colony_id.in_([read.colony for read in concerned]),
        Treatment.out_on.is_(None),
        Treatment.in_on <= facts.on,
    )
    running: dict[int, list[Treatment]] = {}
    for row in facts.session.scalars(query):
        running.setdefault(row.colony_id, []).append(row)
    for read in concerned:
        into, out = medicines_of(read.entry)
        if out:
            _take_out(facts, read, running.get(read.colony, []), products)
        if into:
            _put_in(facts, read, known)


def _take_out(facts: Facts, read: Read, running: Sequence[Treatment], products: dict[int, str]) -> None:
    name = read.entry.medicine_out
    named = [row for row in running if name and folded(products[row.medicine_id]) == folded(name)]
    # A name the record does not have in this hive still means what is in it.
    for row in named or running:
        row.out_on, row.out_entry_id = facts.on, read.entry_id


def _put_in(facts: Facts, read: Read, known: Sequence[Medicine]) -> None:
    entry = read.entry
    medicine = medicine_named(known, entry.medicine_in)
    if medicine is None:
        raise ValueError("a medicine that was checked is not on the list")
    batch = [row for row in known if row.product == medicine.product and row.batch == entry.medicine_batch]
    kept = facts.kept_courses.pop(read.colony, None)
    row = Treatment(colony_id=read.colony) if kept is None else facts.session.get_one(Treatment, kept)
    row.medicine_id = facts.pack_id or (batch[0] if entry.medicine_batch and batch else medicine).id
    row.in_on, row.in_entry_id = facts.on, read.entry_id
    row.pieces = entry.medicine_in_count or None
    row.reason = read.line.reason if "rounds.medicine_under_supers" in read.taken else None
    facts.session.add(row)


def _boxes(facts: Facts, reads: Sequence[Read]) -> None:
    changed = [read for read in reads if read.entry.supers_on or read.entry.supers_off]
    if not changed:
        return
    usual = usual_boxes(facts.act)
    for read in changed:
        boxes = _as_boxes(read.known.boxes) if read.known and read.known.boxes else usual
        after = max(0, boxes.supers + (read.entry.supers_on or 0) - (read.entry.supers_off or 0))
        facts.session.add(stack_row(read.colony, facts.on, _with_supers(boxes, after), read.entry_id))
    facts.session.flush()
    count_on(facts.session, [read.colony for read in changed], facts.on)


def _as_boxes(known: BoxesKnown) -> Boxes:
    return Boxes(
        known.hive_type, known.brood_boxes, known.brood_frames, known.brood_frame, known.supers,
        known.super_frames, known.excluder,
    )  # fmt: skip


def _with_supers(boxes: Boxes, supers: int) -> Boxes:
    return Boxes(
        boxes.hive_type, boxes.brood_boxes, boxes.brood_frames, boxes.brood_frame, supers, boxes.super_frames,
        boxes.excluder,
    )  # fmt: skip


def _take(facts: Facts, reads: Sequence[Read]) -> None:
    off = [read for read in reads if read.entry.supers_off]
    take = facts.session.scalars(select(Take).where(Take.round_id == facts.round_id)).first()
    if not off:
        _drop_take(facts, take)
        return
    if take is None:
        take = Take(on=facts.on, site_id=facts.new.site_id, round_id=facts.round_id)
        facts.session.add(take)
    take.on = facts.on
    facts.session.flush()
    facts.session.add_all(
        TakeLine(
            take_id=take.id, colony_id=read.colony, entry_id=read.entry_id, supers=read.entry.supers_off or 0,
            estimate_g=_estimate_g(facts, read.entry), reason=_take_reason(read),
        )
        for read in off
    )  # fmt: skip


def _drop_take(facts: Facts, take: Take | None) -> None:
    """The take of a round that, put right, took nothing off."""
    if take is None:
        return
    lot = facts.session.scalars(select(HoneyLot.name).where(HoneyLot.take_id == take.id)).first()
    if lot is not None:
        what = f"honey of this round's take was weighed into {lot}"
        raise Refused([Finding("rounds.take", Grade.REFUSED, what, "Correct the weighing first")])
    for use in facts.session.scalars(select(LicenceUse).where(LicenceUse.take_id == take.id)):
        facts.session.delete(use)  # typed when the restriction was written down, after the round
    facts.session.flush()
    facts.session.delete(take)


def _estimate_g(facts: Facts, entry: Entry) -> int | None:
    if entry.super_fullness_tenths is None or not entry.supers_off:
        return None
    return facts.farm.super_full_g * entry.super_fullness_tenths * entry.supers_off // 10


def _take_reason(read: Read) -> str | None:
    asked = {"rounds.honey_under_treatment", "rounds.honey_with_feed"} & read.taken
    return read.line.reason if asked else None


def _tasks(facts: Facts, reads: Sequence[Read]) -> None:
    """A look answers what earlier lines asked for; a next action typed tonight asks anew."""
    looked = [read.colony for read in reads if read.entry.outcome is Outcome.LOOKED]
    answered = select(Task).where(
        Task.colony_id.in_(looked),
        Task.done_on.is_(None),
        Task.entry_id.is_not(None),
        Task.due_on <= facts.on,
    )
    for row in facts.session.scalars(answered).all() if looked else ():
        row.done_on = facts.on
    asking = [read for read in reads if read.entry.next_action is not None]
    later = _later_looks(facts, asking)
    for read in asking:
        due_on = facts.on + timedelta(days=read.entry.next_days or 0)
        done_on = min((on for on in later.get(read.colony, ()) if on >= due_on), default=None)
        what = ACTIONS[read.entry.next_action or NextAction.LOOK]
        facts.session.add(
            Task(what=what, due_on=due_on, colony_id=read.colony, entry_id=read.entry_id, done_on=done_on)
        )


def _later_looks(facts: Facts, reads: Sequence[Read]) -> dict[int, list[date]]:
    """The days after this round on which its hives were looked at: a sheet typed late was answered already."""
    query = select(RoundEntry.colony_id, RoundEntry.on).where(
        RoundEntry.colony_id.in_([read.colony for read in reads]),
        RoundEntry.on > facts.on,
        RoundEntry.outcome == Outcome.LOOKED,
    )
    looks: dict[int, list[date]] = {}
    for colony_id, on in facts.session.execute(query) if reads else ():
        looks.setdefault(colony_id, []).append(on)
    return looks


def _walk(facts: Facts, reads: Sequence[Read]) -> None:
    """Tonight's walking order becomes the next one's, unless a later round has set it already."""
    later = facts.session.scalar(
        select(func.count()).where(Round.site_id == facts.new.site_id, Round.on > facts.on)
    )
    if later:
        return
    stays = {row.colony_id: row for row in facts.session.scalars(_standing(facts.new.site_id, facts.on))}
    numbers = _numbers(facts, list(stays))
    by_stand = sorted(
        (row for row in stays.values() if row.stand is not None),
        key=lambda row: (row.stand or 0, numbers.get(row.colony_id, 0), row.colony_id),
    )
    order = [row.colony_id for row in by_stand]
    walked = [read.colony for read in reads if read.colony in stays]
    for stand, colony_id in enumerate(rewalked(order, walked), start=1):
        if stays[colony_id].stand != stand:
            stays[colony_id].stand = stand


def _standing(site_id: int, on: date) -> Select[Placement]:
    return select(Placement).where(Placement.site_id == site_id, *stood_on(on)).order_by(Placement.from_at)


def _numbers(facts: Facts, colony_ids: Sequence[int]) -> dict[int, int]:
    query = select(HiveMark.colony_id, HiveMark.number).where(
        HiveMark.colony_id.in_(colony_ids), HiveMark.until_on.is_(None), HiveMark.number.is_not(None)
    )
    return {row[0]: row[1] or 0 for row in facts.session.execute(query)}
