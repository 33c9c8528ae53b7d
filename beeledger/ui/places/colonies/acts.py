"""The forms of the acts on colonies, and what each makes of what was typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from beeledger.base.dates import long
from beeledger.base.findings import holds
from beeledger.base.text import counted
from beeledger.operations.colonies import NewColony, hives_at
from beeledger.operations.queens import NewQueen
from beeledger.queries.records.sites import SiteName
from beeledger.rules.hive_lists import read_hive_list
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

CAUSES = (
    ("", "choose"), ("sold", "sold"), ("united", "united with another"), ("starvation", "starvation"),
    ("queen_failure", "queen failure"), ("drone_layer", "drone layer"), ("disease", "disease"), ("varroa", "varroa"),
    ("dwindled", "dwindled away or empty"), ("damp", "damp"), ("wasps", "wasps"), ("hornet", "hornet"),
    ("animals", "mice, woodpecker or livestock"), ("theft", "theft"), ("vandalism", "vandalism"), ("flood", "flood"),
    ("spray", "spray"), ("transit", "lost on the way"), ("destroyed", "destroyed under notice"), ("unknown", "unknown"),
)  # fmt: skip
_HOW = (
    ("opening", "stood there when the record began"), ("bought", "bought"), ("swarm", "a swarm taken in"),
    ("split", "a split"), ("nucleus", "a nucleus"), ("stranger", "found there"),
)  # fmt: skip
KINDS = (("full", "full colony"), ("nucleus", "nucleus"), ("mating", "mating nucleus"))
YES_NO = (("", "not known"), ("yes", "yes"), ("no", "no"))
_WHY = ("replaced", "failing", "drone layer", "superseded", "lost", "bad temper")


@dataclass(frozen=True, slots=True)
class Ending:
    """When colonies ended and of what."""

    on: date
    cause: str


@dataclass(frozen=True, slots=True)
class Requeening:
    """A queen given, when, and why the one before went."""

    queen: NewQueen
    on: date
    why: str


@dataclass(frozen=True, slots=True)
class Numbering:
    """A number given from a day on; with ``swap`` the hive that carries it gets this one's."""

    mark: str
    on: date
    swap: bool


def end_form(names: str, today: date) -> TypedForm:
    """End colonies with a cause."""
    form = TypedForm(
        f"End {names}",
        "End with this cause",
        _ending,
        today,
        "Nothing is erased: place, number and queen end with it.",
    )
    form.add_side_by_side(
        {"on": Field("Day", long(today), width=150), "cause": Field("Cause", editor=Choice(CAUSES))}
    )
    form.caution(
        "If you suspect foul brood or another notifiable disease, close the hive, move nothing, and tell the bee inspector."
    )
    return form


def requeen_form(names: str, today: date) -> TypedForm:
    """Give a colony a queen."""
    form = TypedForm(
        f"A queen for {names}", "Give this queen", _requeening, today, "The queen on record ends that day."
    )
    form.add_side_by_side(
        {
            "on": Field("Day", long(today), width=150),
            "year": Field("Year she hatched", str(today.year), width=150),
        }
    )
    form.add_side_by_side(
        {
            "tag": Field("Number on her tag", width=130),
            "marked": Field("Marked", editor=Choice(YES_NO), width=118),
            "clipped": Field("Clipped", editor=Choice(YES_NO), width=118),
        }
    )
    form.add_side_by_side({"line": Field("Line"), "origin": Field("Where from")})
    form.add(
        "why", Field("Why the one before went", editor=Choice([(word, word) for word in _WHY], free=True))
    )
    return form  # fmt: skip


def number_form(names: str, today: date) -> TypedForm:
    """Give a hive a number, or swap numbers with another."""
    note = "An empty number takes it off. A swap moves what rounds wrote under the two numbers since that day, too."
    form = TypedForm(f"The number of {names}", "Give this number", _numbering, today, note)
    form.add_side_by_side({"mark": Field("Number", width=150), "on": Field("Since", long(today), width=150)})
    swaps = (("no", "no, it is free"), ("yes", "yes, the two were swapped"))
    form.add("swap", Field("Another hive carries it", editor=Choice(swaps)))
    return form


def found_form(sites: Sequence[SiteName], today: date, site_id: int | None = None) -> TypedForm:
    """Bring colonies into the record at a site."""
    form = TypedForm(
        "New colonies", "Add these colonies", _founding, today, "They stand in walking order as typed."
    )
    choices = [(str(site.site_id), f"{site.name}  {site.code}") for site in sites]
    form.add("site", Field("Site", str(site_id or ""), editor=Choice(choices)))
    form.add("hives", Field("Hive numbers", prompt="1-20, 31, 40"))
    form.add_side_by_side(
        {
            "on": Field("Day", long(today), width=150),
            "year": Field("Queens of the year", width=150),
        }
    )
    form.add_side_by_side(
        {"kind": Field("Kind", editor=Choice(KINDS)), "how": Field("How they came", editor=Choice(_HOW))}
    )
    return form


def _ending(typed: Typed) -> Ending | None:
    on, cause = typed.day("on", needed=True), typed.wanted("cause", "an end needs its cause")
    return Ending(on, cause) if on and cause else None


def _requeening(typed: Typed) -> Requeening | None:
    on, year = typed.day("on", needed=True), typed.whole("year")
    if year is not None and not 1900 <= year <= typed.today.year:
        typed.refuse("year", f"{year} is no year a queen of today hatched in", "Type four figures")
    queen = NewQueen(
        year, typed.yes("marked"), typed.yes("clipped"), typed.text("tag") or None, typed.text("line") or None,
        typed.text("origin") or None,
    )  # fmt: skip
    return Requeening(queen, on, typed.text("why") or _WHY[0]) if on else None


def _numbering(typed: Typed) -> Numbering | None:
    on, swap = typed.day("on", needed=True), bool(typed.yes("swap"))
    if swap:
        typed.wanted("mark", "a swap needs the other hive's number")
    return Numbering(typed.text("mark"), on, swap) if on else None


def _founding(typed: Typed) -> list[NewColony] | None:
    site, on = typed.wanted("site", "choose a site; add one in Sites first"), typed.day("on", needed=True)
    year = typed.whole("year")
    hives = read_hive_list(typed.wanted("hives", "type the numbers of the hives"))
    for finding in hives.findings:
        typed.refuse("hives", finding.what, finding.mend)
    if not hives.marks and not holds(typed.findings):
        typed.refuse("hives", "no hive is named", "Write 12, 12-18 or 40")
    if on is None or not site.isdigit():
        return None
    made = hives_at(int(site), on, hives.marks, queen_year=year, kind=typed.text("kind") or "full")
    return [_came(new, typed.text("how") or "opening") for new in made]


def _came(new: NewColony, how: str) -> NewColony:
    return NewColony(new.mark, new.site_id, new.on, new.kind, how, new.queen, stand=new.stand)


def names_of(marks: Sequence[str | None]) -> str:
    """Hives in a form's title: "hive 12", "14 hives"."""
    if len(marks) == 1:
        return f"hive {marks[0]}" if marks[0] else "a hive without a number"
    return counted(len(marks), "hive")
