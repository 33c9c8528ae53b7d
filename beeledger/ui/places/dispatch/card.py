"""The card of a dispatch: its lots, what came back, and how its receiver is reached."""

from __future__ import annotations

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.base.units import kilograms
from beeledger.queries.records.dispatch_desk import WAY_WORDS, DispatchCard, SentLine
from beeledger.ui.places.dispatch.table import weight_words
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.words import Words


class DispatchView(Card):
    """One dispatch, and what is done with it."""

    def __init__(self, note: Button, back: Button) -> None:
        super().__init__()
        self.setObjectName("dispatch.card")
        self.shown: DispatchCard | None = None
        note.setObjectName("dispatch.card.note")
        back.setObjectName("dispatch.card.back")
        self.print_note, self.back = note, back
        self.head.set_acts(note, back)
        self.lots = FactRows()
        self.lots.setObjectName("dispatch.card.lots")
        self.section("dispatch.lots", "Lots", self.lots)
        self.contact = Words("", wrap=True)
        self.section("dispatch.contact", "How they are reached", self.contact, inset=16)
        self.words = Words("", wrap=True)
        self.section("dispatch.note", "Note", self.words, inset=16)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No dispatch is chosen."""
        self.shown = None
        self.say("No dispatch chosen", (), "Choose one in the list, or write a new one (Ctrl+N).")
        self.print_note.off("No dispatch is chosen")
        self.back.off("No dispatch is chosen")
        for section in self.sections.values():
            section.hide()

    def show_dispatch(self, card: DispatchCard) -> None:
        """Fill the card."""
        self.shown, row = card, card.row
        facts = (long(row.on), row.reference, weight_words(row.jars, row.grams))
        receiver = row.receiver or "Nobody named"
        self.say(receiver, [Run(WAY_WORDS[row.way])], " · ".join(part for part in facts if part))
        self.print_note.on()
        if any(line.transfer_id is not None for line in card.lines):
            self.back.on()
        else:
            self.back.off("All of it has come back")
        self.sections["dispatch.lots"].show()
        self.sections["dispatch.lots"].say(counted(len(card.lines), "lot"))
        self.lots.say([lot_fact(line) for line in card.lines])
        self._show_contact(card)
        self.sections["dispatch.note"].setVisible(bool(card.note))
        self.words.setText(card.note)

    def _show_contact(self, card: DispatchCard) -> None:
        section = self.sections["dispatch.contact"]
        section.setVisible(bool(card.row.party))
        lines = card.contact.lines()
        section.say("" if lines else "nothing is known")
        self.contact.set_ink("ink" if lines else "watch")
        self.contact.setText(
            "\n".join(lines) or "A recall could not reach them: write it with the next dispatch"
        )


def lot_fact(line: SentLine) -> Fact:
    """A lot of a dispatch; jars open the recall of their mark."""
    jars = counted(line.jars, "jar") if line.jars is not None else ""
    value = ", ".join(part for part in (jars, f"{kilograms(line.grams, 3)} kg") if part)
    if line.back or line.back_g:
        back = counted(line.back, "jar") if line.back else f"{kilograms(line.back_g, 3)} kg"
        value = f"{value}; {back} came back"
    what = f"{line.product}, {line.jar_g:,} g" if line.jar_g is not None else line.product
    best = f" · best before {long(line.best_before)}" if line.best_before else ""
    name = f"L {line.lot_mark}" if line.batch_id is not None else line.lot_mark
    key = line.lot_mark if line.batch_id is not None else None
    return Fact(name, value, second=f"{what}{best}", weight=600, key=key)
