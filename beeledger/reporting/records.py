"""Which record each document of the catalogue is made from: the one pairing for window and command line."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from beeledger.base.errors import CannotNow
from beeledger.queries import contracts, medicines, moves
from beeledger.queries.contacts import contacts_of_site
from beeledger.queries.dispatches import delivery_note
from beeledger.queries.glossary import glossary
from beeledger.queries.labels import batch_record, label_run
from beeledger.queries.marks_sheet import marks_sheet
from beeledger.queries.pedigrees import pedigree_of
from beeledger.queries.recall import recall
from beeledger.queries.round_paper import printed_sheet, round_summary
from beeledger.queries.route_card import proposed_card
from beeledger.queries.stock_paper import stock_sheet
from beeledger.reporting.label_check import particular_lines

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

A_YEAR = timedelta(days=365)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be made. ``number``: of the round, site, contract, batch, dispatch or queen; ``mark``: a lot mark."""

    today: date
    number: int | None = None
    mark: str = ""
    first: date | None = None
    last: date | None = None
    count: int | None = None
    start: int = 1

    @property
    def one(self) -> int:
        """The number, where there must be one. CannotNow when none was chosen."""
        if self.number is None:
            raise CannotNow("Nothing was chosen to make this from.")
        return self.number


@dataclass(frozen=True, slots=True)
class Paper:
    """A record and what its file is called."""

    record: Any
    name: str


def paper_for(key: str, session: Session, wanted: Wanted) -> Paper:
    """The record of a document and its name. CannotNow when there is nothing of that kind."""
    return PAPERS[key](session, wanted)


def _round_sheet(session: Session, wanted: Wanted) -> Paper:
    day = wanted.first or wanted.today
    sheet = printed_sheet(session, wanted.one, day)
    return Paper(sheet, f"round sheet {sheet.site} {day}")


def _round_summary(session: Session, wanted: Wanted) -> Paper:
    summary = round_summary(session, wanted.one)
    return Paper(summary, f"round {summary.site} {summary.day}")


def _movement_report(session: Session, wanted: Wanted) -> Paper:
    report = contracts.report_record(session, wanted.one, wanted.today)
    return Paper(report, f"movement report {report.contract}")


def _movement_register(session: Session, wanted: Wanted) -> Paper:
    last = wanted.last or wanted.today
    first = wanted.first or last - A_YEAR
    register = moves.register_record(session, first, last, site_id=wanted.number)
    return Paper(register, f"movement register {register.scope} {first} to {last}")


def _contacts(session: Session, wanted: Wanted) -> Paper:
    last = wanted.last or wanted.today
    first = wanted.first or last - A_YEAR
    trace = contacts_of_site(session, wanted.one, first, last)
    return Paper(trace, f"contacts {trace.scope} {first} to {last}")


def _medicine_register(session: Session, wanted: Wanted) -> Paper:
    last = wanted.last or wanted.today
    first = wanted.first or last - A_YEAR
    register = medicines.register_record(session, first, last, site_id=wanted.number)
    return Paper(register, f"medicine register {register.scope} {first} to {last}")


def _label_sheet(session: Session, wanted: Wanted) -> Paper:
    run = label_run(session, wanted.one, wanted.count, wanted.start - 1)
    return Paper(run, f"labels {run.label.lot_mark.removeprefix('L ')}")


def _batch_record(session: Session, wanted: Wanted) -> Paper:
    record = batch_record(session, wanted.one, particular_lines(label_run(session, wanted.one)))
    return Paper(record, f"batch record {record.lot.removeprefix('L ')}")


def _delivery_note(session: Session, wanted: Wanted) -> Paper:
    note = delivery_note(session, wanted.one)
    return Paper(note, f"delivery note {note.reference or note.number}")


def _recall(session: Session, wanted: Wanted) -> Paper:
    try:
        found = recall(session, wanted.mark)
    except ValueError as error:
        raise CannotNow(f"{error}.", "Read it again from the jar, character by character.") from None
    if found is None:
        raise CannotNow(f"No jar of this farm bears {wanted.mark.strip()}.", "Read it again from the jar.")
    return Paper(found, f"recall {found.lot_mark}")


def _pedigree(session: Session, wanted: Wanted) -> Paper:
    found = pedigree_of(session, wanted.one)
    if found is None:
        raise CannotNow("There is no such queen in this ledger.")
    return Paper(found, f"pedigree {found.subject.words}")


def _stock_list(session: Session, wanted: Wanted) -> Paper:
    return Paper(stock_sheet(session, wanted.today), f"stock list {wanted.today}")


def _route_card(session: Session, wanted: Wanted) -> Paper:
    day = wanted.first or wanted.today
    return Paper(proposed_card(session, day), f"route card {day}")


def _marks_sheet(_session: Session, wanted: Wanted) -> Paper:
    return Paper(marks_sheet(wanted.today), "marks of the quick line")


def _words_we_use(_session: Session, _wanted: Wanted) -> Paper:
    return Paper(glossary(), "words we use")


PAPERS: Mapping[str, Callable[[Session, Wanted], Paper]] = {
    "round-sheet": _round_sheet,
    "round-summary": _round_summary,
    "movement-report": _movement_report,
    "movement-register": _movement_register,
    "contacts": _contacts,
    "medicine-register": _medicine_register,
    "label-sheet": _label_sheet,
    "batch-record": _batch_record,
    "delivery-note": _delivery_note,
    "recall-paper": _recall,
    "pedigree": _pedigree,
    "marks-sheet": _marks_sheet,
    "words-we-use": _words_we_use,
    "stock-list": _stock_list,
    "route-card": _route_card,
}
"""By the key of the catalogue."""
