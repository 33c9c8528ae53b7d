"""What is due at one colony and why, which fact each reason follows from, and what was put off. Plain functions."""

from __future__ import annotations

from datetime import date

from beeledger.base.dates import short
from beeledger.queries.records.colonies import ColonyCard
from beeledger.queries.records.round_desk import DueKnown, RoundKey
from beeledger.rules.due import Fact as FactKind
from beeledger.rules.due import grade, reason_figures
from beeledger.ui.parts.due_words import INKS, MARKS, when_words
from beeledger.ui.widgets.fact_rows import Fact

LAST = 8
"""So many of what was put off are shown."""
_VISITED = (FactKind.LOOK, FactKind.FEED, FactKind.COUNT, FactKind.COURSE)


def due_facts(card: ColonyCard, today: date) -> list[Fact]:
    """What is due and why, earliest first."""
    found = []
    for at, due in enumerate(card.line.due):
        how = grade(due.due_on, today)
        found.append(
            Fact(
                due.what[:1].upper() + due.what[1:], when_words(due.due_on, today), MARKS[how],
                second=why_words(due.why, today), weight=600, value_ink=INKS[how], key=at,
            )
        )  # fmt: skip
    return found


def fact_behind(card: ColonyCard, due: DueKnown) -> tuple[str, object] | None:
    """Where the fact behind a reason is: a place and what to show there; None where it stands on this card."""
    if due.fact in _VISITED:
        found = [visit for visit in card.visits if visit.on == due.fact_on]
        if found:
            return "rounds", RoundKey(found[0].round_id)
    places = {FactKind.GRAFT: "queens", FactKind.COURSE: "medicines"}
    place = places.get(FactKind(due.fact)) if due.fact else None
    return (place, None) if place else None


def put_off_facts(card: ColonyCard) -> list[Fact]:
    """What was put off here, newest first: for the story of the colony."""
    return [
        Fact(
            f"{short(one.on)}  {one.by_whom}".rstrip(),
            middle=f"{reason_figures()[one.code].words} of {short(one.first_on)} put off to {short(one.until_on)}: {one.note}",
        )
        for one in reversed(card.put_off[-LAST:])
    ]


def why_words(why: str, today: date) -> str:
    """The reason as it fits beside the boxes: "opened 13 May, every 7 days", without the running year."""
    return why.removeprefix("last ").replace(f" {today.year}", "")
