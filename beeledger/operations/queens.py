"""Queens: put at the head of a colony, ended, replaced."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from datetime import date

from sqlalchemy import or_, select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import Colony
from beeledger.model.queens import Queen, Tenure
from beeledger.queries.hives import marks_on

_FIRST_YEAR = 1900
MOVED_AWAY = "moved to another colony"
QUEENS_SINCE = "queen.since"
"""Asked: the record has queens coming or going after the day of an act."""
COLONY_ENDED = "colony ended"
"""Why a tenure ended with its colony: what a colony found living gets back."""


@dataclass(frozen=True, slots=True)
class NewQueen:
    """A queen as far as she is known."""

    hatch_year: int | None = None
    marked: bool | None = None
    clipped: bool | None = None
    tag: str | None = None
    line: str | None = None
    origin: str | None = None
    dam_id: int | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Reign:
    """A queen to be put at the head of a colony from a day on, by which line of a round."""

    colony_id: int
    queen: NewQueen
    from_on: date
    entry_id: int | None = None


def put_queen(
    act: OpenAct,
    colony_id: int,
    queen: NewQueen,
    on: date,
    why: str = "replaced",
    accepted: frozenset[str] = frozenset(),
) -> str:
    """Give a colony a new queen; the one it had ends that day for ``why``. ``act.result`` is her id.

    On a past day she reigns until the queen that the record has after that day, or until the end it has for
    the one she replaced; that is asked about first (``QUEENS_SINCE``).
    """
    name = check_day(act, colony_id, on)
    refuse_if(queen_findings(act, queen))
    refuse_if([] if QUEENS_SINCE in accepted else queens_since(act, [colony_id], on))
    had, until, ended = _make_room(act, colony_id, on, why)
    act.result = enthrone(act, [Reign(colony_id, queen, on)])[0]
    if until is not None:
        row = act.session.scalars(select(Tenure).where(Tenure.queen_id == act.result)).one()
        row.until_on, row.why_ended = until, ended
        new = act.session.get_one(Queen, act.result)
        new.ended_on, new.end_cause = until, ended
        act.session.flush()
    return f"{'Requeened' if had else 'Gave a queen to'} {name}, {dates.short(on)}"


def end_queen(act: OpenAct, colony_id: int, on: date, why: str) -> str:
    """Write that the queen of a colony is gone. Refused when none is on record there that day, or one came since."""
    name = check_day(act, colony_id, on)
    running = open_tenures(act, [colony_id]).get(colony_id, [])
    since = [row.from_on for row in running if row.from_on > on]
    if since:
        what = f"the queen on record came on {dates.long(max(since))}, after that day"
        raise Refused([queen_refusal(what, "on")])
    if not end_reigns(act, [colony_id], on, why):
        raise Refused([queen_refusal("no queen is on record in this colony", "queen")])
    return f"Ended the queen of {name}: {why}"


def queens_since(act: OpenAct, colony_ids: Iterable[int], on: date) -> list[Finding]:
    """What the record has of queens of these colonies after a day: one that came, or the end of one; asked about."""
    query = select(Tenure).where(
        Tenure.colony_id.in_(list(colony_ids)), or_(Tenure.from_on > on, Tenure.until_on > on)
    )
    rows = act.session.scalars(query.order_by(Tenure.from_on, Tenure.id)).all()
    if not rows:
        return []
    row = rows[0]
    name = marks_on(act.session, [row.colony_id], on).get(row.colony_id)
    said = (
        f"came on {dates.long(row.from_on)}"
        if row.from_on > on
        else f"went on {dates.long(row.until_on or on)}"
    )
    what = f"a queen of {f'hive {name}' if name else 'a hive without a number'} {said}, by the record"
    mend = "Accept to let that stand, with this before it"
    return [Finding(QUEENS_SINCE, Grade.AGAINST, what, mend, Where(field="on"))]


def _make_room(act: OpenAct, colony_id: int, on: date, why: str) -> tuple[bool, date | None, str | None]:
    """End who reigned on a day; whether there was one, and until when and why the new one then reigns."""
    rows = act.session.scalars(
        select(Tenure).where(Tenure.colony_id == colony_id).order_by(Tenure.from_on, Tenure.id)
    ).all()
    there = [row for row in rows if row.from_on <= on and (row.until_on is None or row.until_on > on)]
    later = next((row for row in rows if row.from_on > on), None)
    until = None if later is None else later.from_on
    ended = None if later is None else why
    for row in there:
        if row.until_on is not None and row.why_ended == MOVED_AWAY:
            what = f"she was carried to another hive on {dates.long(row.until_on)}"
            raise Refused([queen_refusal(what, "on")])
        if row.until_on is not None and (until is None or row.until_on <= until):
            until, ended = row.until_on, row.why_ended
        row.until_on, row.why_ended = on, why
        queen = act.session.get_one(Queen, row.queen_id)
        queen.ended_on, queen.end_cause = on, why
    act.session.flush()
    return bool(there), until, ended


def queen_findings(act: OpenAct, queen: NewQueen, queen_id: int | None = None) -> list[Finding]:
    """What cannot be true of a queen as described; ``queen_id`` when she is in the record already."""
    found = []
    if queen.hatch_year is not None and not _FIRST_YEAR <= queen.hatch_year <= act.today.year:
        found.append(queen_refusal(f"no queen of today hatched in {queen.hatch_year}", "year"))
    if queen.tag:
        holder = act.session.scalar(select(Queen.id).where(Queen.tag == queen.tag))
        if holder is not None and holder != queen_id:
            found.append(queen_refusal(f"another queen carries the tag {queen.tag}", "tag"))
    if queen.dam_id is not None:
        dam = act.session.get(Queen, queen.dam_id)
        if dam is None:
            found.append(queen_refusal("there is no such dam", "dam"))
        elif queen.hatch_year is not None and (dam.hatch_year or 0) > queen.hatch_year:
            found.append(queen_refusal(f"her dam hatched in {dam.hatch_year}, after her", "dam"))
    return found


def refuse_if(findings: Sequence[Finding]) -> None:
    """Raise Refused when anything was found."""
    if findings:
        raise Refused(findings)


def check_day(act: OpenAct, colony_id: int, on: date) -> str:
    """The hive's name in words; Refused for a day on which nothing can have been done at it."""
    colony = act.session.get(Colony, colony_id)
    if colony is None:
        raise Refused([queen_refusal("there is no such colony", "colony")])
    if on > act.today:
        raise Refused([queen_refusal(f"{dates.long(on)} has not come yet", "on")])
    if colony.ended_on is not None and colony.ended_on < on:
        raise Refused([queen_refusal("the colony had ended by then", "on")])
    if on < colony.founded_on:
        raise Refused([queen_refusal("the colony was not there yet on that day", "on")])
    mark = marks_on(act.session, [colony_id], on).get(colony_id)
    return f"hive {mark}" if mark else "a hive without a number"


def enthrone(act: OpenAct, reigns: Sequence[Reign]) -> list[int]:
    """Write queens and their tenures, in order; returns the queens' ids."""
    queens = [Queen(**asdict(reign.queen)) for reign in reigns]
    act.session.add_all(queens)
    act.session.flush()
    act.session.add_all(
        Tenure(queen_id=queen.id, colony_id=reign.colony_id, from_on=reign.from_on, entry_id=reign.entry_id)
        for queen, reign in zip(queens, reigns, strict=True)
    )
    act.session.flush()
    return [queen.id for queen in queens]


def open_tenures(act: OpenAct, colony_ids: Iterable[int]) -> dict[int, list[Tenure]]:
    """The tenures that run, by colony, newest first: mother and daughter may both be there."""
    query = (
        select(Tenure)
        .where(Tenure.colony_id.in_(list(colony_ids)), Tenure.until_on.is_(None))
        .order_by(Tenure.colony_id, Tenure.from_on.desc(), Tenure.id.desc())
    )
    found: dict[int, list[Tenure]] = {}
    for row in act.session.scalars(query):
        found.setdefault(row.colony_id, []).append(row)
    return found


def end_reigns(act: OpenAct, colony_ids: Iterable[int], on: date, why: str) -> int:
    """End every tenure that runs in these colonies, and the queens with it; returns how many."""
    rows = [row for running in open_tenures(act, colony_ids).values() for row in running]
    queens = {queen.id: queen for queen in _queens(act, [row.queen_id for row in rows])}
    for row in rows:
        row.until_on = max(on, row.from_on)
        row.why_ended = why
        queens[row.queen_id].ended_on = row.until_on
        queens[row.queen_id].end_cause = why
    act.session.flush()
    return len(rows)


def take_queen_away(act: OpenAct, colony_id: int, to_colony_id: int, on: date, entry_id: int | None) -> bool:
    """Carry the queen on record to another colony: her tenure ends here and begins there."""
    running = open_tenures(act, [colony_id]).get(colony_id)
    if not running:
        return False
    row = running[0]
    row.until_on, row.why_ended = max(on, row.from_on), MOVED_AWAY
    act.session.flush()
    act.session.add(
        Tenure(queen_id=row.queen_id, colony_id=to_colony_id, from_on=row.until_on, entry_id=entry_id)
    )
    act.session.flush()
    return True


def bring_back_reigns(act: OpenAct, colony_id: int, ended_on: date) -> None:
    """Run the tenures on that ended with a colony which turns out to live."""
    query = select(Tenure).where(
        Tenure.colony_id == colony_id, Tenure.until_on == ended_on, Tenure.why_ended == COLONY_ENDED
    )
    for row in act.session.scalars(query).all():
        row.until_on = row.why_ended = None
        queen = act.session.get_one(Queen, row.queen_id)
        queen.ended_on = queen.end_cause = None
    act.session.flush()


def _queens(act: OpenAct, ids: Sequence[int]) -> Sequence[Queen]:
    return act.session.scalars(select(Queen).where(Queen.id.in_(ids))).all() if ids else ()


def queen_refusal(what: str, field: str) -> Finding:
    """A finding that holds what was typed, beside a field of the form."""
    return Finding("queen", Grade.REFUSED, what, where=Where(field=field))
