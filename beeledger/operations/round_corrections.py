"""What the record was wrong about, put right in the same post: the sheet was believed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from beeledger.base.clock import local_date
from beeledger.base.errors import Refused
from beeledger.model.feeding import Feeding
from beeledger.model.medicines import Treatment
from beeledger.model.moves import Move, MoveLine
from beeledger.operations.colonies import NewColony, found, revive
from beeledger.operations.placements import chains, correct_departures, rewrite, stay_of
from beeledger.operations.round_late import strips_under, supers_added, takes_since
from beeledger.operations.round_lines import Read, finding_of, medicine_named, medicines_known
from beeledger.operations.round_work import Facts
from beeledger.rules.placements import Stay, Trip, stay_at, with_trip
from beeledger.rules.rounds.entry import Outcome

WRITTEN_LATE = "taken before the medicine was written down"
SUPERS_LATE = "put in before the supers were written down"
FOUND_HERE = "Found here at the round; nobody wrote down the move"


def correct_before(facts: Facts, reads: Sequence[Read]) -> None:
    """Found the colonies that were on no list, bring back the dead that live, move what stands here."""
    new = [read for read in reads if read.colony_id is None]
    if new:
        ids = found(facts.act, [_stranger(facts, read) for read in new])
        for read, colony_id in zip(new, ids, strict=True):
            read.colony_id = colony_id
    for read in reads:
        if "rounds.dead_on_record" in read.taken:
            revive(facts.act, read.colony, read.record.mark or None)
    _move_here(facts, [read for read in reads if _was_away(read)])


def correct_after(facts: Facts, reads: Sequence[Read]) -> None:
    """Note the medicine and the feed that must have been there for the line to be true."""
    for read in reads:
        if "rounds.left_never_fed" in read.taken:
            facts.session.add(_feed_before(facts, read))
    late = {read.colony: read for read in reads if "rounds.honey_taken_since" in read.taken}
    for row in takes_since(facts.act, list(late), facts.on):
        row.reason = late[row.colony_id or 0].line.reason or WRITTEN_LATE
    over = {read.colony: read for read in reads if "rounds.strips_since" in read.taken}
    for course in strips_under(facts.act, supers_added(over.values()), facts.on):
        course.reason = over[course.colony_id].line.reason or SUPERS_LATE
    out = [read for read in reads if "rounds.out_never_in" in read.taken]
    known = medicines_known(facts.act) if out else ()
    for read in out:
        medicine = medicine_named(known, read.entry.medicine_out)
        if medicine is not None:
            facts.session.add(
                Treatment(
                    colony_id=read.colony, medicine_id=medicine.id, in_on=facts.on, out_on=facts.on,
                    pieces=read.entry.medicine_out_count or None, in_entry_id=read.entry_id,
                    out_entry_id=read.entry_id, reason="put in before, the day is not on record",
                )
            )  # fmt: skip
    facts.session.flush()


def _stranger(facts: Facts, read: Read) -> NewColony:
    return NewColony(
        read.record.mark or None, facts.new.site_id, facts.on, how="stranger", minute=facts.minute,
        note=read.entry.note,
    )  # fmt: skip


def _was_away(read: Read) -> bool:
    if "rounds.stands_elsewhere" in read.taken:
        return read.entry.outcome is not Outcome.NOT_FOUND
    return "rounds.dead_on_record" in read.taken and not read.record.stands_here


def _move_here(facts: Facts, reads: Sequence[Read]) -> None:
    """A move of its own for what was found here, so that registers and contacts know of it."""
    if not reads:
        return
    arrived = facts.begun
    left = arrived - timedelta(minutes=1)
    zone = facts.act.clock.zone
    move = Move(
        on=local_date(left, zone), state="delivered", reason="other", left_at=left, arrived_at=arrived,
        arrived_on=facts.on, note=FOUND_HERE,
    )  # fmt: skip
    facts.session.add(move)
    facts.session.flush()
    have = {
        colony_id: [stay_of(row) for row in rows]
        for colony_id, rows in chains(facts.act, [read.colony for read in reads]).items()
    }
    wanted: dict[int, Sequence[Stay]] = {}
    for read in reads:
        chain = have[read.colony]
        stay = stay_at(chain, left)
        line = MoveLine(
            move_id=move.id, colony_id=read.colony, from_site_id=stay.site_id if stay else None,
            to_site_id=facts.new.site_id,
        )  # fmt: skip
        facts.session.add(line)
        facts.session.flush()
        trip = Trip(left, local_date(left, zone), arrived, facts.on, facts.new.site_id, move_line_id=line.id)
        wanted[read.colony] = _with_trip(read, chain, trip)
    rewrite(facts.act, wanted)
    correct_departures(facts.act, wanted.values())


def _with_trip(read: Read, chain: Sequence[Stay], trip: Trip) -> list[Stay]:
    try:
        return with_trip(chain, trip)
    except ValueError as error:
        mend = "Correct its moves first"
        raise Refused([finding_of(read, "cannot_stand_here", str(error), "outcome", mend)]) from error


def _feed_before(facts: Facts, read: Read) -> Feeding:
    """At least what was left had been given; what it was, nobody wrote down."""
    last = read.record.last_date or facts.on
    return Feeding(
        colony_id=read.colony, entry_id=read.entry_id, on=last, kind="unknown",
        volume_ml=read.entry.feed_left_ml, weight_g=None, sugar_g=None,
    )  # fmt: skip
