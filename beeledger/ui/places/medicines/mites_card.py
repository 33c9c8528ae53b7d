"""The card of a site's mites: what was counted in twelve months, against the farm's line."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.base.units import per_cent
from beeledger.queries.records.medicines import CountAt, MiteView, SiteMites
from beeledger.rules import mites
from beeledger.ui.places.medicines.table import line_words
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.canvas import Threshold
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.line_chart import LineChart, Point, Series
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import Words


def note_words() -> str:
    """How the counts are to be read."""
    most = f"{mites.figures().most_mites:,}"
    return (
        "Washes and rolls are drawn; a roll finds fewer mites than a wash. A drop is weighed by its season and counts "
        f"at the line where it means {most} mites. Varroa is reportable in England and Wales. Treat as label and law say."
    )


class MitesCard(Card):
    """The counts of one site over twelve months, with the farm's line."""

    def __init__(self, site: Button) -> None:
        super().__init__()
        self.setObjectName("medicines.mites")
        self.shown: int | None = None
        self.site = site
        site.setObjectName("medicines.mites.site")
        self.head.set_acts(site)
        self.figures = KeyFigures()
        self.chart = LineChart("Mites", "in 100 bees")
        self.chart.setObjectName("medicines.mites.chart")
        self.note = Words(note_words(), role="small", ink="ink2", wrap=True)
        self.counts = FactRows(middle_at=90)
        self.add(self.figures)
        self.section("medicines.mites.year", "Twelve months", self.chart).add(self.counts)
        self.section("medicines.mites.note", "How to read it", self.note, inset=16)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No site is chosen."""
        self.shown = None
        self.say("No site chosen", (), "Choose one in the table.")
        self.site.off("No site is chosen")
        self.figures.hide()
        for section in self.sections.values():
            section.hide()

    def show_site(self, site: SiteMites, view: MiteView) -> None:
        """The figures of a site; its counts come after."""
        self.shown = site.site_id
        self.site.on()
        over = f"{site.at_line} of {site.counted} at the line" if site.at_line else ""
        self.say(site.site, [Run(over, "watch", mark=Mark.TODAY)] if over else (), _counted_words(site))
        self.figures.show()
        mean = "" if site.mean_hundredths is None else per_cent(site.mean_hundredths)
        self.figures.say(
            [
                Figure("Mean", mean, "%", f"{site.sampled} by wash or roll" if site.sampled else ""),
                Figure("Farm's line", line_words(view.line_hundredths), "%", "in Settings"),
                Figure("Last counted", short(site.last_on) if site.last_on else ""),
            ]
        )
        for section in self.sections.values():
            section.show()

    def show_counts(self, counts: Sequence[CountAt], view: MiteView, today: date) -> None:
        """Draw the counts of the site that is shown."""
        self.chart.set_series([count_series(counts)], [_line_of(view)], span=(view.since, today))
        sampled = [one for one in counts if one.method != "drop"]
        self.chart.describe(
            f"{counted(len(sampled), 'count')} of twelve months, the line at {line_words(view.line_hundredths)} %"
        )
        self.sections["medicines.mites.year"].say(counted(len(counts), "count"))
        newest = list(reversed(counts))[:_LISTED]
        self.counts.say([Fact(long(one.on), count_words(one), middle=f"hive {one.mark}") for one in newest])


_LISTED = 12


def count_series(counts: Sequence[CountAt]) -> Series:
    """The mean of each day's washes and rolls, joined; a drop is another measure and not drawn with them."""
    days: dict[date, list[int]] = {}
    for one in counts:
        if one.method != "drop":
            days.setdefault(one.on, []).append(mites.infestation_hundredths(one.mites, one.bees))
    points = tuple(
        Point(on, sum(shares) / len(shares) / 100, f"mean of {counted(len(shares), 'hive')}")
        for on, shares in days.items()
    )
    return Series("mean of the hives counted that day", points, rhythm=100)


def count_words(one: CountAt) -> str:
    """A count as it was written."""
    if one.method == "drop":
        return f"{one.mites} dropped in {counted(one.days or 1, 'day')}"
    share = per_cent(mites.infestation_hundredths(one.mites, one.bees))
    return f"{one.mites} in {one.bees or mites.figures().sample_bees} by {one.method}, {share} %"


def _line_of(view: MiteView) -> Threshold:
    return Threshold(view.line_hundredths / 100, f"treat at {line_words(view.line_hundredths)}", orders=True)


def _counted_words(site: SiteMites) -> str:
    if not site.counted:
        return f"{counted(site.standing, 'hive')}, none counted in twelve months"
    return f"{site.counted} of {counted(site.standing, 'hive')} counted in twelve months, the newest of each"
