"""Which record each document of the catalogue is made from, by a number or a name on the command line."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from beeledger.base.errors import CannotNow
from beeledger.base.text import folded

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

_A_YEAR = timedelta(days=365)


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be printed. ``which`` is a number or a name, blank for the newest."""

    which: str
    today: date
    first: date | None = None
    last: date | None = None
    count: int | None = None
    start: int = 1


@dataclass(frozen=True, slots=True)
class Paper:
    """A record and what its file is called."""

    record: Any
    name: str


def paper_for(key: str, session: Session, wish: Wish) -> Paper:
    """The record of a document. CannotNow when there is nothing of that number or name."""
    return PAPERS[key](session, wish)


def _round_sheet(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.round_paper import printed_sheet
    from beeledger.queries.sites import open_sites

    sites = [(site.site_id, (site.name, site.code)) for site in open_sites(session)]
    number = _chosen(sites, wish.which, "site")
    day = wish.first or wish.today
    sheet = printed_sheet(session, number, day)
    return Paper(sheet, f"round sheet {sheet.site} {day}")


def _round_summary(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.round_paper import round_summary
    from beeledger.queries.rounds import recent_rounds

    rounds = [(row.round_id, (row.uid,)) for row in recent_rounds(session, limit=100_000)]
    summary = round_summary(session, _chosen(rounds, wish.which, "round"))
    return Paper(summary, f"round {summary.site} {summary.day}")


def _movement_report(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.contracts import list_contracts, report_record

    rows = list_contracts(session, wish.today)
    begun = [row for row in rows if row.terms.on <= wish.today] or list(rows)
    newest = sorted(begun, key=lambda row: row.terms.on, reverse=True)
    others = [row for row in rows if row not in newest]
    number = _chosen([(row.id, (row.name,)) for row in (*newest, *others)], wish.which, "contract")
    report = report_record(session, number, wish.today)
    return Paper(report, f"movement report {report.contract}")


def _movement_register(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.moves import register_record

    first, last = _period(wish)
    register = register_record(session, first, last, site_id=_site_asked(session, wish))
    return Paper(register, f"movement register {register.scope} {first} to {last}")


def _medicine_register(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.medicines import register_record

    first, last = _period(wish)
    register = register_record(session, first, last, site_id=_site_asked(session, wish))
    return Paper(register, f"medicine register {register.scope} {first} to {last}")


def _period(wish: Wish) -> tuple[date, date]:
    """The days of a register: a year until today where nobody says."""
    last = wish.last or wish.today
    return wish.first or last - _A_YEAR, last


def _site_asked(session: Session, wish: Wish) -> int | None:
    """The site a register is of, given up or not; None: of all."""
    from beeledger.queries.medicines import register_sites
    from beeledger.queries.sites import open_sites

    codes = {site.site_id: site.code for site in open_sites(session)}
    sites = [(number, (name, codes.get(number, name))) for number, name in register_sites(session)]
    return _chosen(sites, wish.which, "site") if wish.which else None


def _delivery_note(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.dispatches import delivery_note, dispatch_log

    rows = [(row.id, (row.reference,)) for row in dispatch_log(session, 100_000)]
    note = delivery_note(session, _chosen(rows, wish.which, "dispatch", "dispatches"))
    return Paper(note, f"delivery note {note.reference or note.number}")


def _recall(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.labels import batches
    from beeledger.queries.recall import recall

    number = _batch(session, wish)
    mark = next(row.lot_mark for row in batches(session) if row.id == number)
    return Paper(recall(session, mark), f"recall {mark}")


def _marks_sheet(_session: Session, wish: Wish) -> Paper:
    from beeledger.queries.marks_sheet import marks_sheet

    return Paper(marks_sheet(wish.today), "marks of the quick line")


def _label_sheet(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.labels import label_run

    run = label_run(session, _batch(session, wish), wish.count, wish.start - 1)
    return Paper(run, f"labels {run.label.lot_mark.removeprefix('L ')}")


def _batch_record(session: Session, wish: Wish) -> Paper:
    from beeledger.queries.labels import batch_record, label_run
    from beeledger.reporting.label_check import particular_lines

    number = _batch(session, wish)
    record = batch_record(session, number, particular_lines(label_run(session, number)))
    return Paper(record, f"batch record {record.lot.removeprefix('L ')}")


def _batch(session: Session, wish: Wish) -> int:
    from beeledger.queries.labels import batches

    return _chosen([(row.id, (row.lot_mark,)) for row in batches(session)], wish.which, "batch", "batches")


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


PAPERS: Mapping[str, Callable[[Session, Wish], Paper]] = {
    "round-sheet": _round_sheet,
    "round-summary": _round_summary,
    "movement-report": _movement_report,
    "movement-register": _movement_register,
    "medicine-register": _medicine_register,
    "label-sheet": _label_sheet,
    "batch-record": _batch_record,
    "delivery-note": _delivery_note,
    "recall-paper": _recall,
    "marks-sheet": _marks_sheet,
}
"""By the key of the catalogue."""
