"""A private person erased: out of the rows, out of History's images and sentences, and not to be taken back.

The party stays as a mark ("Erased 12"), so that what was sold, hired or let still balances. Its contact is blanked;
its name, the names it had before and what stood in its contact are also looked for, as whole words, in every free
text of the ledger and in every image of it, and the mark is written over them. Rows and images are changed by the
same rule, so the acts still add up to the rows. Not touched: the farm's own settings, the crew, names of other
parties that hold the words as a part, and papers hung on records.
"""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from sqlalchemy import CheckConstraint, Text, bindparam, or_, select, update

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade
from beeledger.base.text import counted
from beeledger.database.audit import Image, OpenAct, unpack
from beeledger.model.acts import Act, ActImage, ActRow
from beeledger.model.base import Base
from beeledger.model.parties import Party, PartyContact
from beeledger.queries.parties import ROLES

MARK = "Erased {}"
SHORTEST = 3
"""A shorter word is blanked in the party and its own acts alone: elsewhere it would be anybody's."""
_NOT_LOOKED_IN = frozenset(
    {"farm_setting", "crew_member", "act", "act_image", "act_row", "party", "party_contact"}
)
_NO_PROSE = frozenset({"sha256", "media_type", "uid", "code", "version"})


@dataclass(frozen=True, slots=True)
class Blanker:
    """Writes the mark over words, wherever they stand whole; longer names that hold them are let be."""

    mark: str
    words: tuple[str, ...]
    let_be: tuple[str, ...] = ()

    def blanked(self, text: str) -> str:
        """``text`` with the mark in place of the words."""
        pattern = _pattern(self.words, self.let_be)
        return (
            pattern.sub(lambda found: self.mark if found["gone"] else found[0], text) if self.words else text
        )

    def blank(self, image: Image | None, columns: tuple[str, ...]) -> Image | None:
        """An image with the mark in these columns."""
        if image is None:
            return None
        told = {name: self.blanked(image[name]) for name in columns if isinstance(image.get(name), str)}
        return image | told

    def traces(self) -> tuple[str, ...]:
        """A run of letters out of each word: text without any of them needs no closer look."""
        return tuple(max(re.findall(r"\w+", word) or [word], key=len).lower() for word in self.words)


@cache
def _pattern(words: tuple[str, ...], let_be: tuple[str, ...]) -> re.Pattern[str]:
    longest = sorted(words, key=len, reverse=True)
    kept = "|".join(_whole(name) for name in let_be)
    gone = "|".join(_whole(word) for word in longest)
    return re.compile(f"(?:{kept})|(?P<gone>{gone})" if kept else f"(?P<gone>{gone})", re.IGNORECASE)


def _whole(word: str) -> str:
    inside = r"\s+".join(re.escape(part) for part in word.split())
    return rf"(?<!\w){inside}(?!\w)"


def erase_party(act: OpenAct, party_id: int) -> str:
    """Blank everything that tells who a party was; ``act.result`` is the number of records it was blanked in.

    Refused for a party that is not there or is erased already. Cannot be taken back.
    """
    row = act.session.get(Party, party_id)
    if row is None or row.erased_on is not None:
        raise Refused([Finding("party.erased", Grade.REFUSED, "this party has been erased already")])
    blanker, own = _blankers(act, row)
    row.name, row.erased_on = blanker.mark, act.today
    for role in ROLES:
        setattr(row, f"is_{role}", False)  # no list offers it any more
    contact = act.session.scalar(select(PartyContact).where(PartyContact.party_id == party_id))
    if contact is not None:
        contact.person = contact.address = contact.phone = contact.email = None
    records = sum(_blank_rows(act, model, columns, blanker) for model, columns in prose())
    act.session.flush()
    _blank_sentences(act, party_id, blanker, own)
    _blank_images(act, party_id, blanker)
    _blank_open_images(act, party_id, blanker)
    act.result = records
    also = f", and in {counted(records, 'other record')}" if records else ""
    return f"{blanker.mark}: a party was blanked here, in History{also}"


def _blankers(act: OpenAct, row: Party) -> tuple[Blanker, Blanker]:
    """For the whole ledger, and for the party's own acts where short words count too."""
    words = {row.name, *_names_before(act, row.id)}
    contact = act.session.scalar(select(PartyContact).where(PartyContact.party_id == row.id))
    for said in (
        (contact.person, contact.address, contact.phone, contact.email) if contact is not None else ()
    ):
        words |= {said} if said else set()
    mark = MARK.format(row.id)
    others = act.session.scalars(select(Party.name).where(Party.id != row.id)).all()
    let_be = tuple(sorted((name for name in others if _holds(name, words)), key=len, reverse=True))
    every = tuple(sorted(word for word in words if word.strip() and word != mark))
    return Blanker(mark, tuple(word for word in every if len(word) >= SHORTEST), let_be), Blanker(
        mark, every, let_be
    )


def _names_before(act: OpenAct, party_id: int) -> Iterator[str]:
    query = (
        select(ActImage.image)
        .join(ActRow, (ActRow.act_id == ActImage.act_id) & (ActRow.table == ActImage.table))
        .where(ActRow.table == "party", ActRow.row_id == party_id)
    )
    for packed in act.session.scalars(query):
        for row_id, *images in unpack(packed):
            yield from (image["name"] for image in images if image is not None and row_id == party_id)


def _holds(name: str, words: set[str]) -> bool:
    return any(word.lower() in name.lower() for word in words)


@cache
def prose() -> tuple[tuple[type[Base], tuple[str, ...]], ...]:
    """The tables with free text, each with its columns: not marks of a fixed list, hashes or codes."""
    found = []
    for mapper in sorted(Base.registry.mappers, key=lambda one: str(one.class_.__tablename__)):
        model: type[Base] = mapper.class_
        if model.__tablename__ not in _NOT_LOOKED_IN and (columns := _free_text(model)):
            found.append((model, columns))
    return tuple(found)


def _free_text(model: type[Base]) -> tuple[str, ...]:
    table = Base.metadata.tables[model.__tablename__]
    checks = " ".join(str(one.sqltext) for one in table.constraints if isinstance(one, CheckConstraint))
    return tuple(
        column.name
        for column in table.columns
        if isinstance(column.type, Text)
        and column.name not in _NO_PROSE
        and column.name not in model.private
        and f"{column.name} IN (" not in checks
    )


def _blank_rows(act: OpenAct, model: Any, columns: tuple[str, ...], blanker: Blanker) -> int:
    likes = [_like(trace) for trace in blanker.traces()]
    if not likes:
        return 0
    found = or_(*(getattr(model, column).ilike(like) for column in columns for like in likes))
    changed = 0
    for row in act.session.scalars(select(model).where(found)):
        told = {name: getattr(row, name) for name in columns if getattr(row, name)}
        over = {name: blanker.blanked(text) for name, text in told.items() if blanker.blanked(text) != text}
        for name, text in over.items():
            setattr(row, name, text)
        changed += bool(over)
    return changed


def _like(trace: str) -> str:
    """Letters beyond ASCII match anything: SQLite does not know their capitals."""
    return "%" + "".join(letter if letter.isascii() and letter.isalnum() else "_" for letter in trace) + "%"


def _blank_sentences(act: OpenAct, party_id: int, blanker: Blanker, own: Blanker) -> None:
    mine = select(ActRow.act_id).where(ActRow.table == "party", ActRow.row_id == party_id)
    for row in act.session.scalars(select(Act).where(Act.id.in_(mine))):
        row.sentence = own.blanked(row.sentence)
    likes = [Act.sentence.ilike(_like(trace)) for trace in blanker.traces()]
    for row in act.session.scalars(select(Act).where(or_(*likes))) if likes else ():
        row.sentence = blanker.blanked(row.sentence)
    act.session.flush()


def _blank_images(act: OpenAct, party_id: int, blanker: Blanker) -> None:
    columns = {model.__tablename__: names for model, names in prose()}
    connection = act.session.connection()
    table = Base.metadata.tables["act_image"]
    write = (
        update(table)
        .where(table.c.act_id == bindparam("the_act"), table.c.table == bindparam("the_table"))
        .values(image=bindparam("the_image"))
    )
    traces = blanker.traces()
    for name in sorted((*columns, "party")):
        rows = connection.execute(select(table.c.act_id, table.c.image).where(table.c.table == name))
        changed = []
        for act_id, packed in rows:
            text = zlib.decompress(packed).decode()
            if name != "party" and not any(trace in text.lower() for trace in traces):
                continue
            over = _over(name, json.loads(text), party_id, blanker, columns.get(name, ()))
            if over != text:
                changed.append(
                    {"the_act": act_id, "the_table": name, "the_image": zlib.compress(over.encode(), 1)}
                )
        if changed:
            connection.execute(write, changed)


def _over(table: str, rows: list[Any], party_id: int, blanker: Blanker, columns: tuple[str, ...]) -> str:
    told = [
        [row_id, *(_blank_image(table, row_id, image, party_id, blanker, columns) for image in pair)]
        for row_id, *pair in rows
    ]
    return json.dumps(told, separators=(",", ":"), ensure_ascii=False)


def _blank_image(
    table: str, row_id: int, image: Image | None, party_id: int, blanker: Blanker, columns: tuple[str, ...]
) -> Image | None:
    if table != "party":
        return blanker.blank(image, columns)
    return image | {"name": blanker.mark} if image is not None and row_id == party_id else image


def _blank_open_images(act: OpenAct, party_id: int, blanker: Blanker) -> None:
    """This act's own images, which are not written yet: their "before" still tells who it was."""
    columns: Mapping[str, tuple[str, ...]] = {model.__tablename__: names for model, names in prose()}
    for table, rows in act.images.items():
        if table == "party" or table in columns:
            for row_id, pair in rows.items():
                pair[:] = [
                    _blank_image(table, row_id, image, party_id, blanker, columns.get(table, ()))
                    for image in pair
                ]
