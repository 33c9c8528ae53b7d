"""The forms of what the authority does at a site: a restriction and its release, visits, samples, results."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from beeledger.base.dates import long
from beeledger.base.times import clock_words, read_minute
from beeledger.operations.official import NewSample, NewVisit, Result
from beeledger.operations.restrictions import NewRestriction, Release
from beeledger.queries.records.restrictions import (
    RestrictionChoices,
    RestrictionLine,
    SampleLine,
    SiteOfficial,
)
from beeledger.queries.records.sites import SiteCard, SiteLine
from beeledger.rules.restrictions import Stops, first_words, notifiable_at
from beeledger.rules.sites import GridReference, Spot, read_grid, spot_at
from beeledger.ui.parts.licence import add_licence, licence_in
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field, note_editor

_KM = 1_000
_YES_NO = (("yes", "stays"), ("no", "free"))
_STOPS = (
    ("bees", "Bees"), ("comb", "Comb"), ("honey", "Honey"), ("boxes", "Boxes"), ("tools", "Tools"),
)  # fmt: skip
_KINDS = (
    ("comb", "comb"), ("larvae", "larvae"), ("bees", "bees"), ("honey", "honey"), ("debris", "floor debris"),
    ("other", "other"),
)  # fmt: skip


class RestrictionForm(TypedForm):
    """A restriction from its notification on; of one that stands, what it says now."""

    def __init__(
        self, site: SiteLine, choices: RestrictionChoices, today: date, zone: str, line: RestrictionLine | None = None
    ) -> None:  # fmt: skip
        self.site, self.line = site, line
        title = "Change the restriction" if line else f"Restrict {site.name}"
        super().__init__(title, "Save it" if line else "Restrict", self.read, today, first_words())
        law = notifiable_at(zone)
        self._add_what(choices, law.names)
        self._add_when(today)
        self._add_stops()
        names = [("", ""), *((name, name) for name in choices.authorities)]
        self.add_side_by_side(
            {"by_whom": Field("By whom", editor=Choice(names, free=True)), "reference": Field("Reference")}
        )
        self.add_side_by_side(
            {
                "served_on": Field("Notice served", width=130),
                "expected_end_on": Field("Expected end (nothing ends by it)", width=210),
            }
        )
        self.add("note", Field("Note", editor=note_editor(), message=False))
        add_licence(self)
        self.caution(
            f"It ends by the inspector's written release alone. Notifiable: {', '.join(law.names)} ({law.law})."
        )
        if line is not None:
            self._fill(line, zone)

    def read(self, typed: Typed) -> NewRestriction:
        """The restriction as typed."""
        scope, vehicle = typed.text("scope"), typed.text("scope").removeprefix("vehicle ")
        circle = scope == "area"
        return NewRestriction(
            typed.wanted("reason", "say what is suspected or was found"),
            typed.day("begins_on", needed=True) or typed.today, _minute(typed, "begins_at") or 0,
            site_id=self._site_id() if scope == "site" else None,
            vehicle_id=int(vehicle) if vehicle.isdecimal() else None,
            middle=self._middle(typed) if circle else None,
            radius_m=typed.whole("radius", _KM) if circle else None,
            stops=_stops(typed),
            by_whom=typed.text("by_whom"), reference=typed.text("reference"), served_on=typed.day("served_on"),
            expected_end_on=typed.day("expected_end_on"), note=typed.text("note"), licence=licence_in(typed),
        )  # fmt: skip

    def accepting(self, new: NewRestriction) -> NewRestriction:
        """With what the last try was refused for accepted."""
        return replace(new, accepted=self.asked)

    def _add_what(self, choices: RestrictionChoices, names: Sequence[str]) -> None:
        lies = [("site", f"{self.site.name} alone"), ("area", "all within a circle")]
        lies += [(f"vehicle {number}", name) for number, name in choices.vehicles]
        reasons = [(f"{name} suspected",) * 2 for name in names]
        self.add("reason", Field("Why", editor=Choice([("", ""), *reasons], free=True)))
        self.add("scope", Field("It lies on", editor=Choice(lies), message=False))
        self.add_side_by_side(
            {
                "middle": Field("Circle around", self.site.grid or "", prompt="SO 392 751"),
                "radius": Field("Radius", unit="km", width=90, prompt="3"),
            }
        )
        self.fields["scope"].changed.connect(lambda _key: self._show_circle())
        self._show_circle()

    def _add_when(self, today: date) -> None:
        self.add_side_by_side(
            {
                "begins_on": Field("Notified on", long(today), width=130),
                "begins_at": Field("at", width=70, prompt="14:30"),
            }
        )

    def _add_stops(self) -> None:
        fields = {name: Field(words, "yes", editor=Choice(_YES_NO), message=False) for name, words in _STOPS}
        self.add_side_by_side(dict(list(fields.items())[:3]))
        inward = Field("Coming in", editor=Choice((("no", "free"), ("yes", "stopped"))), message=False)
        self.add_side_by_side({**dict(list(fields.items())[3:]), "inward": inward})

    def _show_circle(self) -> None:
        circle = self.fields["scope"].value() == "area"
        for name in ("middle", "radius"):
            self.fields[name].setVisible(circle)

    def _site_id(self) -> int:
        return (
            self.line.site_id
            if self.line is not None and self.line.site_id is not None
            else self.site.site_id
        )

    def _middle(self, typed: Typed) -> Spot | None:
        if typed.text("middle"):
            try:
                return read_grid(typed.text("middle"))
            except ValueError as error:
                typed.refuse("middle", str(error), "Write two letters and 6, 8 or 10 figures")
                return None
        kept = self.line is not None and self.line.scope == "area"
        site = self.line if kept and self.line is not None else self.site
        middle = spot_at(site.easting_m, site.northing_m, site.latitude_e6, site.longitude_e6)
        if middle is None:
            typed.refuse("middle", "the site is on no map", "Type a grid reference")
        return middle

    def _fill(self, line: RestrictionLine, zone: str) -> None:
        scope = f"vehicle {line.vehicle_id}" if line.scope == "vehicle" else line.scope
        east, north = line.easting_m, line.northing_m
        values = {
            "reason": line.reason, "scope": scope, "begins_on": long(line.begins_on),
            "begins_at": _clock(line.begins_at, zone), "by_whom": line.by_whom, "reference": line.reference,
            "served_on": _day(line.served_on), "expected_end_on": _day(line.expected_end_on), "note": line.note,
            "inward": "yes" if line.stops.inward else "no",
        }  # fmt: skip
        if line.scope == "area":
            values["radius"] = f"{(line.radius_m or 0) / _KM:g}"
            values["middle"] = (
                GridReference(east, north).spaced() if east is not None and north is not None else ""
            )
        values |= {name: "yes" if getattr(line.stops, name) else "no" for name, _ in _STOPS}
        self.set_values(values)
        self._show_circle()


def release_form(line: RestrictionLine, today: date) -> TypedForm:
    """The inspector's written release."""

    def read(typed: Typed) -> Release:
        on = typed.day("on", needed=True) or today
        reference = typed.wanted("reference", "the reference on the inspector's written release is missing")
        return Release(line.id, on, reference, _minute(typed, "at"))

    note = "A restriction ends by the inspector's written release and by nothing else: not by a day that was expected."
    form = TypedForm(f"Release {line.where}", "Release", read, today, note)
    form.add_side_by_side(
        {
            "on": Field("Released on", long(today), width=130),
            "at": Field("at", width=70, prompt="end of day"),
        }
    )
    form.add("reference", Field("Reference of the written release"))
    return form


def visit_form(site: SiteLine, today: date) -> TypedForm:
    """A visit of an inspector."""

    def read(typed: Typed) -> NewVisit:
        on = typed.day("on", needed=True) or today
        who = typed.wanted("inspector", "who came is missing")
        return NewVisit(site.site_id, on, who, typed.text("purpose"), typed.text("found"), typed.text("note"))

    form = TypedForm(f"An official visit to {site.name}", "Write it down", read, today)
    form.add_side_by_side({"inspector": Field("Inspector"), "on": Field("Day", long(today), width=130)})
    form.add("purpose", Field("What for", prompt="a routine inspection, a contact trace"))
    form.add("found", Field("What was found", editor=note_editor(), message=False))
    form.add("note", Field("Note", message=False))
    return form


def sample_form(card: SiteCard, official: SiteOfficial, today: date) -> TypedForm:
    """A sample that was taken."""
    hives = [(str(one.colony_id), one.mark or "no number") for one in card.standing]
    visits = [(str(one.id), f"{one.inspector}, {long(one.on)}") for one in official.visits]

    def read(typed: Typed) -> NewSample:
        hive, visit = typed.text("colony"), typed.text("visit")
        return NewSample(
            card.line.site_id, typed.day("taken_on", needed=True) or today,
            typed.wanted("what", "what was taken is missing"), typed.text("kind"),
            int(hive) if hive.isdecimal() else None, int(visit) if visit.isdecimal() else None,
            typed.text("laboratory"), typed.day("sent_on"),
        )  # fmt: skip

    form = TypedForm(f"A sample at {card.line.name}", "Write it down", read, today)
    form.add("what", Field("What was taken", prompt="a comb of 8 × 8 cm with larvae"))
    form.add_side_by_side(
        {
            "kind": Field("Kind", editor=Choice(_KINDS), width=120),
            "taken_on": Field("Taken on", long(today), width=130),
        }
    )
    form.add_side_by_side(
        {
            "colony": Field("Of hive", editor=Choice([("", "the site as a whole"), *hives]), width=160),
            "visit": Field("On the visit of", editor=Choice([("", "none"), *visits])),
        }
    )
    form.add_side_by_side({"laboratory": Field("Laboratory"), "sent_on": Field("Sent on", width=130)})
    return form


def result_form(sample: SampleLine, today: date) -> TypedForm:
    """What came back of a sample."""

    def read(typed: Typed) -> Result:
        on = typed.day("on", needed=True) or today
        return Result(sample.id, on, typed.text("outcome"), typed.text("words"))

    form = TypedForm(f"Result: {sample.what}", "Write it down", read, today)
    form.add_side_by_side(
        {
            "outcome": Field("Outcome", editor=Choice((("", ""), ("clear", "clear"), ("positive", "positive"))), width=130),
            "on": Field("Came back on", long(sample.result_on or today), width=130),
        }
    )  # fmt: skip
    form.add("words", Field("In the laboratory's words", sample.result, editor=note_editor(), message=False))
    form.set_values({"outcome": sample.outcome})
    form.caution(first_words())
    return form


def _stops(typed: Typed) -> Stops:
    bees, comb, honey, boxes, tools, inward = (typed.yes(name) is True for name in (*dict(_STOPS), "inward"))
    return Stops(bees, comb, honey, boxes, tools, inward)


def _minute(typed: Typed, field: str) -> int | None:
    if not typed.text(field):
        return None
    try:
        return read_minute(typed.text(field))
    except ValueError as error:
        typed.refuse(field, str(error), "Type it as 14:30")
        return None


def _clock(moment: datetime, zone: str) -> str:
    local = moment.astimezone(ZoneInfo(zone))
    return clock_words(local.hour * 60 + local.minute)


def _day(day: date | None) -> str:
    return long(day) if day else ""
