"""Medicines: the packs, the register of what was given, what the record still lacks, and all of it on paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from sqlalchemy import Select, and_, case, func, or_, select, union
from sqlalchemy.orm import Session, aliased

from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.medicines import Medicine, MedicineDisposal, Treatment
from beeledger.model.parties import Party, PartyContact
from beeledger.model.rounds import Round, RoundEntry
from beeledger.model.sites import Site
from beeledger.queries.hives import stood_on
from beeledger.queries.records.medicine_register import (
    BoughtEntry,
    DisposedEntry,
    GivenEntry,
    MedicineRegister,
)
from beeledger.queries.records.medicines import (
    UNMARKED,
    Disposal,
    GivenCard,
    GivenKey,
    GivenLine,
    HiveGiven,
    PackRow,
    Supplier,
    ToFill,
    missing_words,
)
from beeledger.rules.medicines import course, courses, must_be_kept
from beeledger.rules.strength import number_order


@dataclass(frozen=True, slots=True)
class GivenFilter:
    """What of the register is asked for; None asks for all. The days are those of putting in.

    With ``or_still_in`` what is in living hives now is there whenever it was put in.
    """

    first: date | None = None
    last: date | None = None
    site_id: int | None = None
    medicine_id: int | None = None
    colony_id: int | None = None
    or_still_in: bool = False


ALL = GivenFilter()


def packs(session: Session) -> list[PackRow]:
    """Every pack, the usual one first and then the newest: three statements."""
    use = _given_of_packs(session)
    return [_with_use(pack, use.get(pack.id)) for pack in _bare_packs(session)]


def given(session: Session, wanted: GivenFilter = ALL) -> list[GivenLine]:
    """The register, newest first, one line for the hives of a site that had the same days: one statement."""
    each = _each(wanted).subquery("each")
    keys = (
        each.c.medicine_id, each.c.in_on, each.c.out_on, each.c.site_id, each.c.round_id, each.c.gone
    )  # fmt: skip
    query = (
        select(
            *keys, Medicine.product, Medicine.active, Medicine.batch, Medicine.expires_on, Medicine.course_days,
            Medicine.withdrawal_days, Site.name, Round.crew, func.count(), func.sum(each.c.pieces),
            func.count().filter(each.c.pieces.is_(None)), func.max(each.c.ended_on),
        )
        .join(Medicine, Medicine.id == each.c.medicine_id)
        .outerjoin(Site, Site.id == each.c.site_id)
        .outerjoin(Round, Round.id == each.c.round_id)
        .group_by(*keys, Medicine.id, Site.name, Round.crew)
        .order_by(each.c.in_on.desc(), Site.name, each.c.out_on.desc().nulls_first(), each.c.medicine_id)
    )  # fmt: skip
    if wanted.site_id is not None:
        query = query.where(each.c.site_id == wanted.site_id)
    return [_line(row) for row in session.execute(query)]


def given_card(session: Session, line: GivenLine) -> GivenCard:
    """A line with its hives by number, and the packs of the same product: three statements."""
    key = line.key
    each = _each(GivenFilter(key.in_on, key.in_on, medicine_id=key.medicine_id)).subquery("each")
    query = select(each.c.id, each.c.colony_id, each.c.pieces, each.c.reason).where(
        each.c.out_on.is_not_distinct_from(key.out_on),
        each.c.site_id.is_not_distinct_from(key.site_id),
        each.c.round_id.is_not_distinct_from(key.round_id),
        each.c.gone == int(key.gone),
    )
    rows = session.execute(query).all()
    marks = _marks(session, [row.id for row in rows])
    hives = [
        HiveGiven(row.id, row.colony_id, marks.get(row.id, UNMARKED), row.pieces, row.reason or "")
        for row in rows
    ]
    same = select(Medicine.id, Medicine.product, Medicine.batch).order_by(Medicine.id.desc())
    choices = tuple(
        (number, f"{name}, {batch}" if batch else name) for number, name, batch in session.execute(same)
    )
    return GivenCard(line, tuple(sorted(hives, key=lambda one: number_order(one.mark))), choices)


def to_fill(session: Session, today: date) -> ToFill:
    """How much of what must still be kept lacks something: four statements, the lines by their own index."""
    lacking = [pack for pack in _bare_packs(session) if pack.missing()]
    use = _given_of_packs(session, [pack.id for pack in lacking])
    kept = [must_be_kept(_with_use(pack, use.get(pack.id)).last_day, today) for pack in lacking]
    unmeasured = (
        select(Treatment.medicine_id, Treatment.in_on, RoundEntry.round_id)
        .outerjoin(RoundEntry, RoundEntry.id == Treatment.in_entry_id)
        .where(Treatment.pieces.is_(None), Treatment.in_on >= _kept_since(today))
        .distinct()
    )
    lines = session.scalar(select(func.count()).select_from(unmeasured.subquery())) or 0
    return ToFill(sum(kept), lines)


def suppliers(session: Session) -> tuple[Supplier, ...]:
    """Whom medicines may be bought from: one statement."""
    query = (
        select(Party.id, Party.name, PartyContact.address)
        .outerjoin(PartyContact, PartyContact.party_id == Party.id)
        .where(Party.is_supplier.in_([True]))
        .order_by(Party.name)
    )
    return tuple(Supplier(number, name, address or "") for number, name, address in session.execute(query))


def register_sites(session: Session) -> tuple[tuple[int, str], ...]:
    """The sites the register can be asked for: one statement."""
    return tuple(
        (number, name) for number, name in session.execute(select(Site.id, Site.name).order_by(Site.name))
    )


def register_record(
    session: Session, first: date, last: date, *, site_id: int | None = None
) -> MedicineRegister:
    """What was given in a period, the packs it came from or that were bought then, and what was disposed of.

    Oldest first; seven statements. With a site: what was given there, and the packs it came from.
    """
    wanted = GivenFilter(first, last, site_id)
    lines = given(session, wanted)
    hives = _hives_of(session, wanted)
    entries = [_given_entry(line, tuple(hives.get(line.key, ()))) for line in reversed(lines)]
    used = {line.key.medicine_id for line in lines}
    every = packs(session)
    known = [pack for pack in every if pack.id in used or (site_id is None and _in(pack, first, last))]
    known.sort(key=lambda pack: (pack.acquired_on or date.min, pack.id))
    gone = [] if site_id is not None else _gone(every, first, last)
    name = session.scalar(select(Site.name).where(Site.id == site_id)) if site_id is not None else None
    bought = tuple(_bought_entry(pack) for pack in known)
    return MedicineRegister(name or "all sites", first, last, tuple(entries), bought, tuple(gone))


def _gone(every: Sequence[PackRow], first: date, last: date) -> list[DisposedEntry]:
    found = [
        DisposedEntry(
            one.on, pack.product, pack.batch, one.pieces, one.how, missing_words(one.missing(pack.product))
        )
        for pack in every
        for one in pack.disposals
        if first <= one.on <= last
    ]  # fmt: skip
    return sorted(found, key=lambda one: one.on)


def _in(pack: PackRow, first: date, last: date) -> bool:
    return pack.acquired_on is None or first <= pack.acquired_on <= last


def _kept_since(today: date) -> date:
    """The first day of putting in whose record must still be kept."""
    day = date(today.year - 1, 1, 1)
    while must_be_kept(day, today):
        day = date(day.year - 1, 1, 1)
    return day


def _each(wanted: GivenFilter) -> Select[Any]:
    """Each treatment with the site it was given at: that of its visit, or where the colony stood that day."""
    stood = (
        select(Placement.site_id)
        .where(
            Placement.colony_id == Treatment.colony_id,
            *stood_on(Treatment.in_on),
        )
        .order_by(Placement.from_at.desc())
        .limit(1)
        .correlate(Treatment)
        .scalar_subquery()
    )
    gone = and_(Treatment.out_on.is_(None), Colony.ended_on.is_not(None), Medicine.active.in_(_stay_in()))
    return (
        select(
            Treatment.id, Treatment.colony_id, Treatment.medicine_id, Treatment.in_on, Treatment.out_on,
            Treatment.pieces, Treatment.reason, RoundEntry.round_id,
            func.coalesce(Round.site_id, stood).label("site_id"), case((gone, 1), else_=0).label("gone"),
            case((gone, Colony.ended_on)).label("ended_on"),
        )
        .join(Colony, Colony.id == Treatment.colony_id)
        .join(Medicine, Medicine.id == Treatment.medicine_id)
        .outerjoin(RoundEntry, RoundEntry.id == Treatment.in_entry_id)
        .outerjoin(Round, Round.id == RoundEntry.round_id)
        .where(*_conditions(wanted, _still_in() if wanted.or_still_in else None))
    )  # fmt: skip


def _still_in() -> Any:
    """In a living hive now: asked hive by hive, for those are as many after ten years as after one."""
    each, colony, medicine = aliased(Treatment), aliased(Colony), aliased(Medicine)
    return (
        select(each.id)
        .join(colony, colony.id == each.colony_id)
        .join(medicine, medicine.id == each.medicine_id)
        .where(each.out_on.is_(None), colony.ended_on.is_(None), medicine.active.in_(_stay_in()))
    )


def _stay_in() -> list[str]:
    """The substances that leave something to take out."""
    return [code for code, usual in courses().items() if usual.stays_in]


def _conditions(wanted: GivenFilter, besides: Any = None) -> list[Any]:
    conditions: list[Any] = []
    if wanted.first is not None:
        if besides is None:
            conditions.append(Treatment.in_on >= wanted.first)
        else:
            begun = aliased(Treatment)
            asked = union(select(begun.id).where(begun.in_on >= wanted.first), besides)
            conditions.append(Treatment.id.in_(asked))
    if wanted.last is not None:
        conditions.append(Treatment.in_on <= wanted.last)
    if wanted.medicine_id is not None:
        conditions.append(Treatment.medicine_id == wanted.medicine_id)
    if wanted.colony_id is not None:
        conditions.append(Treatment.colony_id == wanted.colony_id)
    return conditions


def _key(row: Any) -> GivenKey:
    return GivenKey(row.medicine_id, row.in_on, row.out_on, row.site_id, row.round_id, bool(row.gone))


def _line(row: Any) -> GivenLine:
    (
        product,
        active,
        batch,
        expires_on,
        course_days,
        withdrawal,
        site,
        crew,
        hives,
        pieces,
        unmeasured,
        gone_on,
    ) = row[6:]
    return GivenLine(
        _key(row), product, active, batch or "", expires_on, course_days, withdrawal, site or "", crew or "", hives,
        None if pieces is None else int(pieces), unmeasured, gone_on,
    )  # fmt: skip


def _bare_packs(session: Session) -> list[PackRow]:
    """The packs as bought, with what was disposed of but not what was given: two statements."""
    query = (
        select(Medicine, Party.name, PartyContact.address)
        .outerjoin(Party, Party.id == Medicine.supplier_id)
        .outerjoin(PartyContact, PartyContact.party_id == Party.id)
        .order_by(Medicine.usual.desc(), Medicine.acquired_on.desc().nulls_last(), Medicine.id.desc())
    )
    gone = _disposals(session)
    return [
        PackRow(
            row.id, row.product, row.active, row.batch or "", row.expires_on, row.acquired_on, row.pieces,
            row.course_days, row.withdrawal_days, row.usual, row.supplier_id, name or "", address or "",
            row.proof or "", disposals=gone.get(row.id, ()),
        )
        for row, name, address in session.execute(query)
    ]  # fmt: skip


def _given_of_packs(session: Session, ids: Sequence[int] | None = None) -> dict[int, Any]:
    """What was given of each pack, or of these: one statement, the sums by index alone."""
    living = (
        select(Treatment.medicine_id, func.count().label("still_in"))
        .join(Colony, Colony.id == Treatment.colony_id)
        .where(Treatment.out_on.is_(None), Colony.ended_on.is_(None))
        .group_by(Treatment.medicine_id)
        .subquery()
    )
    sums = select(
        Treatment.medicine_id, func.sum(Treatment.pieces).label("used"), func.count().label("given"),
        (func.count() - func.count(Treatment.pieces)).label("unmeasured"),
        func.max(Treatment.in_on).label("last_in"), func.max(Treatment.out_on).label("last_out"),
    ).group_by(Treatment.medicine_id)  # fmt: skip
    if ids is not None:
        sums = sums.where(Treatment.medicine_id.in_(ids))
    each = sums.subquery()
    query = select(each, func.coalesce(living.c.still_in, 0).label("still_in")).outerjoin(
        living, living.c.medicine_id == each.c.medicine_id
    )
    return {row.medicine_id: row for row in session.execute(query)}


def _with_use(pack: PackRow, use: Any) -> PackRow:
    if use is None:
        return pack
    stays = course(pack.active).stays_in
    return replace(
        pack,
        used=int(use.used or 0), given=use.given, unmeasured=use.unmeasured,
        still_in=use.still_in if stays else 0, given_last=max(use.last_in, use.last_out or use.last_in),
    )  # fmt: skip


def _disposals(session: Session) -> dict[int, tuple[Disposal, ...]]:
    query = select(MedicineDisposal).order_by(MedicineDisposal.on, MedicineDisposal.id)
    found: dict[int, tuple[Disposal, ...]] = {}
    for row in session.scalars(query):
        one = Disposal(row.id, row.medicine_id, row.on, row.pieces, row.how or "")
        found[row.medicine_id] = (*found.get(row.medicine_id, ()), one)
    return found


def _marks(session: Session, treatment_ids: Sequence[int]) -> dict[int, str]:
    """The number each hive bore on the day it was given: one statement."""
    return dict(_marked(session, Treatment.id.in_(treatment_ids)))


def _marked(session: Session, *conditions: Any) -> Iterable[tuple[int, str]]:
    query = (
        select(Treatment.id, HiveMark.mark)
        .join(HiveMark, HiveMark.colony_id == Treatment.colony_id)
        .where(
            *conditions,
            HiveMark.from_on <= Treatment.in_on,
            or_(HiveMark.until_on.is_(None), HiveMark.until_on >= Treatment.in_on),
        )
        .order_by(Treatment.id, HiveMark.from_on, HiveMark.id)
    )
    return [(number, mark) for number, mark in session.execute(query)]


def _hives_of(session: Session, wanted: GivenFilter) -> dict[GivenKey, list[str]]:
    """The hives of each line of the register, by number: two statements."""
    marks = dict(_marked(session, *_conditions(wanted)))
    found: dict[GivenKey, list[str]] = {}
    for row in session.execute(_each(wanted)):
        found.setdefault(_key(row), []).append(marks.get(row.id, UNMARKED))
    return {key: sorted(hives, key=number_order) for key, hives in found.items()}


def _given_entry(line: GivenLine, hives: tuple[str, ...]) -> GivenEntry:
    return GivenEntry(
        line.key.in_on, line.key.out_on, line.product, line.batch, line.site, hives, line.pieces, line.unmeasured,
        line.withdrawal_days, line.who, line.last_day, line.keep_until, missing_words(line.missing()),
    )  # fmt: skip


def _bought_entry(pack: PackRow) -> BoughtEntry:
    return BoughtEntry(
        pack.acquired_on, pack.product, course(pack.active).words, pack.batch, pack.expires_on, pack.pieces,
        pack.supplier, tuple(pack.supplier_address.splitlines()), pack.proof, pack.used, pack.disposed, pack.left,
        missing_words(pack.missing()),
    )  # fmt: skip
