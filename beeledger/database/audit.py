"""The audit: no write without an open act, and every change of a row kept before and after.

The session refuses to flush unless an act is open, stamps every changed row with the act's number
and collects images; ``close_act`` writes them. Rows of tables that are not audited (what is due)
pass unrecorded; columns that identify a private person are never copied.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import TextClause, event, insert, inspect, select
from sqlalchemy.orm import LoaderCallableStatus, ORMExecuteState, Session, UOWTransaction

from beeledger.base.clock import Clock
from beeledger.model.acts import ActImage, ActRow
from beeledger.model.base import Base

Image = dict[str, Any]
_COLONY_COLUMNS = ("colony_id", "from_colony_id", "to_colony_id", "finisher_id")


@dataclass(slots=True)
class OpenAct:
    """One transaction of a person: what operations are given to write with.

    ``colonies`` gathers every colony the act touched, so that what is due can be rebuilt;
    ``result`` is what the caller of the act wants back (new ids).
    """

    session: Session
    clock: Clock
    id: int
    kind: str
    who: str
    desk: str
    images: dict[str, dict[int, list[Image | None]]] = field(default_factory=dict)
    colonies: set[int] = field(default_factory=set)
    touched: set[str] = field(default_factory=set)
    result: Any = None

    @property
    def today(self) -> date:
        """The farm's local date."""
        return self.clock.today()

    def record(self, table: str, row_id: int, before: Image | None, after: Image | None) -> None:
        """Keep one change; later changes of the same row keep the first "before"."""
        rows = self.images.setdefault(table, {})
        kept = rows.get(row_id)
        if kept is None:
            rows[row_id] = [before, after]
        else:
            kept[1] = after
        self.touched.add(table)
        self.colonies |= colonies_in(table, row_id, before) | colonies_in(table, row_id, after)


def colonies_in(table: str, row_id: int, image: Image | None) -> set[int]:
    """The colonies that a row is of, or is itself."""
    if image is None:
        return set()
    found = {image[column] for column in _COLONY_COLUMNS if image.get(column) is not None}
    return found | {row_id} if table == "colony" else found


def open_act_of(session: Session) -> OpenAct | None:
    """The act open on this session, if any."""
    act = session.info.get("act")
    return act if isinstance(act, OpenAct) else None


_COLUMNS: dict[type[Base], tuple[str, ...]] = {}


def columns_of(model: type[Base]) -> tuple[str, ...]:
    """The audited attribute names of a table: all but the private ones."""
    known = _COLUMNS.get(model)
    if known is None:
        known = _COLUMNS[model] = tuple(
            attr.key for attr in inspect(model).column_attrs if attr.key not in model.private
        )
    return known


def plain(value: Any) -> Any:
    """A column's value as JSON can hold it, and as the database will give it back: moments in UTC to the second."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).replace(microsecond=0).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    return value


def pack(rows: Mapping[int, list[Image | None]]) -> bytes:
    """Compress the images of one table: a list of [id, before, after]."""
    text = json.dumps(
        [[row_id, *pair] for row_id, pair in rows.items()], separators=(",", ":"), ensure_ascii=False
    )
    return zlib.compress(text.encode(), 1)


def unpack(image: bytes) -> list[tuple[int, Image | None, Image | None]]:
    """The images of one table of one act, as ``pack`` was given them."""
    return [(row_id, before, after) for row_id, before, after in json.loads(zlib.decompress(image))]


def write_images(act: OpenAct) -> None:
    """Write what the act collected, in two statements."""
    images = [
        {"act_id": act.id, "table": table, "image": pack(rows)}
        for table, rows in sorted(act.images.items())
        if rows
    ]
    rows = [
        {"table": table, "row_id": row_id, "act_id": act.id}
        for table, changed in sorted(act.images.items())
        for row_id in changed
    ]
    connection = act.session.connection()
    if images:
        connection.execute(insert(ActImage), images)
        connection.execute(insert(ActRow), rows)


def watch(session: Session) -> None:
    """Put the audit on a session."""
    event.listen(session, "before_flush", _before_flush)
    event.listen(session, "after_flush", _after_flush)
    event.listen(session, "do_orm_execute", _refuse_raw_writes)


def _before_flush(session: Session, _context: UOWTransaction, _instances: Any) -> None:
    changed = [*session.new, *session.deleted, *(row for row in session.dirty if session.is_modified(row))]
    if not changed:
        return
    act = open_act_of(session)
    if act is None:
        raise RuntimeError("nothing is written outside an act")
    session.info["before"] = _befores(session)
    for row in changed:
        if hasattr(row, "version"):
            row.version = act.id


def _befores(session: Session) -> dict[int, Image]:
    befores = {}
    for row in (*session.dirty, *session.deleted):
        if not type(row).audited:
            continue
        befores[id(row)] = _before(session, row)
    return befores


def _before(session: Session, row: Any) -> Image:
    state = inspect(row)
    names = columns_of(type(row))
    old = {name: state.committed_state.get(name, state.dict.get(name)) for name in names}
    if state.expired_attributes.intersection(names) or LoaderCallableStatus.NO_VALUE in old.values():
        # Not all of it is in memory: what stands in the database is what was before.
        model = type(row)
        query: Any = select(*(getattr(model, name) for name in names)).where(model.id == state.identity[0])
        old = dict(session.connection().execute(query).mappings().one())
    return {name: plain(value) for name, value in old.items()}


def _after_flush(session: Session, _context: UOWTransaction) -> None:
    act = open_act_of(session)
    befores: dict[int, Image] = session.info.pop("before", {})
    if act is None:
        return
    _keep(act, session.new, befores, gone=False)
    _keep(act, [row for row in session.dirty if session.is_modified(row)], befores, gone=False)
    _keep(act, session.deleted, befores, gone=True)


def _keep(act: OpenAct, rows: Iterable[Any], befores: Mapping[int, Image], *, gone: bool) -> None:
    for row in rows:
        model = type(row)
        if not model.audited:
            continue
        values = row.__dict__
        after = None if gone else {name: plain(values.get(name)) for name in columns_of(model)}
        act.record(model.__tablename__, row.id, befores.get(id(row)), after)


def _refuse_raw_writes(state: ORMExecuteState) -> None:
    text = state.statement.text.lstrip().lower() if isinstance(state.statement, TextClause) else "select"
    if state.is_insert or state.is_update or state.is_delete or not text.startswith(_READING):
        raise RuntimeError("rows are written through the session, so that the audit sees them")


_READING = ("select", "pragma", "explain")
