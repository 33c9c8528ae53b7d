"""Where colonies stand, written.

Placements change only by founding, import, move, split, unite, end and their corrections; all of them go
through here.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from sqlalchemy import select

from beeledger.database.audit import OpenAct
from beeledger.model.colonies import Placement
from beeledger.model.moves import MoveLine
from beeledger.queries.move_facts import from_sites_said
from beeledger.rules.journeys import contradicted
from beeledger.rules.placements import Stay, ended

_FIELDS = ("place", "site_id", "set_down_id", "vehicle_id", "stand", "until_at", "until_on", "move_line_id")


def stay_of(row: Placement) -> Stay:
    """A placement as the rules know it."""
    return Stay(
        row.place, row.from_at, row.from_on, row.until_at, row.until_on, row.site_id, row.set_down_id,
        row.vehicle_id, row.stand, row.move_line_id,
    )  # fmt: skip


def chains(act: OpenAct, colony_ids: Iterable[int]) -> dict[int, list[Placement]]:
    """The placements of several colonies in order, by one query."""
    wanted = list(colony_ids)
    found: dict[int, list[Placement]] = {colony_id: [] for colony_id in wanted}
    query = (
        select(Placement)
        .where(Placement.colony_id.in_(wanted))
        .order_by(Placement.colony_id, Placement.from_at)
    )
    for row in act.session.scalars(query):
        found[row.colony_id].append(row)
    return found


def place(
    act: OpenAct,
    colony_id: int,
    site_id: int,
    at: datetime,
    on: date,
    *,
    stand: int | None = None,
    set_down_id: int | None = None,
) -> None:
    """The first placement of a colony: at a site from a moment on."""
    act.session.add(
        Placement(
            colony_id=colony_id,
            place="site",
            site_id=site_id,
            set_down_id=set_down_id,
            stand=stand,
            from_at=at,
            from_on=on,
        )
    )


def rewrite(act: OpenAct, wanted: dict[int, Sequence[Stay]]) -> None:
    """Make each colony's placements be the chain given. Rows that stay as they are are not touched.

    The order matters to the database, which lets no two placements overlap at any time: what goes is
    taken away first, then stays are shortened, then lengthened, then new ones put in.
    """
    have = chains(act, wanted)
    changes = [_difference(have[colony_id], chain) for colony_id, chain in wanted.items()]
    for gone, _, _ in changes:
        for row in gone:
            act.session.delete(row)
    act.session.flush()
    for shorter in (True, False):
        for _, kept, _ in changes:
            _update([(row, stay) for row, stay in kept if _shortens(row, stay) is shorter])
        act.session.flush()
    for colony_id, (_, _, new) in zip(wanted, changes, strict=True):
        for stay in new:
            act.session.add(_row(colony_id, stay))
    act.session.flush()


def end_stays(act: OpenAct, colony_ids: Sequence[int], at: datetime, on: date) -> None:
    """Close the chains of colonies that ended."""
    have = chains(act, colony_ids)
    rewrite(
        act, {colony_id: ended([stay_of(row) for row in rows], at, on) for colony_id, rows in have.items()}
    )


def correct_departures(act: OpenAct, wanted: Iterable[Sequence[Stay]]) -> None:
    """Later moves left from where the colony now stood before them; asked about and accepted by then."""
    every = list(wanted)
    said = from_sites_said(act.session, every)
    for chain in every:
        for line_id, site_id in contradicted(chain, said).items():
            act.session.get_one(MoveLine, line_id).from_site_id = site_id
    act.session.flush()


def _difference(
    rows: Sequence[Placement], chain: Sequence[Stay]
) -> tuple[list[Placement], list[tuple[Placement, Stay]], list[Stay]]:
    by_start = {row.from_at: row for row in rows}
    kept = [(by_start.pop(stay.from_at), stay) for stay in chain if stay.from_at in by_start]
    starts = {row.from_at for row, _ in kept}
    return list(by_start.values()), kept, [stay for stay in chain if stay.from_at not in starts]


def _shortens(row: Placement, stay: Stay) -> bool:
    if stay.until_at is None:
        return False
    return row.until_at is None or stay.until_at < row.until_at


def _update(pairs: Iterable[tuple[Placement, Stay]]) -> None:
    for row, stay in pairs:
        for field in _FIELDS:
            if getattr(row, field) != getattr(stay, field):
                setattr(row, field, getattr(stay, field))


def _row(colony_id: int, stay: Stay) -> Placement:
    return Placement(
        colony_id=colony_id, place=stay.place, from_at=stay.from_at, from_on=stay.from_on, until_at=stay.until_at,
        until_on=stay.until_on, site_id=stay.site_id, set_down_id=stay.set_down_id, vehicle_id=stay.vehicle_id,
        stand=stay.stand, move_line_id=stay.move_line_id,
    )  # fmt: skip
