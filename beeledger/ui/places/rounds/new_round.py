"""The form of a round: which site, which day, who and when, and what the marks mean without details."""

from __future__ import annotations

import re
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from beeledger.base.dates import long, read_date
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded, listed
from beeledger.queries.round_start import RoundStart, SiteChoice
from beeledger.rules.rounds.entry import FeedKind, MiteMethod
from beeledger.rules.rounds.readback import FEEDS
from beeledger.ui.places.rounds.state import Head
from beeledger.ui.widgets import look
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.form import Form

AS_BEFORE = ""
_SYRUPS = (FeedKind.SYRUP_1_1, FeedKind.SYRUP_2_1, FeedKind.SYRUP_READY)
_METHODS = (
    (MiteMethod.WASH, "washed off"),
    (MiteMethod.ROLL, "rolled in sugar"),
    (MiteMethod.DROP, "fallen on a board"),
)
_TIME = re.compile(r"(\d{1,2})(?:[:.]?(\d{2}))?")
_MOST_NAMED = 4


def find_site(sites: Sequence[SiteChoice], typed: str) -> tuple[SiteChoice | None, str]:
    """The site that is meant, by its code, its name or the beginning of either; else what is wrong."""
    words = folded(typed)
    if not words:
        return None, "Type its code or the beginning of its name"
    for exact in (
        [site for site in sites if words == folded(site.code)],
        [site for site in sites if words == folded(site.name)],
    ):
        if exact:
            return exact[0], ""
    begins = [
        site for site in sites if folded(site.name).startswith(words) or folded(site.code).startswith(words)
    ]
    begins = begins or [site for site in sites if words in folded(site.name)]
    if len(begins) == 1:
        return begins[0], ""
    if not begins:
        return None, f"no site is called {typed}"
    more = " and others" if len(begins) > _MOST_NAMED else ""
    return None, f"{listed([site.name for site in begins[:_MOST_NAMED]])}{more}"


def read_time(text: str) -> int | None:
    """Minutes after midnight from "09:10", "9.10", "910" or "9". ValueError with a sentence when it is no time."""
    if not text.strip():
        return None
    match = _TIME.fullmatch(text.strip())
    if match is None or int(match[1]) > 23 or int(match[2] or 0) > 59:
        raise ValueError(f"{text} is no time of day")
    return int(match[1]) * 60 + int(match[2] or 0)


def time_words(minute: int | None) -> str:
    """The same as it is shown."""
    return "" if minute is None else f"{minute // 60:02d}:{minute % 60:02d}"


class RoundForm(QWidget):
    """Made for a new round, or for the head of one that is open."""

    opened = Signal(object)
    """A ``Head``; its site's name is known, its uid fresh for a new round."""
    cancelled = Signal()

    def __init__(self, today: date) -> None:
        super().__init__()
        self.setObjectName("rounds.form")
        self._today = today
        self._start = RoundStart((), ())
        self._head: Head | None = None
        self.form = Form(
            "New round", "Open the sheet", "The hives that stood there that day, in walking order."
        )
        self._fill()
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        self.form.setMaximumWidth(look.px(620))
        across.addWidget(self.form, 1)
        across.addStretch(0)
        self.form.submitted.connect(self._submitted)
        self.form.cancelled.connect(self.cancelled)
        self.form.fields["site"].changed.connect(self._site_typed)

    def offer(self, start: RoundStart) -> None:
        """The sites and medicines to choose from."""
        self._start = start
        medicine = self.form.fields["medicine"].editor
        assert isinstance(medicine, Choice)
        medicine.set_options([(AS_BEFORE, "the usual one"), *((name, name) for name in start.medicines)])

    def begin(self, today: date, site: str = "") -> None:
        """For a new round."""
        self._head, self._today = None, today
        self.form.set_values(
            {"site": site, "day": long(today), "begun": "", "ended": "", "crew": "", "weather": "", "stores": AS_BEFORE,
             "feed": AS_BEFORE, "medicine": AS_BEFORE, "mites": AS_BEFORE}
        )  # fmt: skip
        self._lock(locked=False)
        self.form.main.setText("Open the sheet")
        self.form.show_findings([])

    def edit(self, head: Head, today: date) -> None:
        """For the head of a round that is open; its site and day stand."""
        self._head, self._today = head, today
        self.form.set_values(
            {"site": head.site, "day": long(head.on), "begun": time_words(head.start_minute),
             "ended": time_words(head.end_minute), "crew": head.crew, "weather": head.weather,
             "stores": "frames" if head.stores_in_frames else "kg", "feed": head.feed_kind or "",
             "medicine": head.medicine or "", "mites": head.mites_method or ""}
        )  # fmt: skip
        self._lock(locked=True)
        self.form.main.setText("Keep")
        self.form.show_findings([])

    def come(self) -> None:
        """Take the keys: to the site, or to the times when the site stands."""
        self.form.fields["site" if self._head is None else "begun"].setFocus()

    def _lock(self, *, locked: bool) -> None:
        for name in ("site", "day"):
            self.form.fields[name].setEnabled(not locked)

    def _fill(self) -> None:
        form = self.form
        form.add("site", Field("Site", prompt="code or name"))
        form.add_side_by_side(
            {
                "day": Field("Day", width=140),
                "begun": Field("Begun", width=90),
                "ended": Field("Ended", width=90),
            }
        )
        form.add_side_by_side({"crew": Field("Crew", width=140), "weather": Field("Weather")})
        form.add_side_by_side(
            {
                "stores": Field(
                    "Stores counted in",
                    editor=Choice([(AS_BEFORE, "as last time"), ("kg", "kilograms"), ("frames", "frames")]),
                    width=150,
                ),
                "feed": Field(
                    "Usual syrup",
                    editor=Choice(
                        [(AS_BEFORE, "as last time"), *((str(kind), FEEDS[kind]) for kind in _SYRUPS)]
                    ),
                    width=170,
                ),
            }
        )
        form.add_side_by_side(
            {
                "medicine": Field("Usual medicine", editor=Choice([(AS_BEFORE, "the usual one")]), width=190),
                "mites": Field(
                    "Mites usually",
                    editor=Choice(
                        [(AS_BEFORE, "as last time"), *((str(how), words) for how, words in _METHODS)]
                    ),
                    width=170,
                ),
            }
        )
        form.caution(
            "Strips and acids follow their label and the law; gloves and goggles where the label says so."
        )
        for field in form.fields.values():
            if isinstance(field.editor, QLineEdit):
                field.editor.returnPressed.connect(form.submit)
            field.editor.setObjectName(f"rounds.form.{field.objectName()}")

    def _site_typed(self, text: str) -> None:
        field = self.form.fields["site"]
        if self._head is not None or not text.strip():
            field.clear_message()
            return
        site, words = find_site(self._start.sites, text)
        field.say("", f"{site.name}, {site.code}" if site else words)

    def _submitted(self, values: Mapping[str, str]) -> None:
        head, findings = read_form(values, self._start, self._today, self._head)
        self.form.show_findings(findings)
        self.form.main.on()
        if head is not None:
            self.opened.emit(head)


def read_form(
    values: Mapping[str, str], start: RoundStart, today: date, old: Head | None
) -> tuple[Head | None, list[Finding]]:
    """The head that the form says, or what is wrong with it, by field."""
    findings: list[Finding] = []

    def wrong(field: str, what: str) -> None:
        findings.append(Finding(f"round-form.{field}", Grade.REFUSED, what, where=Where(field=field)))

    site, on = _site_and_day(values, start, today, old, wrong)
    minutes: dict[str, int | None] = {}
    for field in ("begun", "ended"):
        try:
            minutes[field] = read_time(values[field])
        except ValueError as error:
            wrong(field, str(error))
    begun, ended = minutes.get("begun"), minutes.get("ended")
    if begun is not None and ended is not None and ended < begun:
        wrong("ended", "it ended before it began")
    if findings or on is None or (site is None and old is None):
        return None, findings
    if old is None:
        assert site is not None
        old = Head(uuid.uuid4().hex, site.id, site.name, on)
        old = replace(old, medicine=start.medicines[0] if start.medicines else None)
    return _with_habits(
        replace(old, start_minute=begun, end_minute=ended, crew=values["crew"], weather=values["weather"]),
        values,
    ), []


def _site_and_day(
    values: Mapping[str, str], start: RoundStart, today: date, old: Head | None, wrong: object
) -> tuple[SiteChoice | None, date | None]:
    assert callable(wrong)
    if old is not None:
        return None, old.on
    site, words = find_site(start.sites, values["site"])
    if site is None:
        wrong("site", words)
    try:
        on = read_date(values["day"], today)
    except ValueError as error:
        wrong("day", str(error))
        return site, None
    if on > today:
        wrong("day", f"{long(on)} has not come yet")
    return site, on


def _with_habits(head: Head, values: Mapping[str, str]) -> Head:
    if values["stores"]:
        head = replace(head, stores_in_frames=values["stores"] == "frames")
    if values["feed"]:
        head = replace(head, feed_kind=FeedKind(values["feed"]))
    if values["mites"]:
        head = replace(head, mites_method=MiteMethod(values["mites"]))
    return replace(head, medicine=values["medicine"]) if values["medicine"] else head
