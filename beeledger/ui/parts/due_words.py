"""A dated reason as a table and a card show it: its mark, its words, its ink."""

from __future__ import annotations

from datetime import date

from beeledger.base.dates import short
from beeledger.base.text import counted
from beeledger.rules.due import Grade, grade, reason_figures
from beeledger.ui.widgets.cells import BLANK, Cell
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

MARKS: dict[Grade, Mark | None] = {
    Grade.LATE: Mark.LATE,
    Grade.TODAY: Mark.TODAY,
    Grade.SOON: Mark.SOON,
    Grade.LATER: None,
}
INKS: dict[Grade, Token] = {
    Grade.LATE: "now",
    Grade.TODAY: "watch",
    Grade.SOON: "ink2",
    Grade.LATER: "ink3",
}


def due_cell(code: str | None, due_on: date | None, today: date) -> Cell:
    """What is due first at a hive: "swarm check 4 d late", "strips out", "super in 3 d"."""
    if code is None or due_on is None:
        return BLANK
    how = grade(due_on, today)
    words, days = reason_figures()[code].words, (due_on - today).days
    said = {
        Grade.LATE: f"{words} {-days} d late",
        Grade.TODAY: words,
        Grade.SOON: f"{words} in {days} d",
        Grade.LATER: f"{words}, {short(due_on)}",
    }[how]
    spoken = (
        said.replace(" d late", " days late").replace(" d", " days")
        if how is not Grade.TODAY
        else f"due today, {said}"
    )
    return Cell(said, INKS[how], mark=MARKS[how], spoken=spoken)


def when_words(due_on: date, today: date) -> str:
    """When, at the right of a card's line: "4 days late", "today", "in 3 days", "21 Jun"."""
    days = (due_on - today).days
    how = grade(due_on, today)
    if how is Grade.LATE:
        return f"{counted(-days, 'day')} late"
    if how is Grade.TODAY:
        return "today"
    return f"in {counted(days, 'day')}" if how is Grade.SOON else short(due_on)
