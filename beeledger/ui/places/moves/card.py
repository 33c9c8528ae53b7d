"""The card of one move: its way, its hives, what was not as usual."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from beeledger.base.dates import weekday
from beeledger.base.text import counted
from beeledger.queries.records.move_desk import LEFT_BEHIND, LOST, MoveCard, MoveHive, reason_words
from beeledger.ui.places.moves.table import marks_words, sites_words
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import Words


class MoveCardView(Card):
    """One trip, and the acts on it."""

    def __init__(self, correct: Button, drop: Button, register: Button) -> None:
        super().__init__()
        self.setObjectName("moves.card")
        self.shown: MoveCard | None = None
        correct.setObjectName("moves.card.correct")
        register.setObjectName("moves.card.register")
        drop.setObjectName("moves.card.drop")
        self.correct, self.drop = correct, drop
        self.head.set_acts(correct, drop, register)
        self.figures = KeyFigures()
        self.add(self.figures)
        self.numbers = Words("", wrap=True)
        self.numbers.setContentsMargins(look.px(16), 0, look.px(16), look.px(4))
        self.hives = FactRows(marks=True)
        section = self.section("moves.hives", "Hives", self.numbers)
        section.add(self.hives)
        self.note = Words("", wrap=True)
        self.section("moves.note", "Note", self.note, inset=16)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No move is chosen."""
        self.shown = None
        self.say("No move chosen", (), "Choose one in the log, or type a new one (Ctrl+N).")
        self.correct.off("No move is chosen")
        self.drop.hide()
        for section in self.sections.values():
            section.hide()
        self.figures.hide()

    def show_move(self, card: MoveCard, zone: str) -> None:
        """Fill the card."""
        self.shown = card
        row = card.row
        left, arrived = (moment.astimezone(ZoneInfo(zone)) for moment in (row.left_at, row.arrived_at))
        planned = row.state == "planned"
        self.correct.on()
        self.correct.setText("Deliver" if planned else "Correct")
        self.drop.setVisible(planned)
        self.say(
            f"{sites_words(row.from_sites)} to {sites_words(row.to_sites) or 'nowhere'}",
            [] if row.state == "delivered" else [Run(row.state, "ink2")],
            f"{weekday(row.on)} {row.on.year}, {reason_words(row.reason)}"
            + (f", for {row.contract}" if row.contract else ""),
        )
        self.figures.show()
        self.figures.say(
            [
                Figure("Hives", f"{row.hives:,}", source="to load" if planned else "as loaded"),
                Figure("Left", f"{left:%H:%M}", source=row.vehicle),
                Figure("Arrived", f"{arrived:%H:%M}", source=row.driver),
            ]
        )
        usual = [hive for hive in card.hives if hive.outcome not in (LOST, LEFT_BEHIND)]
        self.sections["moves.hives"].show()
        self.sections["moves.hives"].say(counted(row.hives, "hive"))
        self.numbers.setText(marks_words([hive.mark or "one without a number" for hive in usual]))
        self.hives.say(hive_facts(card))
        self.sections["moves.note"].setVisible(bool(card.note))
        self.note.setText(card.note)


def hive_facts(card: MoveCard) -> list[Fact]:
    """What was not as with the others: lost, left behind, another way, a note."""
    several = len(card.row.from_sites) > 1 or len(card.row.to_sites) > 1
    return [fact for hive in card.hives if (fact := _fact(hive, several=several)) is not None]


def _fact(hive: MoveHive, *, several: bool) -> Fact | None:
    name = hive.mark or "one without a number"
    if hive.outcome == LOST:
        return Fact(name, hive.note or "lost on the way", Mark.ODD, key=hive.colony_id, value_ink="watch")
    if hive.outcome == LEFT_BEHIND:
        return Fact(name, hive.note or f"left behind at {hive.from_site}", key=hive.colony_id)
    if several or hive.note:
        way = f"{hive.from_site} to {hive.to_site}" if several else ""
        return Fact(name, ", ".join(part for part in (way, hive.note) if part), key=hive.colony_id)
    return None
