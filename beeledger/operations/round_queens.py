"""What a round says of queens: one gone, a virgin found, one seen for the first time or by her colour."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import select

from beeledger.model.queens import Queen, Tenure
from beeledger.operations.queens import NewQueen, Reign, enthrone, open_tenures
from beeledger.operations.round_lines import Read
from beeledger.operations.round_work import Facts
from beeledger.rules.queens import Colour, marking_colour, year_of
from beeledger.rules.rounds.entry import QueenColour, QueenState

FOUND_QUEENLESS = "found queenless"
FOUND_VIRGIN = "a virgin found"
_SAYS = (QueenState.QUEENLESS, QueenState.VIRGIN)


def note_queens(facts: Facts, reads: Sequence[Read]) -> None:
    """Write queens and tenures as the lines of a round show them; what they do not show is left as it was."""
    telling = [
        read
        for read in reads
        if read.entry.queen_state in _SAYS
        or read.entry.queen_colour is not None
        or "rounds.queen_in_queenless" in read.taken
    ]
    if not telling:
        return
    running = {
        colony_id: [row for row in rows if row.from_on <= facts.on]
        for colony_id, rows in open_tenures(facts.act, [read.colony for read in telling]).items()
    }
    ids = [row.queen_id for rows in running.values() for row in rows]
    queens = {row.id: row for row in facts.session.scalars(select(Queen).where(Queen.id.in_(ids)))}
    new = []
    for read in telling:
        rows = running.get(read.colony, [])
        state = read.entry.queen_state
        if state is QueenState.QUEENLESS:
            _end(facts, rows, queens, FOUND_QUEENLESS)
        elif state is QueenState.VIRGIN:
            new += _virgin(facts, read, rows, queens)
        elif rows:
            _describe(facts, read, queens[rows[0].queen_id])
        else:
            new += _first_seen(facts, read)
    facts.session.flush()
    if new:
        enthrone(facts.act, new)


def _end(facts: Facts, rows: Sequence[Tenure], queens: dict[int, Queen], why: str) -> None:
    for row in rows:
        row.until_on, row.why_ended = facts.on, why
        queens[row.queen_id].ended_on, queens[row.queen_id].end_cause = facts.on, why


def _virgin(facts: Facts, read: Read, rows: Sequence[Tenure], queens: dict[int, Queen]) -> list[Reign]:
    """A virgin is a new queen, unless the record has this year's unmarked daughter there already."""
    if any(
        queens[row.queen_id].hatch_year == facts.on.year and not queens[row.queen_id].marked for row in rows
    ):
        return []
    _end(facts, rows, queens, FOUND_VIRGIN)
    virgin = NewQueen(hatch_year=facts.on.year, marked=False, origin=FOUND_VIRGIN)
    return [Reign(read.colony, virgin, facts.on, read.entry_id)]


def _describe(facts: Facts, read: Read, queen: Queen) -> None:
    """A colour seen completes what is known of her; against a known year only when that was accepted."""
    colour = read.entry.queen_colour
    if colour is None:
        return
    if colour is QueenColour.UNMARKED:
        if queen.marked is None:
            queen.marked = False
        return
    if queen.hatch_year is None or queen.marked is False or "rounds.other_colour" in read.taken:
        fits = queen.hatch_year is not None and marking_colour(queen.hatch_year) == Colour(colour.value)
        if not fits:
            queen.hatch_year = year_of(Colour(colour.value), facts.on)
        queen.marked = True
    elif queen.marked is None:
        queen.marked = True


def _first_seen(facts: Facts, read: Read) -> list[Reign]:
    """A queen where the record has none: the one that was thought lost, or one not known until now."""
    colour = read.entry.queen_colour
    if "rounds.queen_in_queenless" in read.taken and _thought_lost(facts, read):
        return []
    if colour is None:
        return [Reign(read.colony, NewQueen(), facts.on, read.entry_id)]
    if colour is QueenColour.UNMARKED:
        return [Reign(read.colony, NewQueen(marked=False), facts.on, read.entry_id)]
    year = year_of(Colour(colour.value), facts.on)
    known = NewQueen(hatch_year=year, marked=True, note="year by the colour seen")
    return [Reign(read.colony, known, facts.on, read.entry_id)]


def _thought_lost(facts: Facts, read: Read) -> bool:
    """Bring back the queen last found missing, unless the colour seen is another's."""
    query = (
        select(Tenure)
        .where(Tenure.colony_id == read.colony, Tenure.why_ended == FOUND_QUEENLESS)
        .order_by(Tenure.until_on.desc(), Tenure.id.desc())
    )
    row = facts.session.scalars(query).first()
    if row is None:
        return False
    queen = facts.session.get_one(Queen, row.queen_id)
    colour = read.entry.queen_colour
    if colour is not None and not _fits(queen, colour):
        return False
    row.until_on = row.why_ended = None
    queen.ended_on = queen.end_cause = None
    return True


def _fits(queen: Queen, colour: QueenColour) -> bool:
    if colour is QueenColour.UNMARKED:
        return not queen.marked
    return queen.hatch_year is None or marking_colour(queen.hatch_year) == Colour(colour.value)
