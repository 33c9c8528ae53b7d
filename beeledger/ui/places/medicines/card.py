"""The card of a pack: what is left, what the law asks for, its usual course, what to be careful of."""

from __future__ import annotations

from datetime import date

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.base.units import signed_text
from beeledger.queries.records.medicines import PackRow
from beeledger.rules import medicines
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import Words


class PackCard(Card):
    """One pack: what is left, what the law asks for, its course, what to be careful of."""

    def __init__(self, change: Button, dispose: Button) -> None:
        super().__init__()
        self.setObjectName("medicines.pack")
        self.shown: PackRow | None = None
        self.change, self.dispose = change, dispose
        change.setObjectName("medicines.pack.change")
        dispose.setObjectName("medicines.pack.dispose")
        self.head.set_acts(change, dispose)
        self.figures, self.law, self.gone = KeyFigures(), FactRows(marks=True), FactRows(middle_at=90)
        self.course, self.careful = FactRows(middle_at=90), Words("", wrap=True)
        self.add(self.figures)
        self.section("medicines.pack.law", "What the law asks for", self.law)
        self.rule = Words("", role="small", ink="ink2", wrap=True)
        self.rule.setContentsMargins(look.px(16), look.px(4), look.px(16), look.px(4))
        self.section("medicines.pack.course", "Usual course", self.course).add(self.rule)
        self.section("medicines.pack.careful", "Take care", self.careful, inset=16)
        self.section("medicines.pack.gone", "Disposed of", self.gone)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No pack is chosen."""
        self.shown = None
        self.say("No pack chosen", (), "Choose one in the table, or add one (Ctrl+N).")
        for button in (self.change, self.dispose):
            button.off("No pack is chosen")
        self.figures.hide()
        for section in self.sections.values():
            section.hide()

    def show_pack(self, pack: PackRow, today: date) -> None:
        """Fill the card."""
        self.shown = pack
        odd = pack.odd(today)
        self.say(
            pack.product,
            [Run(f"batch {pack.batch}" if pack.batch else "", "ink2")],
            medicines.course(pack.active).words
            + (", what a sheet means that names none" if pack.usual else ""),
        )
        self.change.on()
        self.dispose.on()
        self.figures.show()
        self.figures.say(_pack_figures(pack, today))
        lacking = pack.missing()
        self._section("law", f"{len(lacking)} to fill" if lacking else "complete")
        self.law.say([*law_facts(pack), *(Fact(one.what, mark=Mark.ODD, second=one.mend) for one in odd)])
        self._section("course", course_summary(pack.active))
        self.course.say(course_facts(pack.active, pack.course_days))
        self.rule.setText(course_words(pack.active))
        self._section("careful", "")
        self.careful.setText("\n".join(medicines.cautions(pack.active)))
        self._section("gone", counted(pack.disposed, "piece") if pack.disposals else "")
        self.gone.say(
            [
                Fact(long(one.on), counted(one.pieces, "piece") if one.pieces else "", middle=one.how)
                for one in pack.disposals
            ]
        )
        self.sections["medicines.pack.gone"].setVisible(bool(pack.disposals))

    def _section(self, key: str, summary: str) -> None:
        section = self.sections[f"medicines.pack.{key}"]
        section.show()
        section.say(summary)


def _pack_figures(pack: PackRow, today: date) -> list[Figure]:
    left = pack.left
    rest = "" if left is None else signed_text(left)
    bought = "" if pack.pieces is None else f"of {pack.pieces:,} bought"
    past = pack.expires_on is not None and pack.expires_on < today
    return [
        Figure("Left", rest, "pieces", bought, Mark.ODD if left is not None and left < 0 else None),
        Figure("Given to", f"{pack.given:,}", "hives", f"in {pack.still_in:,} now" if pack.still_in else ""),
        Figure(
            "Expires", short(pack.expires_on) if pack.expires_on else "",
            source=str(pack.expires_on.year) if pack.expires_on else "", mark=Mark.ODD if past else None,
        ),
    ]  # fmt: skip


def law_facts(pack: PackRow) -> list[Fact]:
    """Every field the law asks for, met or to fill."""
    lacking = {one.where.field for one in pack.missing()}
    asked = (
        ("name of the product", "Product", pack.product),
        ("batch number", "Batch number", pack.batch),
        ("date", "Acquired", long(pack.acquired_on) if pack.acquired_on else ""),
        ("quantity", "Quantity", "" if pack.pieces is None else counted(pack.pieces, "piece")),
        ("withdrawal period", "Withdrawal period", days_words(pack.withdrawal_days)),
        ("name of the supplier", "Supplier", pack.supplier),
        ("address of the supplier", "Address of the supplier", ", ".join(pack.supplier_address.splitlines())),
        ("proof of purchase", "Proof of purchase", pack.proof),
    )
    return [asked_fact(name, value, lacking=field in lacking) for field, name, value in asked]


def asked_fact(name: str, value: str, *, lacking: bool) -> Fact:
    """One field the law asks for: what stands there, or that it is to be filled in."""
    if lacking:
        return Fact(name, "to fill", Mark.ODD, value_ink="watch")
    if len(value) > _BESIDE:
        return Fact(name, mark=Mark.MET, second=value)
    return Fact(name, value, Mark.MET)


_BESIDE = 22
"""Letters that stand beside a name; longer words go below it, so that neither is cut."""


def days_words(days: int | None) -> str:
    """A period in words; blank when nobody wrote it down."""
    return "" if days is None else counted(days, "day")


def course_summary(active: str) -> str:
    """The course in few words."""
    usual = medicines.course(active)
    if not usual.stays_in:
        return "given once"
    days = str(usual.least_days)
    return f"{days if usual.least_days == usual.most_days else f'{days} to {usual.most_days}'} days"


def _whose(days: int, usual: int) -> str:
    return "as is usual" if days == usual else "as written for this pack"


def course_facts(active: str, course_days: int) -> list[Fact]:
    """The course as the rules file has it."""
    usual = medicines.course(active)
    facts = (
        [Fact("Out after", middle=f"{counted(course_days, 'day')}, {_whose(course_days, usual.out_days)}")]
        if usual.stays_in
        else []
    )
    if usual.degrees_tenths is not None:
        facts.append(Fact("Warmth", middle=f"{usual.degrees_tenths // 10} °C outside at least"))
    return [*facts, Fact("Brood", middle="only without brood" if usual.broodless else "also with brood")]


def course_words(active: str) -> str:
    """What of the course is a sentence: the supers, and where the figures come from."""
    return f"{medicines.supers_rule(active)}. Figures: {medicines.course(active).source}."
