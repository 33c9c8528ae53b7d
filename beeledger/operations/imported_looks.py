"""Old looks and queens of a spreadsheet, set beside the ledger and written by the ordinary rules."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import select

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded
from beeledger.database.audit import OpenAct
from beeledger.model.acts import Act
from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.queens import Queen
from beeledger.operations.queens import NewQueen, open_tenures, put_queen
from beeledger.operations.round_lines import Line, RoundToPost, sort_lines
from beeledger.operations.rounds import post_round
from beeledger.queries.hives import stood_on
from beeledger.rules.rounds.entry import Entry

NOWHERE = Where()


@dataclass(frozen=True, slots=True)
class ComingLook:
    """An old look; a blank ``site`` is wherever the hive stood that day."""

    mark: str
    site: str
    on: date
    entry: Entry
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class ComingQueen:
    """A queen by her hive; without a day she is put in on the day of the import."""

    mark: str
    site: str
    queen: NewQueen
    on: date | None = None
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class Known:
    """The colony of a mark, and whether this import made it."""

    colony_id: int
    new: bool


def post_looks(
    act: OpenAct, file: str, looks: Sequence[tuple[ComingLook, Known]], sites: Mapping[str, int]
) -> tuple[int, list[Finding]]:
    """Post looks as rounds, one a site and day, in the order of days; how many, and what had to be left out.

    A hive that this import made goes where its looks have it. Of a hive that was in the ledger before, what
    is against the record is left out and asked about.
    """
    left: list[Finding] = []
    by_day: dict[tuple[date, int], list[tuple[ComingLook, Known]]] = {}
    for look, known in looks:
        early = _before_founding(act, look, known)
        site_id = sites.get(folded(look.site)) if look.site else _stood(act, known.colony_id, look.on)
        if early or site_id is None:
            left.append(early or _left(look.where, "no-place", f"where hive {look.mark} stood is not known"))
        else:
            by_day.setdefault((look.on, site_id), []).append((look, known))
    posted = 0
    for (on, site_id), lines in sorted(by_day.items(), key=lambda pair: pair[0]):
        posted += _post(act, file, on, site_id, lines, left)
    return posted, left


def _stood(act: OpenAct, colony_id: int, on: date) -> int | None:
    query = select(Placement.site_id).where(Placement.colony_id == colony_id, *stood_on(on))
    return act.session.scalars(query.order_by(Placement.from_on.desc())).first()


def _before_founding(act: OpenAct, look: ComingLook, known: Known) -> Finding | None:
    colony = act.session.get_one(Colony, known.colony_id)
    if colony.founded_on <= look.on:
        return None
    what = f"hive {look.mark} came into the ledger on {dates.long(colony.founded_on)}, after this look"
    return _left(look.where, "before-founding", what, "Is it another hive that had this number?")


def _post(
    act: OpenAct,
    file: str,
    on: date,
    site_id: int,
    lines: list[tuple[ComingLook, Known]],
    left: list[Finding],
) -> int:
    own = uuid.UUID(act.session.get_one(Act, act.id).uid)
    new = RoundToPost(
        str(uuid.uuid5(own, f"look {site_id} {on}")), site_id, on,
        tuple(Line(look.entry, known.colony_id) for look, known in lines), note=file, source="import",
        questions_too=True,
    )  # fmt: skip
    found = [one for one in sort_lines(act, new).findings if one.grade in (Grade.REFUSED, Grade.AGAINST)]
    held: dict[int, Finding] = {}
    for one in found:
        row = one.where.row or 1
        if one.grade is Grade.REFUSED or not lines[row - 1][1].new:
            held.setdefault(
                row,
                _left(
                    lines[row - 1][0].where, "look", f"hive {lines[row - 1][0].mark}: {one.what}", one.mend
                ),
            )
    left += held.values()
    accepted = frozenset(one.code for one in found)
    kept = tuple(
        replace(line, accepted=accepted, reason=f"as {file} has it" if accepted else None)
        for row, line in enumerate(new.lines, start=1)
        if row not in held
    )
    if not kept:
        return 0
    try:
        post_round(act, replace(new, lines=kept))
    except Refused as refused:
        wheres = [look.where for row, (look, _) in enumerate(lines, start=1) if row not in held]
        raise Refused(
            [replace(one, where=wheres[(one.where.row or 1) - 1]) for one in refused.findings]
        ) from refused
    return len(kept)


def put_queens(act: OpenAct, queens: Sequence[tuple[ComingQueen, Known]]) -> tuple[int, list[Finding]]:
    """Queens at the head of their colonies, where the record has none or one of whom it knows nothing."""
    tenures = open_tenures(act, [known.colony_id for _, known in queens])
    put, left = 0, []
    for coming, known in queens:
        heads = tenures.get(known.colony_id, [])
        try:
            if not heads:
                put_queen(act, known.colony_id, coming.queen, coming.on or act.today)
                put += 1
            else:
                queen = act.session.get_one(Queen, heads[-1].queen_id)
                if (against := _other_queen(queen, coming)) is not None:
                    left.append(against)
                else:
                    put += _fill(queen, coming.queen)
        except Refused as refused:
            left += [_left(coming.where, "queen", one.what, one.mend) for one in refused.findings]
    act.session.flush()
    return put, left


def _other_queen(queen: Queen, coming: ComingQueen) -> Finding | None:
    year = coming.queen.hatch_year
    if None in (year, queen.hatch_year) or year == queen.hatch_year:
        return None
    what = f"hive {coming.mark} has a queen of {queen.hatch_year} by the record, not of {year}"
    return _left(coming.where, "other-queen", what, "Requeen the hive by hand if the list is right")


def _fill(queen: Queen, said: NewQueen) -> bool:
    """What the record does not know of her yet; whether anything was new."""
    new = False
    for name in ("hatch_year", "marked", "clipped", "line", "note"):
        if getattr(queen, name) is None and getattr(said, name) is not None:
            setattr(queen, name, getattr(said, name))
            new = True
    return new


def _left(where: Where, code: str, what: str, mend: str = "") -> Finding:
    return Finding(f"import.{code}", Grade.REFUSED, what, mend, where)


def known_marks(
    act: OpenAct, marks: Sequence[str], made: Mapping[str, int], used: Mapping[str, int]
) -> dict[str, Known]:
    """The colony of each mark: of this import, else of a living hive, else of the last that bore it."""
    query = (
        select(HiveMark.mark, HiveMark.colony_id).where(HiveMark.mark.in_(marks)).order_by(HiveMark.from_on)
    )
    gone = {row.mark: row.colony_id for row in act.session.execute(query)}
    found = {mark: Known(colony, new=False) for mark, colony in {**gone, **used}.items()}
    return found | {mark: Known(colony, new=True) for mark, colony in made.items()}
