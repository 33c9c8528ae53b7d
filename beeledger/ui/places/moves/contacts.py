"""What is asked before the contacts of a site are shown: which site, which days, how far around, onward or back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from beeledger.base.dates import long
from beeledger.base.units import kilometres
from beeledger.queries.records.move_desk import MoveChoices
from beeledger.rules.sites import near_m
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

_KM = 1_000
_WEEKS = timedelta(weeks=12)
"""The period offered first; common practice, no source: the inspector says how far back to look."""


@dataclass(frozen=True, slots=True)
class ContactsWanted:
    """Contacts of one site; both days are within the period."""

    site_id: int
    site: str
    first: date
    last: date
    back: bool
    radius_m: int


def contacts_form(choices: MoveChoices, today: date, site_id: int | None = None) -> TypedForm:
    """The site and its period."""
    names = {str(site.id): site.name for site in choices.sites}

    def read(typed: Typed) -> ContactsWanted | None:
        first, last = typed.day("first", needed=True), typed.day("last", needed=True)
        site, radius = typed.wanted("site", "the site is missing"), typed.whole("radius", _KM)
        if first is None or last is None or not site:
            return None
        if last < first:
            typed.refuse("last", "the period ends before it begins")
        return ContactsWanted(
            int(site), names[site], first, last, typed.text("way") == "back", radius or near_m()
        )

    form = TypedForm(
        "Contacts of a site", "Show", read, today,
        "Which sites and hives it may have reached, day by day along moves and gifts, or which may have reached it.",
    )  # fmt: skip
    form.add("site", Field("Site", editor=Choice([("", ""), *names.items()])))
    form.add_side_by_side(
        {
            "first": Field("From", long(today - _WEEKS), width=130),
            "last": Field("Until", long(today), width=130),
        }
    )
    ways = (("onward", "what it may have reached"), ("back", "what may have reached it"))
    form.add("way", Field("Which way", editor=Choice(ways), message=False))
    form.add("radius", Field("Own sites within", kilometres(near_m()), unit="km", width=90))
    form.set_values({"site": str(site_id or "")})
    return form
