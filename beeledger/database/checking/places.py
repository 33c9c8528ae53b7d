"""One place at a time, moves from where the colony was, one hive number on one living hive."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import groupby, pairwise

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.dates import long
from beeledger.base.findings import Finding
from beeledger.database.checking.breach import among, breach
from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.moves import Move, MoveLine
from beeledger.rules.placements import Stay, check_chain


def one_place(session: Session, only: Collection[int] | None = None) -> Iterator[Finding]:
    """No gap and no overlap in a colony's life; the living stand somewhere, the ended nowhere."""
    colonies = among(select(Colony.id, Colony.ended_on), Colony.id, only)
    alive = {number: ended is None for number, ended in session.execute(colonies)}
    columns = (
        Placement.colony_id, Placement.place, Placement.from_at, Placement.from_on, Placement.until_at, Placement.until_on
    )  # fmt: skip
    query = select(*columns).order_by(Placement.colony_id, Placement.from_at)
    chains: dict[int, list[Stay]] = {number: [] for number in alive}
    for colony, place, from_at, from_on, until_at, until_on in session.execute(
        among(query, Placement.colony_id, only)
    ):
        chains.setdefault(colony, []).append(Stay(place, from_at, from_on, until_at, until_on))
    for colony, chain in chains.items():
        for found in check_chain(chain, alive=alive.get(colony, False)):
            yield breach("one-place", found.what, f"colony {colony}")


def left_from_where_it_was(session: Session, only: Collection[int] | None = None) -> Iterator[Finding]:
    """The site a move's line says it left is where the colony stood just before, and the trip is in its chain."""
    yield from _never_carried(session, only)
    before: dict[int, int | None] = {}
    query = select(Placement.colony_id, Placement.site_id, Placement.place, Placement.move_line_id).order_by(
        Placement.colony_id, Placement.from_at
    )
    lines = among(select(MoveLine.id, MoveLine.from_site_id), MoveLine.colony_id, only)
    said: dict[int, int | None] = dict(session.execute(lines).all())
    last_site: dict[int, int | None] = {}
    for colony, site, _place, line in session.execute(among(query, Placement.colony_id, only)):
        if line is not None and line not in before:
            before[line] = last_site.get(colony)
            if said.get(line) is not None and said[line] != before[line]:
                yield breach("left-from", "it was moved out of a site where it was not", f"move line {line}")
        if site is not None:
            last_site[colony] = site


def _never_carried(session: Session, only: Collection[int] | None) -> Iterator[Finding]:
    query = (
        select(MoveLine.id)
        .join(Move, Move.id == MoveLine.move_id)
        .outerjoin(Placement, Placement.move_line_id == MoveLine.id)
        .where(Move.state != "planned", MoveLine.outcome != "left behind", Placement.id.is_(None))
    )
    for (line,) in session.execute(among(query, MoveLine.colony_id, only)):
        yield breach(
            "left-from", "a hive is said to be carried that stood nowhere by it", f"move line {line}"
        )


def one_mark(session: Session) -> Iterator[Finding]:
    """The days of one hive number on different colonies do not overlap (they may touch)."""
    query = select(HiveMark.mark, HiveMark.from_on, HiveMark.until_on, HiveMark.id).order_by(
        HiveMark.mark, HiveMark.from_on, HiveMark.id
    )
    for mark, rows in groupby(session.execute(query), key=lambda row: row[0]):
        for (_, _, until, _), (_, start, _, number) in pairwise(list(rows)):
            if until is None or until > start:
                yield breach(
                    "marks", f"the number {mark} was on two hives at {long(start)}", f"hive mark {number}"
                )
