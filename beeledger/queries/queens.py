"""Queens: the list, and what the card of one shows. Each a constant number of statements."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from sqlalchemy import and_, case, func, or_, select
from sqlalchemy.orm import Session, aliased

from beeledger.model.colonies import HiveMark, Placement
from beeledger.model.honey import Take, TakeLine
from beeledger.model.medicines import MiteCount
from beeledger.model.queens import Mating, MatingDroneMother, Queen, Tenure
from beeledger.model.rounds import RoundEntry
from beeledger.model.sites import Site
from beeledger.queries.records.queens import (
    ColoniesSay,
    ColonySays,
    Headed,
    Mated,
    QueenCard,
    QueenChoices,
    QueenLine,
    QueenName,
)
from beeledger.rules.mites import infestation_hundredths
from beeledger.rules.pedigree import Descent, MatingKind
from beeledger.rules.rounds.entry import CellStage

_SAMPLED = ("wash", "roll")
_NO_CELLS = (CellStage.NONE.value, CellStage.CUPS.value)
"""Stages that are no queen cell with something in it."""

_Dam, _Mark, _DamMark, _DamTenure = aliased(Queen), aliased(HiveMark), aliased(HiveMark), aliased(Tenure)
_Stands, _MatedAt, _State = aliased(Site), aliased(Site), aliased(RoundEntry)


def list_queens(session: Session, *, living: bool = True) -> list[QueenLine]:
    """The queens that live, or those that ended, the newest first. One statement."""
    wanted = Queen.ended_on.is_(None) if living else Queen.ended_on.is_not(None)
    return _lines(session, wanted)


def queen_card(session: Session, queen_id: int) -> QueenCard | None:
    """Everything on the card of one queen; None when there is none."""
    lines = _lines(session, Queen.id == queen_id)
    if not lines:
        return None
    line = lines[0]
    sisters = queen_names(session, Queen.dam_id == line.dam_id) if line.dam_id is not None else ()
    return QueenCard(
        line,
        _tenures(session, queen_id),
        mating_of(session, queen_id),
        queen_names(session, Queen.dam_id == queen_id),
        tuple(one for one in sisters if one.queen_id != queen_id),
        _colonies_say(session, queen_id),
    )


def queen_names(session: Session, wanted: Any) -> tuple[QueenName, ...]:
    """Queens in few words, oldest first."""
    query = (
        select(
            Queen.id, Queen.tag, Queen.hatch_year, Queen.marked, Queen.line, Queen.ended_on, Queen.end_cause,
            HiveMark.mark, Tenure.colony_id, Queen.origin,
        )
        .outerjoin(Tenure, and_(Tenure.queen_id == Queen.id, Tenure.until_on.is_(None)))
        .outerjoin(HiveMark, and_(HiveMark.colony_id == Tenure.colony_id, HiveMark.until_on.is_(None)))
        .where(wanted)
        .order_by(Queen.hatch_year, Queen.tag, Queen.id)
    )  # fmt: skip
    rows: Any = session.execute(query)
    return tuple(QueenName(*row) for row in rows)


def names_by_id(session: Session, ids: Iterable[int]) -> dict[int, QueenName]:
    """The queens of these numbers in few words."""
    wanted = sorted(set(ids))
    return {one.queen_id: one for one in queen_names(session, Queen.id.in_(wanted))} if wanted else {}


def mating_of(session: Session, queen_id: int) -> Mated | None:
    """How she was mated; None when nobody wrote it down."""
    query = (
        select(Mating.id, Mating.kind, Mating.site_id, Site.name, Mating.on, Mating.note)
        .outerjoin(Site, Site.id == Mating.site_id)
        .where(Mating.queen_id == queen_id)
    )
    row = session.execute(query).first()
    if row is None:
        return None
    mothers = select(MatingDroneMother.queen_id).where(MatingDroneMother.mating_id == row.id)
    names = queen_names(session, Queen.id.in_(mothers))
    return Mated(MatingKind(row.kind), row.site_id, row.name or "", row.on, row.note, names)


def descents(session: Session, queen_ids: Sequence[int]) -> dict[int, Descent]:
    """Dam and mating of these queens. Two statements."""
    return _descents(session, Queen.id.in_(list(queen_ids))) if queen_ids else {}


def all_descents(session: Session) -> dict[int, Descent]:
    """Dam and mating of every queen of whom either is recorded. Two statements."""
    return _descents(session, or_(Queen.dam_id.is_not(None), Mating.id.is_not(None)))


def queen_choices(session: Session) -> QueenChoices:
    """Tags, numbers of living hives, sites in use and lines: what a form looks words up in."""
    tags = session.execute(select(Queen.tag, Queen.id).where(Queen.tag.is_not(None)).order_by(Queen.tag))
    marks = select(HiveMark.mark, HiveMark.colony_id).where(HiveMark.until_on.is_(None))
    lines = select(Queen.line).where(Queen.line.is_not(None)).distinct().order_by(Queen.line)
    heads = (
        select(HiveMark.mark, Tenure.queen_id)
        .join(Tenure, and_(Tenure.colony_id == HiveMark.colony_id, Tenure.until_on.is_(None)))
        .where(HiveMark.until_on.is_(None))
        .order_by(Tenure.from_on, Tenure.id)
    )
    sites = select(Site.id, Site.name).where(Site.closed_on.is_(None)).order_by(Site.name)
    return QueenChoices(
        {str(tag): number for tag, number in tags},
        dict(session.execute(marks).all()),
        dict(session.execute(heads).all()),
        tuple((number, name) for number, name in session.execute(sites)),
        tuple(line for line in session.scalars(lines) if line),
    )


def _lines(session: Session, wanted: Any) -> list[QueenLine]:
    query = (
        select(
            Queen.id, Queen.tag, Queen.hatch_year, Queen.marked, Queen.clipped, Queen.line, Queen.origin, Queen.note,
            Queen.dam_id, _Dam.tag, _Dam.hatch_year, _DamMark.mark, Mating.kind, _MatedAt.name, Mating.on,
            Tenure.colony_id, _Mark.mark, _Stands.id, _Stands.name, Tenure.from_on, _State.queen_state, _State.on,
            Queen.ended_on, Queen.end_cause,
        )
        .outerjoin(_Dam, _Dam.id == Queen.dam_id)
        .outerjoin(_DamTenure, and_(_DamTenure.queen_id == _Dam.id, _DamTenure.until_on.is_(None)))
        .outerjoin(_DamMark, and_(_DamMark.colony_id == _DamTenure.colony_id, _DamMark.until_on.is_(None)))
        .outerjoin(Mating, Mating.queen_id == Queen.id)
        .outerjoin(_MatedAt, _MatedAt.id == Mating.site_id)
        .outerjoin(Tenure, and_(Tenure.queen_id == Queen.id, Tenure.until_on.is_(None)))
        .outerjoin(_Mark, and_(_Mark.colony_id == Tenure.colony_id, _Mark.until_on.is_(None)))
        .outerjoin(Placement, and_(Placement.colony_id == Tenure.colony_id, Placement.until_at.is_(None)))
        .outerjoin(_Stands, _Stands.id == Placement.site_id)
        .outerjoin(_State, _State.id == _newest_state())
        .where(wanted)
        .order_by(Queen.hatch_year.is_(None), Queen.hatch_year.desc(), Queen.tag.is_(None), Queen.tag, Queen.id)
    )  # fmt: skip
    return [_line(*row) for row in session.connection().execute(query)]


def _newest_state() -> Any:
    entry = aliased(RoundEntry)
    return (
        select(entry.id)
        .where(
            entry.colony_id == Tenure.colony_id, entry.on >= Tenure.from_on, entry.queen_state.is_not(None)
        )
        .order_by(entry.on.desc(), entry.id.desc())
        .limit(1)
        .correlate(Tenure)
        .scalar_subquery()
    )


def _line(*row: Any) -> QueenLine:
    number, tag, year, marked, clipped, line, origin, note, dam_id, dam_tag, dam_year, dam_mark = row[:12]
    kind, mated_at, mated_on, colony, hive, site_id, site, since, state, state_on, ended_on, cause = row[12:]
    dam = QueenName(dam_id, dam_tag, dam_year, None, hive=dam_mark).words if dam_id is not None else ""
    return QueenLine(
        number, tag, year, marked, clipped, line, origin, note, dam_id, dam, MatingKind(kind) if kind else None,
        mated_at or "", mated_on, colony, hive, site_id, site or "", since, state, state_on, ended_on, cause,
    )  # fmt: skip


def _descents(session: Session, wanted: Any) -> dict[int, Descent]:
    base = select(Queen.id, Queen.dam_id, Mating.kind).outerjoin(Mating, Mating.queen_id == Queen.id)
    mothers: dict[int, list[int]] = {}
    given = (
        select(Mating.queen_id, MatingDroneMother.queen_id)
        .join(MatingDroneMother, MatingDroneMother.mating_id == Mating.id)
        .join(Queen, Queen.id == Mating.queen_id)
        .where(wanted)
        .order_by(MatingDroneMother.queen_id)
    )
    for mated, mother in session.execute(given):
        mothers.setdefault(mated, []).append(mother)
    return {
        number: Descent(dam, MatingKind(kind) if kind else None, tuple(mothers.get(number, ())))
        for number, dam, kind in session.execute(base.where(wanted))
    }


def _tenures(session: Session, queen_id: int) -> tuple[Headed, ...]:
    mark = aliased(HiveMark)
    newest = (
        select(mark.mark)
        .where(mark.colony_id == Tenure.colony_id)
        .order_by(mark.from_on.desc(), mark.id.desc())
        .limit(1)
        .correlate(Tenure)
        .scalar_subquery()
    )
    query = (
        select(Tenure.colony_id, newest, Tenure.from_on, Tenure.until_on, Tenure.why_ended)
        .where(Tenure.queen_id == queen_id)
        .order_by(Tenure.from_on, Tenure.id)
    )
    return tuple(Headed(*row) for row in session.execute(query))


def _while_she_reigned(queen_id: int, colony: Any, on: Any) -> Any:
    """Rows of her colonies on days when she headed them; the day she left is the next one's."""
    ruled = (Tenure.colony_id == colony) & (on >= Tenure.from_on)
    until = or_(Tenure.until_on.is_(None), on < Tenure.until_on)
    return select(Tenure.id).where(Tenure.queen_id == queen_id, ruled, until).exists()


def _colonies_say(session: Session, queen_id: int) -> ColoniesSay:
    entries = select(
        func.count(RoundEntry.temper), func.sum(RoundEntry.temper),
        func.count(RoundEntry.brood_tenths), func.sum(RoundEntry.brood_tenths),
        func.count(RoundEntry.cells_stage),
        func.count(case((RoundEntry.cells_stage.not_in(_NO_CELLS), 1))),
    ).where(
        RoundEntry.colony_id.in_(_her_colonies(queen_id)),
        _while_she_reigned(queen_id, RoundEntry.colony_id, RoundEntry.on),
    )  # fmt: skip
    tempers, temper, broods, brood, looks, celled = session.execute(entries).one()
    grams, estimated, supers, takes = _honey(session, queen_id)
    return ColoniesSay(
        _mean(temper, tempers), _mean(brood, broods), _mites(session, queen_id), _mean(celled, looks),
        int(grams) if grams is not None and estimated else None, int(supers or 0), takes,
    )  # fmt: skip


def _her_colonies(queen_id: int) -> Any:
    return select(Tenure.colony_id).where(Tenure.queen_id == queen_id)


def _honey(session: Session, queen_id: int) -> tuple[int | None, int, int | None, int]:
    query = (
        select(
            func.sum(TakeLine.estimate_g), func.count(TakeLine.estimate_g), func.sum(TakeLine.supers),
            func.count(TakeLine.id),
        )
        .join(Take, Take.id == TakeLine.take_id)
        .where(
            TakeLine.colony_id.in_(_her_colonies(queen_id)),
            _while_she_reigned(queen_id, TakeLine.colony_id, Take.on),
        )
    )  # fmt: skip
    grams, estimated, supers, takes = session.execute(query).one()
    return grams, estimated, supers, takes


def _mites(session: Session, queen_id: int) -> ColonySays:
    query = select(MiteCount.mites, MiteCount.bees).where(
        MiteCount.colony_id.in_(_her_colonies(queen_id)),
        MiteCount.method.in_(_SAMPLED),
        _while_she_reigned(queen_id, MiteCount.colony_id, MiteCount.on),
    )
    shares = [infestation_hundredths(mites, bees) for mites, bees in session.execute(query)]
    return _mean(sum(shares), len(shares))


def _mean(total: int | None, count: int) -> ColonySays:
    return ColonySays(float(total) / count, count) if count and total is not None else ColonySays()
