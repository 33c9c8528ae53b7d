"""Making one reason of the facts of a colony."""

from __future__ import annotations

from datetime import date, timedelta

from beeledger.rules.due.facts import ColonyFacts, Due, Fact
from beeledger.rules.due.figures import reason_figures


def one(
    facts: ColonyFacts, code: str, what: str, why: str, due_on: date, fact: tuple[Fact, date | None]
) -> Due:
    """A reason with the minutes of its kind, and the kind and the day of the fact behind it."""
    return Due(facts.colony, code, what, why, due_on, reason_figures()[code].minutes, fact[0], fact[1])


def after(day: date, days: int) -> date:
    """So many days after a day."""
    return day + timedelta(days=days)
