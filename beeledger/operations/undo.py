"""Undo: an act made of the inverse row changes, refused with the name of what stands on it.

An act can be undone while it is the last that still counts on every row it changed: later acts that were
themselves undone, and their undoing, do not count. Undoing an undo is how one redoes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, Table, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade
from beeledger.database.audit import Image, OpenAct, unpack
from beeledger.database.ledger import Ledger
from beeledger.database.schema import HEAD
from beeledger.model.acts import Act, ActImage, ActRow
from beeledger.model.base import Base, LocalDate, Moment
from beeledger.operations.act import Done, finish
from beeledger.operations.due import forget_due

Changes = dict[str, list[tuple[int, Image | None, Image | None]]]


def undo(ledger: Ledger, act_id: int) -> Done:
    """Take back act ``act_id`` by an act of its own.

    Raises Refused naming the acts that stand on it, or the constraint that would break.
    """
    with ledger.act("undo") as act:
        taken_back = act.session.get(Act, act_id)
        findings = why_not(act.session, act_id)
        if findings or taken_back is None:
            raise Refused(findings or [_refusal("no-act", "There is no such act")])
        act.session.get_one(Act, act.id).undoes_act_id = act_id
        act.session.flush()
        try:
            _apply_inverse(act, _changes(act.session, act_id))
        except IntegrityError as error:
            raise Refused(
                [_refusal("stands-on", f"Later records rest on “{taken_back.sentence}”")]
            ) from error
        return finish(act, f"Took back: {taken_back.sentence}")


def why_not(session: Session, act_id: int) -> list[Finding]:
    """What forbids undoing an act: nothing when it can be undone."""
    row = session.get(Act, act_id)
    if row is None:
        return [_refusal("no-act", "There is no such act")]
    if is_undone(session, act_id):
        return [_refusal("undone", f"“{row.sentence}” has been taken back already")]
    if row.schema != HEAD:
        return [
            _refusal(
                "other-schema", "The ledger has moved to a new version since; correct the record instead"
            )
        ]
    standing = standing_on(session, act_id)
    if not standing:
        return []
    named = "; ".join(f"“{other.sentence}” ({other.who}, {other.on:%d.%m.%Y})" for other in standing[:3])
    more = f" and {len(standing) - 3} more" if len(standing) > 3 else ""
    return [
        _refusal("stands-on", f"On it stands {named}{more}", "Take that back first, or correct the record")
    ]


def is_undone(session: Session, act_id: int) -> bool:
    """Whether an act has been taken back, and not been brought again since."""
    undoers = session.scalars(select(Act.id).where(Act.undoes_act_id == act_id)).all()
    return any(not is_undone(session, undoer) for undoer in undoers)


def standing_on(session: Session, act_id: int) -> list[Act]:
    """The later acts that still count on a row this act changed, newest first."""
    mine = ActRow.__table__.alias("mine")
    later = ActRow.__table__.alias("later")
    query = (
        select(later.c.act_id)
        .join(mine, (mine.c.table == later.c.table) & (mine.c.row_id == later.c.row_id))
        .where(mine.c.act_id == act_id, later.c.act_id > act_id)
        .distinct()
        .order_by(later.c.act_id.desc())
    )
    numbers = list(session.scalars(query))
    return [session.get_one(Act, number) for number in numbers if _counts(session, number, act_id)]


def _counts(session: Session, number: int, act_id: int) -> bool:
    """An act counts unless it was undone, or is itself the undoing of an act after ``act_id``."""
    row = session.get_one(Act, number)
    if is_undone(session, number):
        return False
    if row.undoes_act_id is None:
        return True
    return row.undoes_act_id < act_id or not is_undone(session, row.undoes_act_id)


def _changes(session: Session, act_id: int) -> Changes:
    images = session.execute(select(ActImage.table, ActImage.image).where(ActImage.act_id == act_id)).all()
    return {table: unpack(image) for table, image in images}


def _apply_inverse(act: OpenAct, changes: Changes) -> None:
    """Rows go away children first, come back parents first; what is still pointed at goes away last."""
    connection = act.session.connection()
    made = {
        table: [row_id for row_id, before, _ in rows if before is None] for table, rows in changes.items()
    }
    forget_due(act, made.get("colony", ()), made.get("site", ()))
    tables = [table for table in Base.metadata.sorted_tables if table.name in changes]
    held = _held(tables, changes)
    for table in reversed(tables):
        if table not in held:
            _take_away(act, connection, table, changes)
    for table in tables:
        for row_id, before, after in sorted(changes[table.name], key=_turn):
            if before is not None:
                values = revived(table, before) | {"version": act.id}
                _note(act, connection, table, row_id, before | {"version": act.id})
                if after is None:
                    connection.execute(table.insert().values(**values))
                else:
                    connection.execute(table.update().where(table.c.id == row_id).values(**values))
    for table in reversed(tables):
        if table in held:
            _take_away(act, connection, table, changes)
    act.session.expire_all()


def _held(tables: Sequence[Table], changes: Changes) -> set[Any]:
    """Tables whose rows something that is only changed back may still point at."""
    held: set[Any] = set()
    for table in reversed(tables):
        if table in held or any(before and after for _, before, after in changes[table.name]):
            held |= {key.column.table for key in table.foreign_keys} - {table}
    return held


def _take_away(act: OpenAct, connection: Connection, table: Table, changes: Changes) -> None:
    for row_id, before, _after in changes[table.name]:
        if before is None:
            _note(act, connection, table, row_id, None)
            connection.execute(table.delete().where(table.c.id == row_id))


def _turn(change: tuple[int, Image | None, Image | None]) -> tuple[bool, bool]:
    """What ends sooner again first, then what lasts longer again, then what comes back: none may overlap."""
    _, before, after = change
    if before is None or after is None:
        return True, True
    ends = [(before.get(name), after.get(name)) for name in ("until_at", "until_on")]
    sooner = any(was is not None and (now is None or was < now) for was, now in ends)
    return False, not sooner


def _note(act: OpenAct, connection: Connection, table: Table, row_id: int, after: Image | None) -> None:
    row = connection.execute(select(table).where(table.c.id == row_id)).mappings().first()
    act.record(table.name, row_id, None if row is None else image_of(table, row), after)


def image_of(table: Table, row: Mapping[Any, Any]) -> Image:
    """A row as its image keeps it: plain values, private columns left out."""
    private = private_columns(table)
    return {
        name: value.isoformat() if isinstance(value, (date, datetime)) else value
        for name, value in row.items()
        if name not in private
    }


def private_columns(table: Table) -> frozenset[str]:
    """The columns of a table that History never copies."""
    for mapper in Base.registry.mappers:
        if mapper.local_table is table:
            return frozenset(mapper.class_.private)
    return frozenset()


def revived(table: Table, image: Image) -> dict[str, Any]:
    """An image's values as the columns take them: dates and moments read back."""
    values: dict[str, Any] = {}
    for name, value in image.items():
        kind = table.c[name].type
        if value is not None and isinstance(kind, Moment):
            values[name] = datetime.fromisoformat(value)
        elif value is not None and isinstance(kind, LocalDate):
            values[name] = date.fromisoformat(value)
        else:
            values[name] = value
    return values


def _refusal(code: str, what: str, mend: str = "") -> Finding:
    return Finding(code, Grade.REFUSED, what, mend)


Standing = Sequence[Act]
