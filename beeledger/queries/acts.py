"""History: the acts, newest first, paged by their number, and what each changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import Session, aliased

from beeledger.database.audit import unpack
from beeledger.model.acts import Act, ActImage, ActRow

PAGE = 400


@dataclass(frozen=True, slots=True)
class ActLine:
    """One line of History."""

    id: int
    kind: str
    sentence: str
    who: str
    desk: str
    at: datetime
    on: date
    zone: str
    taken_back_by: int | None
    undoes: int | None


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field of one row, before and after; None is not there."""

    field: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class RowChange:
    """One row an act changed: "added", "changed" or "removed", and its fields."""

    table: str
    row_id: int
    how: str
    fields: tuple[FieldChange, ...]


def acts(session: Session, words: str = "", before: int | None = None, limit: int = PAGE) -> list[ActLine]:
    """Acts, newest first, from below number ``before``; with ``words`` in their sentence, kind or who."""
    undoer = aliased(Act)
    taken_back = select(undoer.id).where(undoer.undoes_act_id == Act.id).order_by(undoer.id.desc()).limit(1)
    query = select(Act, taken_back.scalar_subquery()).order_by(Act.id.desc()).limit(limit)
    if before is not None:
        query = query.where(Act.id < before)
    if words.strip():
        part = f"%{words.strip()}%"
        query = query.where(or_(Act.sentence.ilike(part), Act.who.ilike(part), Act.kind.ilike(part)))
    return [
        ActLine(
            row.id,
            row.kind,
            row.sentence,
            row.who,
            row.desk,
            row.at,
            row.on,
            row.zone,
            back,
            row.undoes_act_id,
        )
        for row, back in session.execute(query)
    ]


def acts_of_row(session: Session, table: str, row_id: int) -> list[ActLine]:
    """Every act that touched one row, newest first."""
    query = (
        select(Act)
        .join(ActRow, ActRow.act_id == Act.id)
        .where(ActRow.table == table, ActRow.row_id == row_id)
        .order_by(Act.id.desc())
    )
    return [
        ActLine(
            row.id,
            row.kind,
            row.sentence,
            row.who,
            row.desk,
            row.at,
            row.on,
            row.zone,
            None,
            row.undoes_act_id,
        )
        for row in session.scalars(query)
    ]


def changes_of(session: Session, act_id: int, limit: int = 200) -> tuple[int, list[RowChange]]:
    """How many rows an act changed, and the first ``limit`` of them field by field."""
    images = session.execute(
        select(ActImage.table, ActImage.image).where(ActImage.act_id == act_id).order_by(ActImage.table)
    )
    changed = [(table, *change) for table, image in images for change in unpack(image)]
    return len(changed), [_row_change(*change) for change in changed[:limit]]


def _row_change(
    table: str, row_id: int, before: Mapping[str, Any] | None, after: Mapping[str, Any] | None
) -> RowChange:
    how = "added" if before is None else "removed" if after is None else "changed"
    names = [name for name in (after or before or {}) if name not in ("id", "version")]
    fields = tuple(
        FieldChange(name, _text(before, name), _text(after, name))
        for name in names
        if _text(before, name) != _text(after, name)
    )
    return RowChange(table, row_id, how, fields)


def _text(image: Mapping[str, Any] | None, name: str) -> str | None:
    value = None if image is None else image.get(name)
    return None if value is None else str(value)
