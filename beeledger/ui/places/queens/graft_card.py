"""The card of one graft: its counts, and the calendar that follows from biology."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from beeledger.base.dates import days_between, long, weekday
from beeledger.base.text import counted
from beeledger.queries.records.queens import Graft
from beeledger.rules.queens import Job, graft_calendar
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import Words

_NEAR_DAYS = 7
_CAVEAT = (
    "Expected days, for larvae of 12 to 24 hours: warmth moves them by a day, older larvae bring virgins up to a day and "
    "a half early. Never leave ripe cells later than the tenth day."
)


class GraftCardView(Card):
    """One graft."""

    def __init__(self, count: Callable[[], object]) -> None:
        super().__init__()
        self.setObjectName("queens.graft")
        self.shown: Graft | None = None
        self.count = Button("Count cells", count)
        self.count.setObjectName("queens.graft.count")
        self.head.set_acts(self.count)
        self.figures = KeyFigures()
        self.add(self.figures)
        self.jobs = FactRows(marks=True)
        section = self.section("queens.calendar", "Calendar", self.jobs)
        caveat = Words(_CAVEAT, role="small", ink="ink2", wrap=True)
        caveat.setContentsMargins(16, 8, 16, 4)
        section.add(caveat)
        self.note = Words("", wrap=True)
        self.section("queens.graft.note", "Note", self.note, inset=16)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No graft is chosen."""
        self.shown = None
        self.say("No graft chosen", (), "Choose one in the table, or write down a new one (Ctrl+N).")
        self.count.off("No graft is chosen")
        self.figures.hide()
        for section in self.sections.values():
            section.hide()

    def show_graft(self, graft: Graft, today: date) -> None:
        """Fill the card."""
        self.shown = graft
        finisher = f", finished in hive {graft.finisher}" if graft.finisher else ""
        self.say(f"Graft of {long(graft.on)}", (), f"Larvae of queen {graft.dam.words}{finisher}")
        self.count.on()
        self.figures.show()
        names = ("Grafted", "Taken", "Sealed", "Emerged", "Mated")
        numbers = (graft.grafted, graft.taken, graft.sealed, graft.emerged, graft.mated)
        self.figures.say([
            Figure(name, "" if number is None else f"{number:,}", source="" if name == "Grafted" else share_words(number, graft.grafted))
            for name, number in zip(names, numbers, strict=True)
        ])  # fmt: skip
        jobs = graft_calendar(graft.on)
        self.jobs.say([job_fact(job, today) for job in jobs])
        self.sections["queens.calendar"].say(next_words(jobs, today))
        self.sections["queens.calendar"].show()
        self.note.setText(graft.note or "")
        self.sections["queens.graft.note"].setVisible(bool(graft.note))


def share_words(number: int | None, grafted: int | None) -> str:
    """What share of the larvae that is; blank where either was not counted."""
    return f"{round(100 * number / grafted)} %" if number is not None and grafted else ""


def job_fact(job: Job, today: date) -> Fact:
    """One day of the calendar; what is past is pale, what is today or near has its mark."""
    away = days_between(today, job.on)
    mark = Mark.TODAY if away == 0 and job.work else Mark.SOON if 0 < away <= 2 and job.work else None
    when = weekday(job.on) if job.on.year == today.year else long(job.on)
    soon = "today, " if away == 0 else f"in {counted(away, 'day')}, " if 0 < away <= _NEAR_DAYS else ""
    return Fact(
        job.what[:1].upper() + job.what[1:],
        f"{soon}{when}",
        mark,
        ink="ink3" if away < 0 else "ink",
        weight=600 if away == 0 else 400,
    )


def next_words(jobs: list[Job], today: date) -> str:
    """What comes next; that all of it is past when nothing does."""
    coming = next((job for job in jobs if job.on >= today), None)
    return f"next: {coming.what}, {weekday(coming.on)}" if coming else "all past"
