"""Which record a document is made from, by a number or a name on the command line, blank for the newest."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from beeledger.base.errors import CannotNow
from beeledger.base.text import folded

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from beeledger.reporting.records import Paper, Wanted


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be printed. ``which`` is a number or a name, blank for the newest."""

    which: str
    today: date
    first: date | None = None
    last: date | None = None
    count: int | None = None
    start: int = 1

    def of(self, number: int | None = None, mark: str = "") -> Wanted:
        """The same with the thing found that ``which`` means."""
        from beeledger.reporting.records import Wanted

        return Wanted(self.today, number, mark, self.first, self.last, self.count, self.start)


def paper_for(key: str, session: Session, wish: Wish) -> Paper:
    """The record of a document. CannotNow when there is nothing of that number or name."""
    from beeledger.reporting import records

    return records.paper_for(key, session, PAPERS[key](session, wish))


def _site(session: Session, wish: Wish) -> Wanted:
    from beeledger.queries.sites import open_sites

    sites = [(site.site_id, (site.name, site.code)) for site in open_sites(session)]
    return wish.of(_chosen(sites, wish.which, "site"))


def _round(session: Session, wish: Wish) -> Wanted:
    from beeledger.queries.rounds import recent_rounds

    rounds = [(row.round_id, (row.uid,)) for row in recent_rounds(session, limit=100_000)]
    return wish.of(_chosen(rounds, wish.which, "round"))


def _contract(session: Session, wish: Wish) -> Wanted:
    """The newest that has begun where none is named."""
    from beeledger.queries.contract_list import list_contracts

    rows = list_contracts(session, wish.today)
    begun = [row for row in rows if row.terms.on <= wish.today] or list(rows)
    newest = sorted(begun, key=lambda row: row.terms.on, reverse=True)
    others = [row for row in rows if row not in newest]
    return wish.of(_chosen([(row.id, (row.name,)) for row in (*newest, *others)], wish.which, "contract"))


def _any_site(session: Session, wish: Wish) -> Wanted:
    """The site a register is of, given up or not; blank: of all."""
    from beeledger.queries.medicines import register_sites
    from beeledger.queries.sites import open_sites

    if not wish.which:
        return wish.of()
    codes = {site.site_id: site.code for site in open_sites(session)}
    sites = [(number, (name, codes.get(number, name))) for number, name in register_sites(session)]
    return wish.of(_chosen(sites, wish.which, "site"))


def _batch(session: Session, wish: Wish) -> Wanted:
    from beeledger.queries.labels import batches

    rows = {row.id: row.lot_mark for row in batches(session)}
    number = _chosen([(key, (mark,)) for key, mark in rows.items()], wish.which, "batch", "batches")
    return wish.of(number, rows[number])


def _mark(session: Session, wish: Wish) -> Wanted:
    """A lot mark as it was read out, or the newest batch."""
    named = wish.which and not wish.which.isdecimal()
    return wish.of(mark=wish.which) if named else _batch(session, wish)


def _dispatch(session: Session, wish: Wish) -> Wanted:
    from beeledger.queries.dispatches import dispatch_log

    rows = [(row.id, (row.reference,)) for row in dispatch_log(session, 100_000)]
    return wish.of(_chosen(rows, wish.which, "dispatch", "dispatches"))


def _queen(session: Session, wish: Wish) -> Wanted:
    from beeledger.queries.pedigrees import pedigree_subjects

    rows = [(number, (words,)) for number, words in pedigree_subjects(session)]
    return wish.of(_chosen(rows, wish.which, "queen"))


def _nothing(_session: Session, wish: Wish) -> Wanted:
    return wish.of()


def _chosen(rows: Sequence[tuple[int, tuple[str, ...]]], which: str, one: str, many: str = "") -> int:
    """The number that ``which`` means: a number, a name, or blank for the first."""
    if not rows:
        raise CannotNow(f"There is no {one} in this ledger yet.")
    if not which:
        return rows[0][0]
    if which.isdecimal() and int(which) in {number for number, _ in rows}:
        return int(which)
    named = [number for number, names in rows if folded(which) in {folded(name) for name in names}]
    if named:
        return named[0]
    some = ", ".join(names[0] for _, names in rows[:5])
    raise CannotNow(f"There is no {one} {which}.", f"The first {many or one + 's'}: {some}.")


PAPERS: Mapping[str, Callable[[Session, Wish], Wanted]] = {
    "round-sheet": _site,
    "round-summary": _round,
    "movement-report": _contract,
    "movement-register": _any_site,
    "contacts": _site,
    "medicine-register": _any_site,
    "label-sheet": _batch,
    "batch-record": _batch,
    "delivery-note": _dispatch,
    "recall-paper": _mark,
    "pedigree": _queen,
    "marks-sheet": _nothing,
    "words-we-use": _nothing,
    "stock-list": _nothing,
    "route-card": _nothing,
}
"""By the key of the catalogue: how ``which`` is understood."""
