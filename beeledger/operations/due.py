"""What is due, rebuilt at the end of each act for the colonies it touched. Not in History: it follows from facts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from beeledger.base.dates import short
from beeledger.database.audit import OpenAct
from beeledger.model.colonies import Colony, Placement
from beeledger.model.due import Due, DueRule, PutOff
from beeledger.queries.colony_facts import facts_of
from beeledger.queries.due_rule import rule_words
from beeledger.queries.farm import farm_settings
from beeledger.rules.due import Due as Reason
from beeledger.rules.due import due

PORTION = 5_000
"""Colonies asked about in one statement: databases have a limit on what a statement may name."""


def rebuild_due(act: OpenAct) -> None:
    """Put the reasons of every colony the act touched in place of those that stand."""
    rebuild_for(act, act.colonies)


def rebuild_all(act: OpenAct) -> str:
    """Rebuild what is due for every living colony: after the settings of the rule changed."""
    ids = act.session.scalars(select(Colony.id).where(Colony.ended_on.is_(None))).all()
    rebuild_for(act, ids)
    keep_rule(act)
    return f"Worked out again what is due at {len(ids):,} colonies"


def keep_rule(act: OpenAct) -> None:
    """Keep by which rule what is due was worked out."""
    connection = act.session.connection()
    connection.execute(delete(DueRule))
    connection.execute(insert(DueRule), {"id": 1, "words": rule_words()})


def rebuild_for(act: OpenAct, colony_ids: Iterable[int]) -> None:
    """Rebuild what is due for given colonies, in portions of a constant number of statements."""
    ids = sorted(colony_ids)
    for start in range(0, len(ids), PORTION):
        _rebuild(act, ids[start : start + PORTION])


def forget_due(act: OpenAct, colony_ids: Sequence[int], site_ids: Sequence[int] = ()) -> None:
    """Drop the reasons at colonies and sites that are about to go with the act that made them."""
    for column, ids in ((Due.colony_id, colony_ids), (Due.site_id, site_ids)):
        for start in range(0, len(ids), PORTION):
            act.session.connection().execute(delete(Due).where(column.in_(ids[start : start + PORTION])))


def _rebuild(act: OpenAct, ids: Sequence[int]) -> None:
    # Straight to the tables: derived rows are no part of the audit, and thousands of them must be quick.
    connection = act.session.connection()
    connection.execute(delete(Due).where(Due.colony_id.in_(ids)))
    rows = due_rows(act.session, ids, act.today)
    if rows:
        connection.execute(insert(Due), rows)


def due_rows(session: Session, ids: Sequence[int], today: date) -> list[dict[str, Any]]:
    """What is due at colonies by the rule, from what the record has of them, as its rows."""
    sites = {
        row[0]: row[1]
        for row in session.execute(
            select(Placement.colony_id, Placement.site_id).where(
                Placement.colony_id.in_(ids), Placement.until_at.is_(None)
            )
        )
    }
    settings = farm_settings(session).due_settings
    later = put_off(session, ids)
    return [
        _row(one, sites.get(one.colony), later.get((one.colony, one.code, one.due_on)))
        for facts in facts_of(session, ids, today, settings)
        for one in due(facts, settings)
    ]


def put_off(session: Session, ids: Sequence[int]) -> dict[tuple[int, str, date], PutOff]:
    """What a person put off, by colony, kind and the day by the rule; the last word where there are several."""
    query = select(PutOff).where(PutOff.colony_id.in_(ids)).order_by(PutOff.id)
    return {(row.colony_id, row.code, row.first_on): row for row in session.scalars(query)}


def _row(one: Reason, site_id: int | None, later: PutOff | None) -> dict[str, Any]:
    why, due_on = one.why, one.due_on
    if later is not None:
        why, due_on = f"{why}; {put_off_words(later)}", later.until_on
    return {
        "colony_id": one.colony, "site_id": site_id, "code": one.code, "what": one.what, "why": why,
        "due_on": due_on, "minutes": one.minutes, "fact": one.fact or None, "fact_on": one.fact_on,
        "first_on": None if later is None else later.first_on,
    }  # fmt: skip


def put_off_words(later: PutOff) -> str:
    """As "put off to 20 May by RS: rain"."""
    by = f" by {later.by_whom}" if later.by_whom else ""
    return f"put off to {short(later.until_on)}{by}: {later.note}"
