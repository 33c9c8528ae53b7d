"""What contradicts the record. The sheet is usually right: these are asked about and never refused."""

from __future__ import annotations

from beeledger.base.dates import long, short
from beeledger.rules.rounds.case import Case, Words
from beeledger.rules.rounds.entry import Outcome, QueenColour, QueenState

_SEEN_THERE = (Outcome.LOOKED, Outcome.NOT_OPENED)


def unknown_mark(case: Case) -> Words | None:
    """A hive whose mark no colony carries."""
    known = case.record.colony_id is not None or case.outcome is Outcome.STRANGER
    return None if known or case.outcome is None else {"mark": case.record.mark}


def stands_elsewhere(case: Case) -> Words | None:
    """Seen here, while the record has it somewhere else."""
    away = case.record.colony_id is not None and case.record.alive and not case.record.stands_here
    if not away or case.outcome in (None, Outcome.NOT_FOUND):
        return None
    return {"site": case.record.site or "elsewhere"}


def dead_on_record(case: Case) -> Words | None:
    """Looked at, while the record has it ended."""
    return {} if not case.record.alive and case.outcome in _SEEN_THERE else None


def supers_off_never_on(case: Case) -> Words | None:
    """More supers off than were on."""
    off, was = case.entry.supers_off, case.record.supers_on
    if off is None or was is None or off <= was + (case.entry.supers_on or 0):
        return None
    verb = "was" if was == 1 else "were"
    return {"off": f"{off} {'super' if off == 1 else 'supers'} off", "was": f"{was or 'none'} {verb} on"}


def queen_in_queenless(case: Case) -> Words | None:
    """A queen seen, or called right, in a hive that is queenless by the record."""
    if case.record.queen_state is not QueenState.QUEENLESS:
        return None
    if case.entry.queen_seen:
        return {"field": "queen_seen", "said": "queen seen"}
    right = case.entry.queen_state is QueenState.RIGHT
    return {"field": "queen_state", "said": "queenright"} if right else None


def other_colour(case: Case) -> Words | None:
    """Another colour on the queen than the record gives her."""
    seen, due = case.entry.queen_colour, case.record.colour
    if seen is None or due is None or seen is due or seen is QueenColour.UNMARKED:
        return None
    year = f" of {case.record.queen_year}" if case.record.queen_year is not None else ""
    return {"seen": str(seen), "due": f"{due}{year}"}


def out_never_in(case: Case) -> Words | None:
    """A medicine taken out that the record never put in."""
    out = case.entry.medicine_out is not None or case.entry.medicine_out_count is not None
    treatment = case.record.treatment
    return {} if out and (treatment is None or not treatment.in_hive) else None


def left_never_fed(case: Case) -> Words | None:
    """Feed left in a feeder that the record never filled."""
    left = case.entry.feed_left_ml or 0
    return {} if left > 0 and case.record.feed_on is False else None


def honey_under_treatment(case: Case) -> Words | None:
    """Supers taken while a medicine is in the hive or its withdrawal period runs."""
    treatment = case.record.treatment
    if treatment is None or not case.entry.supers_off or treatment.since > case.today:
        return None
    over = treatment.ends is not None and treatment.ends <= case.today and not treatment.in_hive
    if over:
        return None
    since = f"{treatment.medicine} since {short(treatment.since)}"
    free = f", honey again from {long(treatment.ends)}" if treatment.ends is not None else ""
    return {"treatment": since + free}


def honey_with_feed(case: Case) -> Words | None:
    """Supers taken from a hive that was fed with them on."""
    return {} if case.entry.supers_off and case.record.feed_on else None


def medicine_under_supers(case: Case) -> Words | None:
    """A medicine put in while supers stay on."""
    put_in = case.entry.medicine_in is not None or case.entry.medicine_in_count is not None
    left = case.supers_after
    if not put_in or left is None or left <= 0:
        return None
    return {"left": f"{left} {'super stays' if left == 1 else 'supers stay'} on"}
