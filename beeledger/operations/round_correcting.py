"""A posted round opened again: what its posting wrote is taken back exactly, then written anew, in one act.

The old version stays in History. Later rounds stay where they are: box counts built on this one are carried
along, strips that were taken out later keep their end, colonies founded by it keep their own record. What
cannot be carried along is refused with the names of what stands on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from sqlalchemy import select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade
from beeledger.base.text import listed, tidy
from beeledger.database.audit import Image, OpenAct
from beeledger.model.acts import Act, ActRow
from beeledger.model.colonies import BoxStack, HiveMark
from beeledger.model.medicines import Treatment
from beeledger.model.rounds import Round, RoundEntry
from beeledger.operations.box_counts import count_on
from beeledger.operations.round_lines import RoundToPost
from beeledger.operations.undo import apply_inverse, changes_of, colonies_touched, is_undone, resting_on

Changes = Mapping[str, Sequence[tuple[int, Image | None, Image | None]]]
_POSTING = ("post_round", "correct_round")
_KEPT_WITH_A_COLONY = ("colony", "hive_mark", "placement")
# The round keeps its number, its take the lots that were weighed from it; boxes are counted, not put back, and
# entries of stock are never edited but countered.
_LEFT_ALONE = ("round", "take", "box_stack", "stock_entry")


@dataclass(slots=True)
class Unposted:
    """What is left of a round once its posting was taken back, for the new version to stand on."""

    kept: dict[int, str] = field(default_factory=dict)
    """Colonies founded by it that stay, with their marks."""
    courses: dict[int, int] = field(default_factory=dict)
    """Courses of medicine it began and a later round ended, by colony."""


def unpost(act: OpenAct, round_id: int, new: RoundToPost) -> Unposted:
    """Take back all that the posting (and earlier corrections) of a round wrote, but what ``new`` keeps.

    Refused, naming it, when something later stands on what would change.
    """
    session = act.session
    numbers = _versions(session, round_id)
    first = session.get_one(Act, numbers[0]) if numbers else None
    if first is None or first.kind not in _POSTING:
        raise Refused([_refusal("this round came with an import; take that back instead")])
    left = Unposted()
    entries = list(session.scalars(select(RoundEntry.id).where(RoundEntry.round_id == round_id)))
    versions = [changes_of(session, number) for number in reversed(numbers)]
    for changes in versions:
        left.kept |= _founded_and_kept(session, changes, new)
        left.courses |= _keep_courses(session, changes, entries)
    for changes in versions:
        _refuse_standing(session, numbers, changes, left)
    _take_boxes_off(session, entries, left)
    session.flush()
    for changes in versions:
        _invert(act, changes, left)
    return left


def kept_lines(new: RoundToPost, left: Unposted) -> RoundToPost:
    """The round with its lines of strangers pointed at the colonies they founded."""
    by_mark = {mark: colony_id for colony_id, mark in left.kept.items()}
    lines = (
        replace(line, colony_id=by_mark[tidy(line.mark)])
        if line.colony_id is None and line.mark and tidy(line.mark) in by_mark
        else line
        for line in new.lines
    )
    return replace(new, lines=tuple(lines))


def colonies_of_versions(session: Session, round_id: int) -> set[int]:
    """The colonies whose records any version of the round that still counts has changed."""
    versions = _versions(session, round_id)
    return {colony for number in versions for colony in colonies_touched(changes_of(session, number))}


def _versions(session: Session, round_id: int) -> list[int]:
    """The acts that wrote the round as it stands, oldest first."""
    query = (
        select(ActRow.act_id, Act.undoes_act_id)
        .join(Act, Act.id == ActRow.act_id)
        .where(ActRow.table == Round.__tablename__, ActRow.row_id == round_id)
        .order_by(ActRow.act_id)
    )
    rows = session.execute(query).all()
    return [number for number, undoes in rows if undoes is None and not is_undone(session, number)]


def _founded_and_kept(session: Session, changes: Changes, new: RoundToPost) -> dict[int, str]:
    founded = [row_id for row_id, before, after in changes.get("colony", ()) if before is None and after]
    marks = dict.fromkeys(founded, "")
    query = select(HiveMark).where(HiveMark.colony_id.in_(founded)).order_by(HiveMark.id)
    marks |= {row.colony_id: row.mark for row in session.scalars(query)}
    wanted = {tidy(split.mark) for line in new.lines for split in line.entry.split_to}
    wanted |= {tidy(line.mark) for line in new.lines if line.mark}
    ids = {line.colony_id for line in new.lines}
    return {
        colony_id: mark for colony_id, mark in marks.items() if colony_id in ids or (mark and mark in wanted)
    }


def _keep_courses(session: Session, changes: Changes, entries: Sequence[int]) -> dict[int, int]:
    begun = [row_id for row_id, before, after in changes.get("treatment", ()) if before is None and after]
    query = select(Treatment).where(Treatment.id.in_(begun), Treatment.out_on.is_not(None))
    kept = {}
    for row in session.scalars(query).all():
        if row.out_entry_id not in entries:
            row.in_entry_id = None
            kept[row.colony_id] = row.id
    return kept


def _refuse_standing(session: Session, numbers: Sequence[int], changes: Changes, left: Unposted) -> None:
    """Rows of the posting that a later act changed and that cannot be carried along."""
    mine = {
        (table, row_id): (before, after)
        for table, rows in _to_invert(changes, left).items()
        for row_id, before, after in rows
    }
    later: dict[int, set[tuple[str, int]]] = {}
    for table in {table for table, _ in mine}:
        query = select(ActRow.act_id, ActRow.row_id).where(
            ActRow.table == table,
            ActRow.row_id.in_([row_id for name, row_id in mine if name == table]),
            ActRow.act_id > numbers[0],
            ActRow.act_id.not_in(numbers),
        )
        for number, row_id in session.execute(query):
            later.setdefault(number, set()).add((table, row_id))
    standing = [number for number, keys in later.items() if _holds(session, number, keys)]
    if standing:
        sentences = [f"“{session.get_one(Act, number).sentence}”" for number in sorted(standing)[:3]]
        raise Refused([_refusal(f"on it stands {listed(sentences)}", "Correct that first")])


def _holds(session: Session, number: int, keys: set[tuple[str, int]]) -> bool:
    """Whether a later act really stands on these rows: not when taken back, or when it only walked past."""
    row = session.get_one(Act, number)
    if row.undoes_act_id is not None or is_undone(session, number):
        return False
    changes = changes_of(session, number)
    touched = [
        (table, before, after)
        for table, rows in changes.items()
        for row_id, before, after in rows
        if (table, row_id) in keys
    ]
    return not all(_passing(table, before, after) for table, before, after in touched)


def _passing(table: str, before: Image | None, after: Image | None) -> bool:
    """A task done later, or only another place in the walking order."""
    if table == "task":
        return True
    return table == "placement" and _only_walked(before, after)


def _only_walked(before: Image | None, after: Image | None) -> bool:
    if before is None or after is None:
        return False
    return all(before[name] == after[name] for name in before if name not in ("stand", "version"))


def _take_boxes_off(session: Session, entries: Sequence[int], left: Unposted) -> None:
    """Take the round's changes of boxes out of the count, and out of all counted on from them."""
    stacks = session.scalars(select(BoxStack).where(BoxStack.entry_id.in_(entries))).all()
    founding = {
        colony_id: min((row.id for row in stacks if row.colony_id == colony_id), default=0)
        for colony_id in left.kept
    }
    for row in stacks:
        if founding.get(row.colony_id) == row.id:
            row.entry_id = None
            continue
        session.delete(row)
        session.flush()
        count_on(session, [row.colony_id], row.on, row.id)
    session.flush()


def _to_invert(changes: Changes, left: Unposted) -> dict[str, list[tuple[int, Image | None, Image | None]]]:
    inverted: dict[str, list[tuple[int, Image | None, Image | None]]] = {}
    for table, rows in changes.items():
        if table not in _LEFT_ALONE:
            inverted[table] = [row for row in rows if not _stays(table, row, left)]
    return inverted


def _stays(table: str, row: tuple[int, Image | None, Image | None], left: Unposted) -> bool:
    row_id, before, after = row
    if table == "placement" and _only_walked(before, after):
        return True
    if table == "treatment":
        return row_id in left.courses.values()
    if table not in _KEPT_WITH_A_COLONY or before is not None or after is None:
        return False
    return (row_id if table == "colony" else after["colony_id"]) in left.kept


def _invert(act: OpenAct, changes: Changes, left: Unposted) -> None:
    session = act.session
    inverted = _to_invert(changes, left)
    lone = _boxes_of_the_unfounded(inverted)
    for row in session.scalars(select(BoxStack).where(BoxStack.colony_id.in_(lone))).all():
        session.delete(row)
    session.flush()
    try:
        with session.begin_nested():
            apply_inverse(act, inverted)
    except IntegrityError as error:
        resting = [f"“{sentence}”" for sentence in resting_on(session, inverted)[:3]]
        what = f"on it stands {listed(resting)}" if resting else "later records rest on this round"
        raise Refused([_refusal(what, "Correct that first")]) from error
    # The same numbers may be given out again: nothing may be remembered of rows that are gone.
    session.expunge_all()


def _boxes_of_the_unfounded(inverted: Changes) -> Iterable[int]:
    return [row_id for row_id, before, after in inverted.get("colony", ()) if before is None and after]


def _refusal(what: str, mend: str = "") -> Finding:
    return Finding("rounds.correction", Grade.REFUSED, what, mend)
