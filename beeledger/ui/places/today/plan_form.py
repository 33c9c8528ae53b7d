"""The form of a day to plan: its date, and of each van its crew and hours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from beeledger.base.dates import long
from beeledger.base.resources import table
from beeledger.base.times import clock_words, read_minute
from beeledger.queries.parties import VehicleLine
from beeledger.rules.day_plan import Van
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field

_AHEAD = timedelta(days=364)
"""A day typed without its year is to come: it is read as one of the year from today."""
_NOTE = (
    "The search weighs the drive against what each visit is worth: more where something is late. "
    "Minutes at a site are learnt from posted rounds; a break is not planned in."
)


@dataclass(frozen=True, slots=True)
class DayWish:
    """What is to be planned."""

    on: date
    vans: tuple[Van, ...]


def plan_form(where: str, vehicles: Sequence[VehicleLine], today: date, last: DayWish | None) -> TypedForm:
    """Ask for the date and who goes out; a van that was sent before keeps its crew and hours."""

    def read(typed: Typed) -> DayWish | None:
        on = typed.day("on", needed=True)
        if on is not None and on < today:
            typed.refuse("on", "that day is over", "Type today or a day to come")
        vans = [van for each in vehicles if (van := _van(typed, each)) is not None]
        if not vans and not typed.findings:
            typed.refuse(f"goes_{vehicles[0].id}", "no van goes out", "Let one go")
        return DayWish(on, tuple(vans)) if on else None

    form = TypedForm(f"Plan the day: {where}", "Plan the day", read, today + _AHEAD, _NOTE)
    form.add("on", Field("Date", long(last.on if last else today + timedelta(days=1)), width=150))
    hours = table("rules", "day_plan.toml")["hours"]
    before = {van.name: van for van in last.vans} if last else {}
    for each in vehicles:
        van = before.get(each.name)
        starts = van.from_s // 60 if van else hours["starts_minute"]
        ends = van.until_s // 60 if van else hours["ends_minute"]
        goes = "no" if last and van is None else "yes"
        choice = Choice([("yes", "goes out"), ("no", "stays")])
        form.add_side_by_side(
            {
                f"goes_{each.id}": Field(each.name, goes, editor=choice, width=110),
                f"crew_{each.id}": Field("Crew", van.crew if van else "", prompt="initials", width=110),
            }
        )
        form.add_side_by_side(
            {
                f"from_{each.id}": Field("From", clock_words(starts), width=110),
                f"until_{each.id}": Field("Home by", clock_words(ends), width=110),
            }
        )
    return form


def _van(typed: Typed, vehicle: VehicleLine) -> Van | None:
    """The van as typed; None where it stays or its hours cannot be read."""
    key = str(vehicle.id)
    if typed.text(f"goes_{key}") != "yes":
        return None
    starts, ends = _minute(typed, f"from_{key}"), _minute(typed, f"until_{key}")
    if starts is None or ends is None:
        return None
    if ends <= starts:
        typed.refuse(f"until_{key}", "it is home before it leaves", "Type a later hour")
        return None
    return Van(vehicle.name, starts * 60, ends * 60, vehicle.payload_g, typed.text(f"crew_{key}"))


def _minute(typed: Typed, field: str) -> int | None:
    try:
        return read_minute(typed.text(field))
    except ValueError as error:
        typed.refuse(field, str(error), "Type it as 8:00")
        return None
