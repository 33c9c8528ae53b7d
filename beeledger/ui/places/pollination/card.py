"""The card of one contract: promised, where hives can come from, strength when checked, owed."""

from __future__ import annotations

from datetime import date

from beeledger.base.dates import long, short, span, weekday
from beeledger.base.text import counted
from beeledger.base.units import frames, kilometres, money, per_cent, scaled
from beeledger.queries.records.contract_desk import ContractCard, ContractRow, SourceSite, Standing
from beeledger.queries.records.movement_report import OwedLine, StrengthResult
from beeledger.ui.places.pollination.table import crop_line, is_short
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Align, Cell, Column, Row
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.record_table import RecordTable

SOURCES = (
    Column("site", "From", slack=True, whole=True, sample="Orchard"),
    Column("ready", "Ready", sample="999", align=Align.RIGHT),
    Column("weak", "Weak", sample="999", align=Align.RIGHT),
    Column("unknown", "Not counted", sample="999", align=Align.RIGHT),
    Column("km", "km", sample="99", align=Align.RIGHT),
)
_MOST_SOURCES = 12


class ContractCardView(Card):
    """One contract, and the acts on it."""

    def __init__(self, acts: dict[str, Button]) -> None:
        super().__init__()
        self.setObjectName("pollination.card")
        self.shown: ContractCard | None = None
        self.acts = acts
        for name, button in acts.items():
            button.setObjectName(f"pollination.card.{name}")
        self.head.set_acts(*acts.values())
        self.promised = FactRows(marks=True)
        self.sources = RecordTable(SOURCES, many=False)
        self.sources.setObjectName("pollination.card.sources")
        self.why = FactRows(marks=True)
        self.checks = FactRows(marks=True)
        self.owed = FactRows()
        self.section("pollination.promised", "Promised", self.promised)
        self.section("pollination.sources", "Where they can come from", self.sources)
        self.section("pollination.why", "Why some are short", self.why)
        self.section("pollination.strength", "Strength when checked", self.checks)
        self.section("pollination.owed", "What is owed", self.owed)
        self.show_nothing()

    def show_nothing(self) -> None:
        """No contract is chosen."""
        self.shown = None
        self.say("No contract chosen", (), "Choose one in the list, or write a new one (Ctrl+N).")
        for button in self.acts.values():
            button.off("No contract is chosen")
        for section in self.sections.values():
            section.hide()

    def show_contract(self, card: ContractCard, today: date) -> None:
        """Fill the card."""
        self.shown = card
        row = card.row
        terms = row.terms
        self.say(
            row.name,
            (),
            f"{crop_line(row)} · {row.grower}{f', {card.contact}' if card.contact else ''}\n"
            f"{span(terms.on, terms.off)} at {row.site}",
        )
        self._switch(row)
        off = dict.fromkeys(button.reason for button in self.acts.values() if button.reason)
        self.head.say_off("; ".join(off))
        price = f"{money(terms.price_pence)}, {money(terms.price_pence * terms.hives)}"
        self._fill(
            "pollination.promised", f"{counted(terms.hives, 'hive')} at {price}", promised_facts(card, today)
        )
        self._show_sources(card)
        self._fill("pollination.strength", "", check_facts(card))
        self._fill("pollination.owed", money(card.owed_pence), owed_facts(card))
        self.sections["pollination.owed"].setVisible(row.came > 0 or row.standing is Standing.CLOSED)

    def _switch(self, row: ContractRow) -> None:
        for button in self.acts.values():
            button.on()
        if row.standing is Standing.CLOSED:
            for name in ("change", "close", "check"):
                self.acts[name].off("closed, so not changed any more")
        elif not row.here:
            self.acts["check"].off("strength is checked while hives stand there")

    def _fill(self, key: str, summary: str, facts: list[Fact]) -> None:
        section = self.sections[key]
        rows = {
            "pollination.promised": self.promised,
            "pollination.strength": self.checks,
            "pollination.owed": self.owed,
        }
        rows[key].say(facts)
        section.say(summary)
        section.setVisible(bool(facts))

    def _show_sources(self, card: ContractCard) -> None:
        row = card.row
        some = row.ready is not None
        for key in ("pollination.sources", "pollination.why"):
            self.sections[key].setVisible(some)
        if not some:
            return
        shown = card.sources[:_MOST_SOURCES]
        self.sections["pollination.sources"].say(f"{row.ready} ready for {row.terms.hives}")
        self.sources.set_rows([source_row(each) for each in shown])
        height = self.sources.horizontalHeader().sizeHint().height()
        self.sources.setFixedHeight(
            height + len(shown) * self.sources.verticalHeader().defaultSectionSize() + 2
        )
        why = why_facts(card)
        self.why.say(why)
        self.sections["pollination.why"].say(f"{row.short} short")
        self.sections["pollination.why"].setVisible(bool(why) and row.short > 0)


def promised_facts(card: ContractCard, today: date) -> list[Fact]:
    """What was agreed, and how it stands."""
    row, terms = card.row, card.row.terms
    late = row.came < terms.hives and terms.on <= today and row.standing is not Standing.CLOSED
    due = Mark.LATE if late else Mark.TODAY if is_short(row, today) else None
    facts = [
        Fact("On site by", weekday(terms.on), due, value_ink="now" if late else "ink2"),
        Fact("Off by", weekday(terms.off)),
    ]
    if least := least_words(card):
        facts.insert(0, Fact("Least strength", least))
    if row.came:
        facts.append(
            Fact("Came", f"{row.came}, {row.here} there now" if row.here else f"{row.came}, all gone")
        )
    if row.beyond:
        facts.append(
            Fact("More than agreed", f"{row.beyond}: agree them too, or say where they belong", Mark.ODD)
        )
    if row.looks:
        look = row.looks[-1]
        facts.append(Fact("Bloom", f"{per_cent(look.share_hundredths, 0)} %, looked at {short(look.on)}"))
    if terms.least_bees_tenths is not None:
        facts.append(
            Fact("A hive under strength", f"{per_cent(terms.weak_share_hundredths, 0)} % of the price")
        )
    if terms.bonus_frame_pence:
        facts.append(Fact("Each frame above", f"{money(terms.bonus_frame_pence)} a hive"))
    if terms.late_day_pence:
        facts.append(Fact("Kept too long", f"{money(terms.late_day_pence)} a hive and day"))
    if terms.words:
        facts.append(Fact("Terms", second=terms.words))
    return facts


def least_words(card: ContractCard) -> str:
    """The least strength in words: "8 frames of bees, 5 of brood"."""
    terms = card.row.terms
    parts = []
    if terms.least_bees_tenths is not None:
        parts.append(f"{frames(terms.least_bees_tenths)} frames of bees")
    if terms.least_brood_tenths is not None:
        parts.append(f"{frames(terms.least_brood_tenths)} of brood")
    return ", ".join(parts)


def source_row(source: SourceSite) -> Row:
    """One site that hives could come from."""
    km = "" if source.metres is None else kilometres(source.metres)
    cells = (
        Cell(source.site),
        Cell(str(source.ready), weight=600),
        Cell(str(source.weak) if source.weak else "", "ink2"),
        Cell(str(source.unknown) if source.unknown else "", "ink2"),
        Cell(km, "ink2"),
    )
    return Row(source.site_id, cells, (source.site, source.ready, source.weak, source.unknown, source.metres))


def why_facts(card: ContractCard) -> list[Fact]:
    """What stands in the way, the most hives first."""
    least = card.row.terms.least_bees_tenths
    told: list[tuple[int, Fact]] = []
    for each in card.sources:
        if each.weak and least is not None:
            told.append((each.weak, Fact(f"{each.weak} at {each.site}", f"below {frames(least)} frames")))
        if each.unknown:
            told.append(
                (each.unknown, Fact(f"{each.unknown} at {each.site}", "not counted for 3 weeks", Mark.SOON))
            )
    told.sort(key=lambda pair: -pair[0])
    return [fact for _, fact in told[:6]]


def check_facts(card: ContractCard) -> list[Fact]:
    """Each strength check: when and by whom, what it found, and how far that holds."""
    checks = [_check_fact(check, card) for check in card.checks]
    return [*checks, *(Fact(note.words, second=f"by the check of {note.on}") for note in card.holds)]


def owed_facts(card: ContractCard) -> list[Fact]:
    """What is owed, line by line, and the sum."""
    lines = [_owed_fact(line) for line in card.owed]
    return [
        *lines,
        Fact("Owed, before tax", money(card.owed_pence), weight=600, value_ink="ink", value_weight=600),
    ]


def _check_fact(check: StrengthResult, card: ContractCard) -> Fact:
    mean = "" if check.mean_bees_tenths is None else f"mean {scaled(check.mean_bees_tenths, 10, 1)} frames"
    least = card.row.terms.least_bees_tenths
    mark = None if least is None else Mark.ODD if check.below else Mark.MET
    below = "" if check.below is None else f"{check.below} under {frames(least or 0)} frames; "
    second = f"{check.counted} of {check.of} opened: {below}{check.how}"
    return Fact(f"{long(check.on)}, by {check.by}", mean, mark, second=second, value_ink="ink")


def _owed_fact(line: OwedLine) -> Fact:
    unit = line.unit[:-1] if line.quantity == 1 else line.unit
    price = f" at {money(line.price_pence)}" if line.price_pence else ""
    second = f"{line.quantity:,} {unit}{price}" if line.quantity is not None else ""
    why = f"{second}; {line.why}" if line.why else second
    return Fact(line.what, money(line.sum_pence), second=why, value_ink="ink")
