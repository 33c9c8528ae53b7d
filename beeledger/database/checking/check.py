"""``beeledger check``: every line of "Always true" over a whole ledger.

Each line is a function of a session that yields a finding for every breach. The list below is the whole
check; tests plant each breach by raw SQL.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy.orm import Session

from beeledger.base.findings import Finding
from beeledger.database.checking import (
    history,
    honey,
    papers,
    places,
    queens,
    restrictions,
    soundness,
    stock,
    treatments,
)
from beeledger.database.ledger import Ledger

Check = Callable[[Session], Iterable[Finding]]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of "Always true": its code, its words, and what proves it."""

    code: str
    words: str
    check: Check
    rule: int | None = None
    """Which of the seven lines it proves; none for what all of them rest on."""


LINES = (
    Line("sound", "the file is sound, references hold, triggers and checks are there", soundness.sound),
    Line("one-place", "each living colony is in one place at each moment", places.one_place, 1),
    Line(
        "left-from", "no movement out of a place where the colony was not", places.left_from_where_it_was, 1
    ),
    Line("marks", "a hive number is on one living hive at a time", places.one_mark, 1),
    Line(
        "honey-balance", "weighed honey balances to the gram, no lot gives more than it has", honey.balance, 2
    ),
    Line("jars", "no lot of jars gives more jars than it has", honey.jars, 2),
    Line("stock", "stock balances to the piece and the gram, nothing below nothing", stock.balanced, 2),
    Line(
        "stock-lots",
        "stock is of its own lot, and a counter entry reverses what it takes back",
        stock.lots_and_counters,
        2,
    ),
    Line("stock-turned", "no box appears or vanishes when it changes its state", stock.turned, 2),
    Line("honey-acyclic", "honey never flows back into what it came from", honey.acyclic, 2),
    Line("one-colony", "each queen is in one colony at a time", queens.one_colony, 3),
    Line("traceable", "a lot mark leads to every take behind it", honey.traceable, 4),
    Line(
        "no-medicated-honey",
        "no honey from a treated colony without a written reason",
        treatments.honey_under_treatment,
        5,
    ),
    Line(
        "no-fed-honey",
        "no honey out of supers that were on while it was fed, without a written reason",
        treatments.honey_with_feed,
        5,
    ),
    Line(
        "no-strips-under-supers",
        "no medicine under supers without a written reason",
        treatments.medicine_under_supers,
        5,
    ),
    Line("restricted", "nothing out of a restricted place without a licence", restrictions.nothing_out, 6),
    Line("papers", "each attachment's file is there and unchanged", papers.unchanged),
    Line("history", "the sum of the acts gives the present rows", history.replayed, 7),
)


@dataclass(frozen=True, slots=True)
class Report:
    """What a check of a whole ledger found, and how much it looked at."""

    lines: tuple[tuple[str, str, int], ...]
    """Code, words and number of breaches of each line."""
    findings: tuple[Finding, ...]

    @property
    def clean(self) -> bool:
        """Whether nothing was found."""
        return not self.findings


def check_ledger(
    ledger: Ledger, progress: Callable[[int, int], None] | None = None, more: Sequence[Line] = ()
) -> Report:
    """Prove every line over the whole ledger, in one consistent moment; ``more`` come from the floors above."""
    lines: list[tuple[str, str, int]] = []
    findings: list[Finding] = []
    with ledger.read() as session:
        for number, line in enumerate([*LINES, *more]):
            if progress is not None:
                progress(number, len(LINES) + len(more))
            found = list(line.check(session))
            findings.extend(found)
            lines.append((line.code, line.words, len(found)))
    return Report(tuple(lines), tuple(findings))
