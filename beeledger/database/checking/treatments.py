"""Honey and medicine kept apart, or a written reason."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.findings import Finding
from beeledger.database.checking.breach import breach
from beeledger.model.colonies import BoxStack
from beeledger.model.honey import Take, TakeLine
from beeledger.model.medicines import Medicine, Treatment
from beeledger.rules import medicines


def honey_under_treatment(session: Session) -> Iterator[Finding]:
    """A take from a colony under treatment or within its withdrawal has a written reason."""
    courses: dict[int, list[medicines.Treatment]] = defaultdict(list)
    query = select(
        Treatment.colony_id, Medicine.active, Treatment.in_on, Treatment.out_on, Medicine.withdrawal_days
    ).join(Medicine, Medicine.id == Treatment.medicine_id)
    for colony, active, in_on, out_on, days in session.execute(query):
        courses[colony].append(medicines.Treatment(active, in_on, out_on, days))
    takes = (
        select(TakeLine.id, TakeLine.colony_id, Take.on)
        .join(Take, Take.id == TakeLine.take_id)
        .where(TakeLine.colony_id.is_not(None), TakeLine.reason.is_(None))
    )
    for line, taken_from, on in session.execute(takes):
        if not medicines.may_take_honey(courses.get(taken_from or 0, ()), on):
            yield breach(
                "no-medicated-honey",
                f"honey was taken on {on:%d.%m.%Y} while medicine was in place",
                f"take line {line}",
            )


def medicine_under_supers(session: Session) -> Iterator[Finding]:
    """Medicine put in while supers for harvest were on has a written reason."""
    stack = (
        select(BoxStack.supers)
        .where(BoxStack.colony_id == Treatment.colony_id, BoxStack.on <= Treatment.in_on)
        .order_by(BoxStack.on.desc(), BoxStack.id.desc())
        .limit(1)
        .scalar_subquery()
    )
    query = select(Treatment.id, Treatment.in_on).where(Treatment.reason.is_(None), stack > 0)
    for number, on in session.execute(query):
        yield breach(
            "no-strips-under-supers", f"medicine went in under supers on {on:%d.%m.%Y}", f"treatment {number}"
        )
