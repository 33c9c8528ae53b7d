"""What each document asks for before it is made, and the form that asks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from beeledger.base.dates import long
from beeledger.base.text import folded
from beeledger.queries.paper_choices import PaperChoices
from beeledger.reporting.catalogue import Document
from beeledger.reporting.records import A_YEAR, Wanted
from beeledger.rules.lot_marks import read_mark
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field


@dataclass(frozen=True, slots=True)
class Asks:
    """What a document needs. ``what``: the kind of choice, by its name in the choices."""

    what: str = ""
    label: str = ""
    missing: str = ""
    """What is said where there is nothing to choose from."""
    all_of_them: str = ""
    """The words for no choice, where that is one."""
    day: bool = False
    period: bool = False
    labels: bool = False
    mark: bool = False


ASKS: Mapping[str, Asks] = {
    "round-sheet": Asks("sites", "Site", "There is no site yet.", day=True),
    "round-summary": Asks("rounds", "Round", "No round has been posted yet."),
    "movement-report": Asks("contracts", "Contract", "There is no contract yet."),
    "movement-register": Asks("all_sites", "Site", all_of_them="all sites", period=True),
    "contacts": Asks("sites", "Site", "There is no site yet.", period=True),
    "medicine-register": Asks("all_sites", "Site", all_of_them="all sites", period=True),
    "label-sheet": Asks("batches", "Batch", "There is no batch yet.", labels=True),
    "batch-record": Asks("batches", "Batch", "There is no batch yet."),
    "delivery-note": Asks("dispatches", "Dispatch", "Nothing has been sent yet."),
    "recall-paper": Asks(mark=True),
    "pedigree": Asks("queens", "Queen", "No queen is in the record yet."),
    "marks-sheet": Asks(),
    "words-we-use": Asks(),
    "stock-list": Asks(),
    "route-card": Asks(day=True),
}
"""By the key of the catalogue."""


def wish_form(about: Document, choices: PaperChoices, today: date) -> TypedForm:
    """The form of a document; what it hands on is a ``Wanted``."""
    asks = ASKS[about.key]
    offered = [(str(number), words) for number, words in choices.of(asks.what)] if asks.what else []

    def read(typed: Typed) -> Wanted:
        return _wanted(typed, asks, offered)

    form = TypedForm(about.title, "Show", read, today, about.about)
    if asks.what:
        blank = [("", asks.all_of_them)] if asks.all_of_them else []
        form.add("which", Field(asks.label, editor=Choice([*blank, *offered], free=True)))
    if asks.mark:
        form.add("mark", Field("Lot mark", prompt="as it stands on the jar"))
    if asks.day:
        form.add("first", Field("For the day", long(today), width=130))
    if asks.period:
        form.add_side_by_side(
            {
                "first": Field("From", long(today - A_YEAR), width=110),
                "last": Field("Until", long(today), width=110),
            }
        )
    if asks.labels:
        form.add_side_by_side(
            {
                "count": Field("Labels", prompt="one a jar", width=110),
                "start": Field("From place", "1", width=90),
            }
        )
    if asks.what and not offered and not asks.all_of_them:
        form.main.off(asks.missing)
        form.caution(asks.missing)
    return form


def _wanted(typed: Typed, asks: Asks, offered: list[tuple[str, str]]) -> Wanted:
    first = typed.day("first", needed=True) if asks.day or asks.period else None
    last = typed.day("last", needed=True) if asks.period else None
    if first and last and last < first:
        typed.refuse("last", "the period ends before it begins")
    if asks.mark:
        _check_mark(typed)
    count = typed.whole("count") if asks.labels else None
    start = (typed.whole("start") if asks.labels else None) or 1
    if count is not None and not 1 <= count <= _MOST_LABELS:
        typed.refuse("count", f"labels are printed 1 to {_MOST_LABELS:,} at a time")
    return Wanted(
        typed.today, _number(typed, asks, offered) if asks.what else None, typed.text("mark"), first, last,
        count, start,
    )  # fmt: skip


_MOST_LABELS = 20_000


def _number(typed: Typed, asks: Asks, offered: list[tuple[str, str]]) -> int | None:
    """The one chosen, or typed so that it can only be one."""
    words = typed.text("which")
    if folded(words) in ("", folded(asks.all_of_them)):
        if not asks.all_of_them:
            typed.refuse("which", f"the {asks.label.lower()} is missing", "Choose one of the list")
        return None
    if words in {number for number, _ in offered}:
        return int(words)
    meant = [int(number) for number, said in offered if folded(words) in folded(said)]
    exact = [int(number) for number, said in offered if folded(words) == folded(said)]
    if len(exact or meant) == 1:
        return (exact or meant)[0]
    what = "several are called so" if meant else "there is none of that name"
    typed.refuse("which", what, "Choose one of the list")
    return None


def _check_mark(typed: Typed) -> None:
    words = typed.wanted("mark", "its lot mark is missing")
    if not words:
        return
    try:
        read_mark(words)
    except ValueError as error:
        typed.refuse("mark", str(error), "Read it again from the jar")
