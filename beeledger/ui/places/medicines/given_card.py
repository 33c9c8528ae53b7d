"""The card of one line of the register: its hives, what the law asks for, the acts on it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from beeledger.base.dates import long, short
from beeledger.base.findings import Finding
from beeledger.base.text import counted
from beeledger.queries.records.medicines import GivenCard
from beeledger.rules import medicines
from beeledger.rules.hive_lists import stretches
from beeledger.ui.places.medicines.card import asked_fact, days_words
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import Words


class GivenCardView(Card):
    """One line of the register: its hives, what the law asks for, the acts on it."""

    def __init__(self, fill: Button, round_: Button) -> None:
        super().__init__()
        self.setObjectName("medicines.given")
        self.shown: GivenCard | None = None
        self.fill_in, self.site = fill, round_
        fill.setObjectName("medicines.given.fill")
        round_.setObjectName("medicines.given.site")
        self.head.set_acts(fill, round_)
        self.figures, self.numbers, self.hives = KeyFigures(), Words("", wrap=True), FactRows(marks=True)
        self.numbers.setContentsMargins(look.px(16), 0, look.px(16), look.px(4))
        self.law, self.careful = FactRows(marks=True), Words("", wrap=True)
        self.add(self.figures)
        self.section("medicines.given.hives", "Hives", self.numbers).add(self.hives)
        self.section("medicines.given.law", "What the law asks for", self.law)
        self.section("medicines.given.careful", "Take care", self.careful, inset=16)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No line is chosen."""
        self.shown = None
        self.say(
            "No line chosen", (), "Choose one in the register. What is put in a hive is typed in a round."
        )
        for button in (self.fill_in, self.site):
            button.off("No line is chosen")
        self.figures.hide()
        for section in self.sections.values():
            section.hide()

    def show_given(self, card: GivenCard, today: date) -> None:
        """Fill the card."""
        self.shown = card
        line = card.line
        lacking = len(line.missing())
        self.say(
            line.product, [Run(f"batch {line.batch}" if line.batch else "", "ink2")],
            f"{line.site or 'site not known'}, {long(line.key.in_on)}" + (f", by {line.who}" if line.who else ""),
        )  # fmt: skip
        self.fill_in.on()
        if line.key.site_id is None:
            self.site.off("The site is not on record")
        else:
            self.site.on()
        self.figures.show()
        self.figures.say(given_figures(card, today))
        for section in self.sections.values():
            section.show()
        self.sections["medicines.given.hives"].say(counted(line.hives, "hive"))
        self.numbers.setText(stretches([hive.mark for hive in card.hives]))
        reasons = [hive for hive in card.hives if hive.reason]
        self.hives.say([Fact(hive.mark, middle=hive.reason, key=hive.colony_id) for hive in reasons])
        self.sections["medicines.given.law"].say(f"{lacking} to fill" if lacking else "complete")
        self.law.say(given_facts(card, line.odd(today)))
        self.careful.setText("\n".join(medicines.cautions(line.active)))


def given_figures(card: GivenCard, today: date) -> list[Figure]:
    """Hives, quantity, and how long it has been in."""
    line = card.line
    unknown = f"{line.unmeasured:,} not known" if line.unmeasured else ""
    figures = [
        Figure("Hives", f"{line.hives:,}"),
        Figure("Given", "" if line.pieces is None else f"{line.pieces:,}", "pieces", unknown),
    ]
    if medicines.course(line.active).stays_in:
        due = f"out by {short(line.due_out)}" if line.due_out else ""
        figures.append(
            Figure("In", str(line.days_in(today)), "days", due or f"out {short(line.last_day or today)}")
        )
    return figures


def given_facts(card: GivenCard, odd: Sequence[Finding]) -> list[Fact]:
    """Every field regulation 19(2) asks for, met or to fill; then what is odd."""
    line = card.line
    lacking = {one.where.field for one in line.missing()}
    each = {hive.pieces for hive in card.hives}
    quantity = f"{next(iter(each))} in each hive" if len(each) == 1 else f"{line.pieces} together"
    asked = (
        ("name of the product", "Product", line.product),
        ("batch number", "Batch number", line.batch),
        ("date", "Put in", long(line.key.in_on)),
        ("quantity", "Quantity", quantity),
        ("withdrawal period", "Withdrawal period", days_words(line.withdrawal_days)),
        ("hives treated", "Hives treated", counted(line.hives, "hive")),
    )
    facts = [asked_fact(name, value, lacking=field in lacking) for field, name, value in asked]
    if line.keep_until:
        facts.append(Fact("Keep until", long(line.keep_until)))
    return [*facts, *(Fact(one.what, mark=Mark.ODD, second=one.mend) for one in odd)]
