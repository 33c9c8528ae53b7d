"""Undo: an act made of the inverse row changes, refused with the name of what stands on it.

An act can be undone while it is the last that still counts on every row it changed: later acts that were
themselves undone, and their undoing, do not count. Undoing an undo is how one redoes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, Table, func, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from beeledger.base import dates
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade
from beeledger.database.audit import Image, OpenAct, colonies_in, plain, unpack
from beeledger.database.ledger import Ledger
from beeledger.database.schema import HEAD
from beeledger.model.acts import Act, ActImage, ActRow
from beeledger.model.base import Base, LocalDate, Moment
from beeledger.operations.act import Done, finish
from beeledger.operations.due import forget_due
from beeledger.operations.inverse import Step, references, steps
from beeledger.operations.still_true import still_true

Changes = dict[str, list[tuple[int, Image | None, Image | None]]]
FOR_GOOD = frozenset({"erase_party"})
"""Acts that cannot be taken back."""
PORTION = 5_000
"""Rows named in one statement: databases have a limit."""


def undo(ledger: Ledger, act_id: int) -> Done:
    """Take back act ``act_id`` by an act of its own.

    Raises Refused naming the acts that stand on it, or what would no longer hold.
    """
    with ledger.act("undo") as act:
        taken_back = act.session.get(Act, act_id)
        findings = why_not(act.session, act_id)
        if findings or taken_back is None:
            raise Refused(findings or [_refusal("no-act", "There is no such act")])
        act.session.get_one(Act, act.id).undoes_act_id = act_id
        act.session.flush()
        changes = changes_of(act.session, act_id)
        try:
            with still_true(act.session, colonies_touched(changes)), act.session.begin_nested():
                apply_inverse(act, changes)
        except IntegrityError as error:
            resting = resting_on(act.session, changes)
            raise Refused([_stands_on(_named(resting), taken_back.sentence)]) from error
        return finish(act, f"Took back: {taken_back.sentence}{_not_kept(changes)}")


def _not_kept(changes: Changes) -> str:
    """What History does not copy can neither be taken back nor brought again, and that is said."""
    if not any(private_columns(Base.metadata.tables[table]) for table in changes):
        return ""
    return " (addresses and telephone numbers are not kept in History: look at them)"


def why_not(session: Session, act_id: int) -> list[Finding]:
    """What forbids undoing an act: nothing when it can be undone."""
    row = session.get(Act, act_id)
    if row is None:
        return [_refusal("no-act", "There is no such act")]
    if is_undone(session, act_id):
        return [_refusal("undone", f"“{row.sentence}” has been taken back already")]
    if row.kind in FOR_GOOD:
        return [_refusal("for-good", "What was erased is nowhere kept, so it cannot come back")]
    if row.schema != HEAD:
        return [
            _refusal(
                "other-schema", "The ledger has moved to a new version since; correct the record instead"
            )
        ]
    standing = standing_on(session, act_id)
    if not standing:
        return []
    return [
        _stands_on(_named([f"{other.sentence} ({other.who}, {dates.long(other.on)})" for other in standing]))
    ]


def _named(sentences: Sequence[str]) -> str:
    named = "; ".join(f"“{sentence}”" for sentence in sentences[:3])
    return named + (f" and {len(sentences) - 3} more" if len(sentences) > 3 else "")


def _stands_on(named: str, sentence: str = "") -> Finding:
    what = f"On it stands {named}" if named else f"Later records rest on “{sentence}”"
    return _refusal("stands-on", what, "Take that back first, or correct the record")


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


def changes_of(session: Session, act_id: int) -> Changes:
    """What an act changed: each row before and after, by table."""
    images = session.execute(select(ActImage.table, ActImage.image).where(ActImage.act_id == act_id)).all()
    return {table: unpack(image) for table, image in images}


def colonies_touched(changes: Changes) -> set[int]:
    """The colonies whose rows an act changed."""
    return {
        colony_id
        for table, rows in changes.items()
        for row_id, *images in rows
        for image in images
        for colony_id in colonies_in(table, row_id, image)
    }


def apply_inverse(act: OpenAct, changes: Changes) -> None:
    """Write the inverse, portion by portion, and keep what each row was before."""
    session = act.session
    made = {
        name: [row_id for row_id, before, _ in changes.get(name, ()) if before is None]
        for name in ("colony", "site")
    }
    forget_due(act, made["colony"], made["site"])
    for portion in steps(changes):
        by_table: dict[str, list[Step]] = {}
        for step in portion:
            by_table.setdefault(step.table, []).append(step)
        for name, its_steps in by_table.items():
            _write(act, Base.metadata.tables[name], its_steps)
    session.expire_all()


def _write(act: OpenAct, table: Table, its_steps: Sequence[Step]) -> None:
    connection = act.session.connection()
    present = _present(connection, table, [step.row_id for step in its_steps])
    gone = []
    for step in its_steps:
        image = None if step.image is None else step.image | {"version": act.id}
        act.record(table.name, step.row_id, present.get(step.row_id), image)
        if image is None:
            gone.append(step.row_id)
        elif step.row_id in present:
            connection.execute(
                table.update().where(table.c.id == step.row_id).values(**revived(table, image))
            )
        else:
            connection.execute(table.insert().values(**revived(table, image)))
    for start in range(0, len(gone), PORTION):
        connection.execute(table.delete().where(table.c.id.in_(gone[start : start + PORTION])))


def _present(connection: Connection, table: Table, row_ids: Sequence[int]) -> dict[int, Image]:
    found = {}
    for start in range(0, len(row_ids), PORTION):
        query = select(table).where(table.c.id.in_(row_ids[start : start + PORTION]))
        for row in connection.execute(query).mappings():
            found[row["id"]] = image_of(table, row)
    return found


def resting_on(session: Session, changes: Changes) -> list[str]:
    """The sentences of the acts whose rows point at what would go away, newest first."""
    gone = {
        table: [row_id for row_id, before, after in rows if before is None and after is not None]
        for table, rows in changes.items()
    }
    numbers: set[int] = set()
    for child in Base.metadata.sorted_tables:
        mine = set(gone.get(child.name, ()))
        for column, parent in references(child):
            for start in range(0, len(gone.get(parent, ())), PORTION):
                portion = gone[parent][start : start + PORTION]
                key = child.c.id if "id" in child.c else child.c.act_id
                found = set(
                    session.connection().execute(select(key).where(child.c[column].in_(portion))).scalars()
                )
                numbers |= _makers(session, child.name, found - mine)
    return [session.get_one(Act, number).sentence for number in sorted(numbers, reverse=True)]


def _makers(session: Session, table: str, row_ids: set[int]) -> set[int]:
    """The last act on each of these rows."""
    wanted = sorted(row_ids)[:PORTION]
    query = (
        select(func.max(ActRow.act_id))
        .where(ActRow.table == table, ActRow.row_id.in_(wanted))
        .group_by(ActRow.row_id)
    )
    return set(session.scalars(query))


def image_of(table: Table, row: Mapping[Any, Any]) -> Image:
    """A row as its image keeps it: plain values, private columns left out."""
    private = private_columns(table)
    return {name: plain(value) for name, value in row.items() if name not in private}


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
