"""History: the acts, newest first, paged by their number, and what each changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, Select, exists, or_, select
from sqlalchemy.orm import Session

from beeledger.database.audit import unpack
from beeledger.model.acts import Act, ActImage, ActRow
from beeledger.queries.row_names import Reference, names_of, references

PAGE = 400
LOOK_BACK = 500
"""How many acts of other desks are passed over to find this desk's last."""


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
    """The act that took it back, where that one still counts."""
    undoes: int | None


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field of one row, before and after; None is blank. A row it points at is named in words."""

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
    name: str = ""
    """What the row is called, where it has a name of its own."""


def acts(session: Session, words: str = "", before: int | None = None, limit: int = PAGE) -> list[ActLine]:
    """Acts, newest first, from below number ``before``; with ``words`` in sentence, kind, who or desk.

    ``words`` that are a number also find the act of that number.
    """
    query = select(Act).order_by(Act.id.desc()).limit(limit)
    if before is not None:
        query = query.where(Act.id < before)
    if words.strip():
        query = query.where(_fits(words.strip()))
    return _lines(session, query)


def acts_of_row(session: Session, table: str, row_id: int) -> list[ActLine]:
    """Every act that touched one row, newest first."""
    query = (
        select(Act)
        .join(ActRow, ActRow.act_id == Act.id)
        .where(ActRow.table == table, ActRow.row_id == row_id)
        .order_by(Act.id.desc())
    )
    return _lines(session, query)


def last_act_of(session: Session, desk: str) -> ActLine | None:
    """What this desk did last, if that is not long ago: one of the newest ``LOOK_BACK`` acts.

    An act that left no row changed (what is due, worked out again) is nobody's to take back.
    """
    newest = select(Act.id).order_by(Act.id.desc()).limit(LOOK_BACK).subquery()
    query = (
        select(Act)
        .where(Act.id.in_(select(newest.c.id)), Act.desk == desk, exists().where(ActRow.act_id == Act.id))
        .order_by(Act.id.desc())
        .limit(1)
    )
    return next(iter(_lines(session, query)), None)


def taken_back(session: Session, ids: Iterable[int]) -> dict[int, int]:
    """Of these acts, those that stand taken back, with the act that did it.

    An undoing that was itself undone does not count. One query for each step of undoing the undone.
    """
    asked = set(ids)
    undoers: dict[int, list[int]] = {}
    level = asked
    while level:
        rows = session.execute(select(Act.undoes_act_id, Act.id).where(Act.undoes_act_id.in_(level))).all()
        for undone, undoer in rows:
            undoers.setdefault(undone or 0, []).append(undoer)
        level = {undoer for _undone, undoer in rows}

    def counts(number: int) -> bool:
        return not any(counts(undoer) for undoer in undoers.get(number, ()))

    found = {number: [one for one in undoers.get(number, ()) if counts(one)] for number in asked}
    return {number: max(by) for number, by in found.items() if by}


def changes_of(session: Session, act_id: int, limit: int = 200) -> tuple[int, list[RowChange]]:
    """How many rows an act changed, and the first ``limit`` of them field by field, in words."""
    images = session.execute(
        select(ActImage.table, ActImage.image).where(ActImage.act_id == act_id).order_by(ActImage.table)
    )
    changed = [(table, *change) for table, image in images for change in unpack(image)]
    shown = changed[:limit]
    names = names_of(session, _pointed_at(shown))
    return len(changed), [_row_change(names, *change) for change in shown]


_Image = Mapping[str, Any] | None
_Change = tuple[str, int, _Image, _Image]


def _lines(session: Session, query: Select[Act]) -> list[ActLine]:
    rows = list(session.scalars(query))
    back = taken_back(session, [row.id for row in rows])
    return [
        ActLine(
            row.id, row.kind, row.sentence, row.who, row.desk, row.at, row.on, row.zone, back.get(row.id), row.undoes_act_id
        )
        for row in rows
    ]  # fmt: skip


def _fits(words: str) -> ColumnElement[bool]:
    safe = words.replace("\\", "\\\\").replace("%", r"\%").replace("_", r"\_")
    part = f"%{safe}%"
    kind = f"%{safe.replace(' ', chr(92) + '_')}%"
    texts: list[ColumnElement[bool]] = [
        column.ilike(part, escape="\\") for column in (Act.sentence, Act.who, Act.desk)
    ]
    texts.append(Act.kind.ilike(kind, escape="\\"))
    number = words.replace(",", "")
    if number.isdecimal() and len(number) < 12:
        texts.append(Act.id == int(number))
    return or_(*texts)


def _pointed_at(changes: Iterable[_Change]) -> set[Reference]:
    wanted: set[Reference] = set()
    for table, row_id, before, after in changes:
        wanted.add((table, row_id))
        for name, target in references(table).items():
            wanted |= {(target, image[name]) for image in (before, after) if image and image.get(name)}
    return wanted


def _row_change(
    names: Mapping[Reference, str], table: str, row_id: int, before: _Image, after: _Image
) -> RowChange:
    how = "added" if before is None else "removed" if after is None else "changed"
    points = references(table)

    def text(image: _Image, name: str) -> str | None:
        value = None if image is None else image.get(name)
        if value is None:
            return None
        return names.get((points.get(name, ""), value), str(value)) if name in points else str(value)

    fields = tuple(
        FieldChange(name, text(before, name), text(after, name))
        for name in (after or before or {})
        if name not in ("id", "version") and (before or {}).get(name) != (after or {}).get(name)
    )
    return RowChange(table, row_id, how, fields, names.get((table, row_id), ""))
