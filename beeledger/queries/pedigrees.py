"""Pedigrees as they are drawn, and the grafts queens are raised from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.dates import short
from beeledger.base.text import listed
from beeledger.model.colonies import HiveMark
from beeledger.model.queens import GraftBatch, Queen, Tenure
from beeledger.queries.queens import descents, mating_of, names_by_id
from beeledger.queries.records.pedigree import Pedigree
from beeledger.queries.records.queens import MATING_WORDS, Graft, Mated, QueenName
from beeledger.rules.pedigree import GENERATIONS, Descent, on_both_sides, pedigree, wanted_next


def pedigree_of(session: Session, queen_id: int, generations: int = GENERATIONS) -> Pedigree | None:
    """The pedigree of a queen; None when there is none. A number of statements that grows with the generations only."""
    known = _known_above(session, queen_id, generations)
    boxes = pedigree(queen_id, known, generations)
    names = names_by_id(session, (number for box in boxes for number in box.queen_ids))
    if queen_id not in names:
        return None
    mated = mating_of(session, queen_id)
    words = mated_words(mated) if mated else ""
    how = mated_words(replace(mated, site="", on=None)) if mated else ""
    return Pedigree(names[queen_id], generations, boxes, names, on_both_sides(boxes), words, how)


def mated_words(mated: Mated) -> str:
    """How a queen was mated, in a line: "open, Quarry Piece, 12 Jun 2025"."""
    who = MATING_WORDS[mated.kind]
    if mated.drone_mothers:
        one = "drone" if mated.kind == "single" else "drones"
        who = f"{one} of {listed([mother.words for mother in mated.drone_mothers])}"
    when = f"{short(mated.on)} {mated.on.year}" if mated.on else ""
    return ", ".join(part for part in (who, mated.site, when) if part)


def list_grafts(session: Session, graft_id: int | None = None) -> list[Graft]:
    """Every graft, the newest first. Two statements."""
    query = (
        select(
            GraftBatch.id, GraftBatch.on, GraftBatch.dam_id, GraftBatch.finisher_id, HiveMark.mark,
            GraftBatch.grafted, GraftBatch.taken, GraftBatch.sealed, GraftBatch.emerged, GraftBatch.mated,
            GraftBatch.note,
        )
        .outerjoin(
            HiveMark, (HiveMark.colony_id == GraftBatch.finisher_id) & HiveMark.until_on.is_(None)
        )
        .order_by(GraftBatch.on.desc(), GraftBatch.id.desc())
    )  # fmt: skip
    rows = session.execute(query if graft_id is None else query.where(GraftBatch.id == graft_id)).all()
    dams = names_by_id(session, (row.dam_id for row in rows))
    return [Graft(row.id, row.on, dams[row.dam_id], *row[3:]) for row in rows]


def pedigree_subjects(session: Session, most: int | None = None) -> list[tuple[int, str]]:
    """Queens by number and tag or other words: those with a dam first, then those with a tag, the newest first."""
    query = (
        select(Queen.id, Queen.tag, Queen.hatch_year, HiveMark.mark)
        .outerjoin(Tenure, (Tenure.queen_id == Queen.id) & Tenure.until_on.is_(None))
        .outerjoin(HiveMark, (HiveMark.colony_id == Tenure.colony_id) & HiveMark.until_on.is_(None))
        .order_by(
            Queen.dam_id.is_(None), Queen.tag.is_(None), Queen.hatch_year.is_(None), Queen.hatch_year.desc(), Queen.id
        )
        .limit(most)
    )  # fmt: skip
    rows: Any = session.execute(query)
    return [(number, QueenName(number, tag, year, None, hive=hive).words) for number, tag, year, hive in rows]


def _known_above(session: Session, queen_id: int, generations: int) -> Mapping[int, Descent]:
    """The descents that the boxes of these generations are made from, column by column."""
    known: dict[int, Descent] = {}
    for column in range(generations):
        wanted = wanted_next(pedigree(queen_id, known, column))
        found = descents(session, [number for number in wanted if number not in known])
        known |= found
        dams = [one.dam_id for one in found.values() if one.dam_id is not None and one.dam_id not in known]
        known |= descents(session, dams)
    return known
