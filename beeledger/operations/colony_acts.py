"""Acts on colonies at the desk: fed, treated, their boxes changed, brought back. One or many at a time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding
from beeledger.base.text import counted
from beeledger.database.audit import OpenAct
from beeledger.database.restricted import laid
from beeledger.model.colonies import COLONY_KINDS, Colony, HiveMark, Placement
from beeledger.model.medicines import Medicine
from beeledger.model.sites import Site
from beeledger.operations.box_counts import count_on
from beeledger.operations.colonies import (
    Boxes,
    give_mark,
    marks_in_use,
    marks_of,
    revive,
    stack_row,
    usual_boxes,
)
from beeledger.operations.colony_work import (
    NO_ANSWERS,
    Answers,
    asked,
    guard,
    hives_named,
    named,
    refuse,
    set_beside,
    wrong,
)
from beeledger.operations.round_corrections import correct_after
from beeledger.operations.round_facts import put_into_hives
from beeledger.operations.round_lines import Read
from beeledger.operations.still_true import still_true
from beeledger.operations.stock_following import follow_round
from beeledger.queries.stopped import supers_by
from beeledger.rules.rounds.entry import Entry, FeedKind
from beeledger.rules.rounds.readback import FEEDS, figure


@dataclass(frozen=True, slots=True)
class Feed:
    """Feed given to each of some hives: millilitres of what is liquid, grams of what is not."""

    kind: FeedKind
    volume_ml: int | None = None
    weight_g: int | None = None


@dataclass(frozen=True, slots=True)
class Dose:
    """Medicine of one pack put into each of some hives, or taken out of them again."""

    medicine_id: int
    pieces: int | None = None
    out: bool = False


@dataclass(frozen=True, slots=True)
class BoxChange:
    """How the boxes of a hive stand from a day on; what is None stays as it was."""

    kind: str | None = None
    """What the colony counts as from then on: full, nucleus, mating."""
    hive_type: str | None = None
    brood_boxes: int | None = None
    brood_frames: int | None = None
    """Frames that one brood box holds."""
    brood_frame: str | None = None
    supers: int | None = None
    excluder: bool | None = None


def feed_colonies(
    act: OpenAct, colony_ids: Sequence[int], on: date, feed: Feed, answers: Answers = NO_ANSWERS
) -> str:
    """Feed colonies on a day. Asked about where honey was taken since out of supers that were on."""
    if not feed.volume_ml and not feed.weight_g:
        refuse([wrong("nothing was fed", "amount", "Type how much each hive got")])
    entry = Entry(feed_kind=feed.kind, feed_ml=feed.volume_ml, feed_g=feed.weight_g)
    reads = set_beside(act, [(number, entry) for number in colony_ids], on, answers)
    _put_in(act, reads, on, answers)
    follow_round(act, None, on, [read.entry for read in reads])
    much = f"{figure(feed.volume_ml, 1000)} l" if feed.volume_ml else f"{figure(feed.weight_g or 0, 1000)} kg"
    return f"Fed {named(reads)}, {much} {FEEDS[feed.kind]}, {dates.short(on)}"


def treat_colonies(
    act: OpenAct, colony_ids: Sequence[int], on: date, dose: Dose, answers: Answers = NO_ANSWERS
) -> str:
    """Put medicine of a pack into colonies, or take it out; under supers for harvest a reason is wanted.

    Refused for a pack that is not on the list, was not there yet, or has run out of date by the record.
    """
    pack = act.session.get(Medicine, dose.medicine_id)
    if pack is None:
        raise Refused([wrong("there is no such medicine on the list", "medicine", "Add it under Medicines")])
    entry = (
        Entry(medicine_out=pack.product, medicine_out_count=dose.pieces)
        if dose.out
        else Entry(medicine_in=pack.product, medicine_in_count=dose.pieces, medicine_batch=pack.batch)
    )
    reads = set_beside(act, [(number, entry) for number in colony_ids], on, answers)
    _put_in(act, reads, on, answers, _pack_findings(pack, on, out=dose.out), pack.id)
    did = "Took out of" if dose.out else "Treated"
    return f"{did} {named(reads)}: {pack.product}, {dates.short(on)}"


def change_boxes(
    act: OpenAct, colony_ids: Sequence[int], on: date, change: BoxChange, answers: Answers = NO_ANSWERS
) -> str:
    """Say how the boxes of colonies stand from a day on; a nucleus hived up stays the colony it is.

    Asked about when supers come off, for no honey is taken by this, and when medicine went in since under
    supers that are put on. What later rounds put on and took off is counted on from here.
    """
    found = (
        [] if change.kind in (None, *COLONY_KINDS) else [wrong(f"{change.kind} is no kind of colony", "kind")]
    )
    if change == BoxChange():
        found.append(wrong("nothing is changed", "brood_boxes"))
    refuse(found)
    before = set_beside(act, [(number, Entry()) for number in colony_ids], on)
    usual = usual_boxes(act)
    stacks = {read.colony: _changed(read, change, usual) for read in before}
    more = {read.colony: stacks[read.colony].supers - (read.record.supers_on or 0) for read in before}
    works = [
        (number, Entry(supers_on=more[number]) if more[number] > 0 else Entry()) for number in colony_ids
    ]
    reads = set_beside(act, works, on, answers)
    facts = guard(act, reads, on, answers, _supers_off(act, reads, more, on))
    with still_true(act.session, set(colony_ids)):
        correct_after(facts, reads)
        act.session.add_all(stack_row(read.colony, on, stacks[read.colony]) for read in reads)
        for row in (
            act.session.scalars(select(Colony).where(Colony.id.in_(colony_ids))) if change.kind else ()
        ):
            row.kind = change.kind or row.kind
        act.session.flush()
        count_on(act.session, list(colony_ids), on)
    changes = [Entry(supers_on=max(0, many), supers_off=max(0, -many)) for many in more.values()]
    follow_round(act, None, on, changes)
    return f"Changed the boxes of {named(reads)}, {dates.short(on)}"


def bring_back(act: OpenAct, colony_id: int, mark: str | None = None, answers: Answers = NO_ANSWERS) -> str:
    """Take back the end of a colony that lives: place, number and queen run on from its last day.

    It gets ``mark`` where its old number is on another hive by now. Refused while its last site is given up.
    """
    row = act.session.get(Colony, colony_id)
    if row is None or row.ended_on is None:
        raise Refused([wrong("it has not ended", "mark")])
    refuse([one for one in _against_life(act, row) if one.code not in answers.accepted])
    old = _last_mark(act, colony_id)
    wanted = mark or old
    if mark and marks_in_use(act, [mark]):
        refuse([wrong(f"hive {mark} is on another living hive", "mark", "Give it another number")])
    if wanted and not mark and marks_in_use(act, [wanted]):
        refuse(
            [wrong(f"its old number {wanted} is on another hive now", "mark", "Give it a number of its own")]
        )
    with still_true(act.session, {colony_id}):
        revive(act, colony_id, wanted)
        if mark and marks_of(act, [colony_id]).get(colony_id) != mark:
            give_mark(act, colony_id, mark, act.today)
    return f"Brought back {hives_named([wanted])}"


def _put_in(
    act: OpenAct,
    reads: Sequence[Read],
    on: date,
    answers: Answers,
    more: Sequence[Finding] = (),
    pack_id: int | None = None,
) -> None:
    facts = replace(guard(act, reads, on, answers, more), pack_id=pack_id)
    with still_true(act.session, {read.colony for read in reads}):
        correct_after(facts, reads)
        put_into_hives(facts, reads)
        act.session.flush()


def _pack_findings(pack: Medicine, on: date, *, out: bool) -> list[Finding]:
    found = []
    if not out and pack.expires_on is not None and pack.expires_on < on:
        what = f"this pack is to be used by {dates.long(pack.expires_on)}"
        found.append(
            asked(
                "pack_expired",
                what,
                "medicine",
                "Accept if it was used all the same. The label and the law stand above the record",
            )
        )
    if not out and pack.acquired_on is not None and pack.acquired_on > on:
        what = f"this pack was bought on {dates.long(pack.acquired_on)}, after that day"
        found.append(asked("pack_later", what, "medicine", "Accept to keep it so, or correct the pack"))
    return found  # fmt: skip


def _changed(read: Read, change: BoxChange, usual: Boxes) -> Boxes:
    known = read.known.boxes if read.known is not None else None
    was = (
        usual
        if known is None
        else Boxes(
            known.hive_type, known.brood_boxes, known.brood_frames, known.brood_frame, known.supers,
            known.super_frames, known.excluder,
        )
    )  # fmt: skip

    return Boxes(
        change.hive_type or was.hive_type,
        was.brood_boxes if change.brood_boxes is None else change.brood_boxes,
        change.brood_frames or was.brood_frames,
        change.brood_frame or was.brood_frame,
        was.supers if change.supers is None else change.supers,
        was.super_frames,
        was.excluder if change.excluder is None else change.excluder,
    )


def _supers_off(act: OpenAct, reads: Sequence[Read], more: dict[int, int], on: date) -> list[Finding]:
    fewer = [read for read in reads if more[read.colony] < 0]
    if not fewer:
        return []
    gone = -sum(more[read.colony] for read in fewer)
    what = f"{counted(gone, 'super')} off {named(fewer)}, and no honey taken"
    mend = "Accept if they were empty; honey taken is written in Harvest or in a round"
    ones = laid(act.session)
    sites = {
        read.known.site_id for read in fewer if read.known is not None and read.known.site_id is not None
    }
    away = "Accept if they stay there. To take them away, write a take in Harvest under its licence"
    return [
        asked("supers_off", what, "supers", mend),
        *(
            asked("restricted", one.finding.what, "supers", away)
            for site in sorted(sites)
            for one in supers_by(ones, site, on)
        ),
    ]


def _against_life(act: OpenAct, row: Colony) -> list[Finding]:
    last = act.session.execute(
        select(Site.name, Site.closed_on)
        .join(Placement, Placement.site_id == Site.id)
        .where(Placement.colony_id == row.id)
        .order_by(Placement.from_at.desc())
        .limit(1)
    ).first()
    found = []
    if last is not None and last.closed_on is not None:
        mend = "Where it was found, post a round with it on a line"
        found.append(wrong(f"{last.name}, where it stood last, was given up", "mark", mend))
    if row.end_cause == "united":
        mend = "Accept if it was not, or not wholly"
        found.append(asked("united", "by the record it was united with another", "mark", mend))
    return found


def _last_mark(act: OpenAct, colony_id: int) -> str | None:
    query = (
        select(HiveMark.mark)
        .where(HiveMark.colony_id == colony_id)
        .order_by(HiveMark.from_on.desc(), HiveMark.id.desc())
    )
    return act.session.scalars(query).first()
