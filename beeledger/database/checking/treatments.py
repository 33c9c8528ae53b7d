"""Honey and medicine kept apart, or a written reason."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from datetime import date
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.dates import long
from beeledger.base.findings import Finding
from beeledger.database.checking.breach import among, breach
from beeledger.model.colonies import BoxStack
from beeledger.model.feeding import Feeding
from beeledger.model.honey import Take, TakeLine
from beeledger.model.medicines import Medicine, Treatment
from beeledger.model.rounds import RoundEntry
from beeledger.rules import medicines


def honey_under_treatment(session: Session, only: Collection[int] | None = None) -> Iterator[Finding]:
    """A take from a colony under treatment or within its withdrawal has a written reason."""
    for line, on in takes_under_treatment(session, only):
        yield breach(
            "no-medicated-honey",
            f"honey was taken on {long(on)} while medicine was in place",
            f"take line {line}",
        )


def takes_under_treatment(
    session: Session, only: Collection[int] | None = None
) -> Iterator[tuple[int, date]]:
    """The lines of takes from colonies under treatment or within its withdrawal, without a written reason.

    On a visit that both takes supers off and puts medicine in, the supers come off first.
    """
    courses: dict[int, list[tuple[int | None, medicines.Treatment]]] = defaultdict(list)
    query = select(
        Treatment.colony_id, Treatment.in_entry_id, Medicine.active, Treatment.in_on, Treatment.out_on,
        Medicine.withdrawal_days,
    ).join(Medicine, Medicine.id == Treatment.medicine_id)  # fmt: skip
    for colony, visit, active, in_on, out_on, days in session.execute(
        among(query, Treatment.colony_id, only)
    ):
        courses[colony].append((visit, medicines.Treatment(active, in_on, out_on, days)))
    takes = (
        select(TakeLine.id, TakeLine.colony_id, TakeLine.entry_id, Take.on)
        .join(Take, Take.id == TakeLine.take_id)
        .where(TakeLine.colony_id.is_not(None), TakeLine.reason.is_(None))
    )
    for line, taken_from, visit, on in session.execute(among(takes, TakeLine.colony_id, only)):
        others = [
            course for begun, course in courses.get(taken_from or 0, ()) if begun is None or begun != visit
        ]
        if not medicines.may_take_honey(others, on):
            yield line, on


def honey_with_feed(session: Session, only: Collection[int] | None = None) -> Iterator[Finding]:
    """A take from a colony fed since its supers went on has a written reason.

    On a visit that both takes supers off and feeds or puts others on, the supers come off first.
    """
    feedings = select(Feeding.colony_id, Feeding.entry_id, Feeding.on)
    fed = _days(session, among(feedings, Feeding.colony_id, only))
    put_on = _first_supers(session, only)
    takes = (
        select(TakeLine.id, TakeLine.colony_id, TakeLine.entry_id, Take.on)
        .join(Take, Take.id == TakeLine.take_id)
        .where(TakeLine.colony_id.is_not(None), TakeLine.reason.is_(None))
    )
    for line, colony, visit, on in session.execute(among(takes, TakeLine.colony_id, only)):
        last_fed, last_on = (_last(days.get(colony, ()), visit, on) for days in (fed, put_on))
        if last_fed is not None and last_on is not None and last_fed >= last_on:
            yield breach(
                "no-fed-honey",
                f"honey was taken on {long(on)} from supers that were on when it was fed {long(last_fed)}",
                f"take line {line}",
            )


_Days = dict[int | None, list[tuple[int | None, date]]]


def _days(session: Session, query: Any) -> _Days:
    days: _Days = defaultdict(list)
    for colony, visit, on in session.execute(query):
        days[colony].append((visit, on))
    return days


def _first_supers(session: Session, only: Collection[int] | None) -> _Days:
    """The days on which supers went on a hive that had none, or from which the same visit took all others.

    One that goes on top of others does not make honey of them that had feed in it.
    """
    query = (
        select(BoxStack.colony_id, BoxStack.on, BoxStack.supers, BoxStack.entry_id, RoundEntry.supers_off)
        .outerjoin(
            RoundEntry, (RoundEntry.id == BoxStack.entry_id) & (RoundEntry.colony_id == BoxStack.colony_id)
        )
        .order_by(BoxStack.colony_id, BoxStack.on, BoxStack.id)
    )
    days: _Days = defaultdict(list)
    last, before = None, 0
    for colony, on, supers, visit, off in session.execute(among(query, BoxStack.colony_id, only)):
        before = before if colony == last else 0
        if supers and before <= (off or 0):
            days[colony].append((visit, on))
        last, before = colony, supers
    return days


def _last(days: Iterable[tuple[int | None, date]], but_visit: int | None, until: date) -> date | None:
    earlier = [on for visit, on in days if on <= until and (visit is None or visit != but_visit)]
    return max(earlier, default=None)


def medicine_under_supers(session: Session, only: Collection[int] | None = None) -> Iterator[Finding]:
    """Medicine put in while supers for harvest were on has a written reason."""
    stack = (
        select(BoxStack.supers)
        .where(BoxStack.colony_id == Treatment.colony_id, BoxStack.on <= Treatment.in_on)
        .order_by(BoxStack.on.desc(), BoxStack.id.desc())
        .limit(1)
        .scalar_subquery()
    )
    query = select(Treatment.id, Treatment.in_on).where(Treatment.reason.is_(None), stack > 0)
    for number, on in session.execute(among(query, Treatment.colony_id, only)):
        yield breach(
            "no-strips-under-supers", f"medicine went in under supers on {long(on)}", f"treatment {number}"
        )
