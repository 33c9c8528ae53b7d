"""Notices of spraying at the chosen site: written, shown with whom to call and the cautions, closed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.base.times import read_minute
from beeledger.base.units import kilometres
from beeledger.operations.spray import NewSpray, SprayDone, close_spray_notice, record_spray_notice
from beeledger.queries.records.sites import SiteCard, SiteLine
from beeledger.queries.spray import NoticeLine, spray_at
from beeledger.rules.sites import Spot, near_m, read_grid, spot_at
from beeledger.rules.spray import choices, first_call
from beeledger.ui.parts.table_place import TablePlace
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.fact_rows import Fact
from beeledger.ui.widgets.field import Field, note_editor
from beeledger.ui.widgets.marks import Mark

_KM = 1_000


class Spraying:
    """What the place does about spraying. ``card`` gives the site, ``show`` takes the facts for its card."""

    def __init__(
        self, place: TablePlace, card: Callable[[], SiteCard | None], show: Callable[[list[Fact]], None]
    ) -> None:
        self._place, self._card, self._show = place, card, show
        self._notices: list[NoticeLine] = []

    def read(self, site_id: int) -> None:
        """Read the notices whose circle the site is in."""
        self._place.desk.read(spray_at, site_id, owner=self._place, then=self._read, key="spray")

    def record(self) -> None:
        """The form of a new notice around the chosen site."""
        card = self._card()
        if card is not None:
            form = spray_form(card.line, self._place.desk.clock.today())
            self._place.ask(form, "spray", record_spray_notice)

    def open(self, key: object) -> None:
        """A line of the card was opened: close the notice with what was done."""
        line = next((one for one in self._notices if one.id == key and one.closed_on is None), None)
        if line is not None:
            form = close_form(line, self._place.desk.clock.today())
            self._place.ask(form, "spray_done", close_spray_notice)

    def _read(self, notices: list[NoticeLine]) -> None:
        self._notices = notices
        clock = self._place.desk.clock
        self._show(spray_facts(notices, [one for one in notices if one.runs(clock.now())], clock.zone))


def spray_facts(notices: Sequence[NoticeLine], running: Sequence[NoticeLine], zone: str) -> list[Fact]:
    """Each notice with its sites and whom to call; a running one stands out."""
    return [fact for line in notices for fact in _facts(line, zone, now=line in running)]


def _facts(line: NoticeLine, zone: str, *, now: bool) -> list[Fact]:
    start, end = (moment.astimezone(ZoneInfo(zone)) for moment in (line.from_at, line.until_at))
    when = f"{short(start.date())} {start:%H:%M} to {short(end.date())} {end:%H:%M}"
    if not now:
        done = line.done or "over; not closed"
        said = " · ".join((long(line.from_on), line.substance or "spraying", done))
        return [Fact(f"From {line.given_by}", "", Mark.MET if line.done else Mark.ODD, said, key=line.id)]
    what = f"{line.substance or 'spraying'} within {kilometres(line.radius_m)} km, {when}"
    head = Fact(f"From {line.given_by}", "", Mark.LATE, what, weight=600, ink="now", key=line.id)
    inside = [
        Fact(one.site, counted(one.hives, "hive"), middle=" · ".join((f"{kilometres(one.metres)} km", one.call)).rstrip(" ·"))
        for one in line.sites
    ]  # fmt: skip
    return [head, Fact("Ring", middle=line.call), *inside]


def spray_form(site: SiteLine, today: date) -> TypedForm:
    """A notice as it was rung through."""

    def read(typed: Typed) -> NewSpray:
        start = typed.day("from_on", needed=True) or today
        end = typed.day("until_on", needed=True) or today
        return NewSpray(
            typed.wanted("given_by", "say who gave the notice"), _middle(typed, site),
            typed.whole("radius", _KM) or 0, start, _minute(typed, "from_at"), end, _minute(typed, "until_at"),
            typed.text("substance"), typed.text("note"),
        )  # fmt: skip

    form = TypedForm(f"A spray notice near {site.name}", "Write it down", read, today, first_call())
    form.add("given_by", Field("Given by", prompt="grower, contractor or neighbour"))
    form.add_side_by_side(
        {
            "middle": Field("Circle around", site.grid or "", prompt="SO 392 751"),
            "radius": Field("Radius", kilometres(near_m()), unit="km", width=90),
        }
    )
    form.add_side_by_side(
        {"from_on": Field("From", long(today), width=130), "from_at": Field("at", width=70, prompt="20:00")}
    )
    after = long(today + timedelta(days=1))
    form.add_side_by_side(
        {"until_on": Field("Until", after, width=130), "until_at": Field("at", width=70, prompt="02:00")}
    )
    form.add("substance", Field("What is sprayed, in words"))
    form.add("note", Field("Note", editor=note_editor(), message=False))
    return form


def close_form(line: NoticeLine, today: date) -> TypedForm:
    """What was done; what may be done stands under it with its cautions."""

    def read(typed: Typed) -> SprayDone:
        return SprayDone(line.id, typed.wanted("done", "say what was done, or that nothing was"))

    form = TypedForm(f"Spray notice from {line.given_by}", "Close it", read, today, first_call())
    offered = [("", ""), *((one.words, one.words) for one in choices())]
    form.add("done", Field("What was done", editor=Choice(offered, free=True)))
    form.caution(" ".join(f"{one.words}: {' '.join(one.cautions)}" for one in choices()))
    return form


def _middle(typed: Typed, site: SiteLine) -> Spot | None:
    if not typed.text("middle"):
        return spot_at(site.easting_m, site.northing_m, site.latitude_e6, site.longitude_e6)
    try:
        return read_grid(typed.text("middle"))
    except ValueError as error:
        typed.refuse("middle", str(error), "Write two letters and 6, 8 or 10 figures")
        return None


def _minute(typed: Typed, field: str) -> int:
    if not typed.wanted(field, "the time of day is missing"):
        return 0
    try:
        return read_minute(typed.text(field))
    except ValueError as error:
        typed.refuse(field, str(error), "Type it as 14:30")
        return 0
