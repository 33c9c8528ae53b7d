"""The card of an item: what is there, what lies ahead with its arithmetic, lots, entries and counts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.base.units import money, per_cent
from beeledger.queries.records.stock import Count, EntryRow, Held, ItemCard, Lot, StockRow
from beeledger.queries.stock_card import PAGE
from beeledger.rules.stock import figures
from beeledger.rules.stock_items import PLACES, Account, ItemKind, Unit
from beeledger.ui.places.stock.item_form import FEED_WORDS
from beeledger.ui.places.stock.quantities import (
    KIND_WORDS,
    UNIT_WORDS,
    figure,
    packs_words,
    roughly,
    said,
    value,
)
from beeledger.ui.places.stock.table import BOX_WORDS, is_late, order_words, state_of, state_tip
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.week_bars import WeekBar, WeekBars
from beeledger.ui.widgets.words import Words

STATE = "State"
"""The act of boxes alone."""
_FROM = {Account.SUPPLIER: "bought", Account.UNCOUNTED: "never counted in, or beyond the record"}


class ItemView(Card):
    """One item of stock."""

    def __init__(self, acts: Mapping[str, Callable[[], object]]) -> None:
        super().__init__()
        self.setObjectName("stock.item")
        self.shown: ItemCard | None = None
        self.acts = {word: Button(word, act) for word, act in acts.items()}
        for word, button in self.acts.items():
            button.setObjectName(f"stock.item.{word.lower().replace(' ', '_')}")
        self.head.set_acts(*self.acts.values())
        self.figures, self.bars = KeyFigures(), WeekBars("Use by week")
        self.bars.setFixedHeight(look.px(150))
        self.places, self.lots = FactRows(), FactRows(marks=True, middle_at=96)
        self.entries, self.counts = FactRows(middle_at=96), FactRows(marks=True, middle_at=96)
        self.books, self.about = FactRows(), FactRows()
        self.sum = Words("", role="small", ink="ink2", wrap=True)
        self.sum.setContentsMargins(look.px(16), look.px(4), look.px(16), look.px(8))
        ahead = Stack(self.bars, self.sum)
        self.add(self.figures)
        for key, title, body in (
            ("where", "Where it is", self.places), ("ahead", "Ahead", ahead), ("lots", "Lots", self.lots),
            ("entries", "Entries", self.entries), ("counts", "Counts", self.counts), ("about", "About it", self.about),
            ("books", "Where it came from and went", self.books),
        ):  # fmt: skip
            self.section(f"stock.item.{key}", title, body)
        self.entries.setObjectName("stock.item.entries.rows")
        self.show_nothing()

    def show_nothing(self, words: str = "Choose one in the table, or add one (Ctrl+N).") -> None:
        """No item is chosen."""
        self.shown = None
        self.say("No item chosen", (), words)
        self._empty()

    def show_medicine(self, row: StockRow) -> None:
        """A pack of medicine is kept in its own place."""
        self.shown = None
        self.say(
            row.name,
            [Run("medicine", "ink2")],
            "It is bought, given and disposed of in Medicines; Enter goes there.",
        )
        self._empty()

    def show_item(self, card: ItemCard, today: date, page: int = 0) -> None:
        """Fill the card; ``page`` is that of its entries."""
        self.shown = card
        item, row = card.item, card.row
        words, mark, ink = state_of(row, today)
        self.say(item.name, [Run(words, ink, 600, mark=mark)] if words else [], _facts(card))
        self.acts[STATE].setVisible(item.kind is ItemKind.BOX)  # what is used up has no state
        for button in self.acts.values():
            button.on()
        self.acts["Retire"].setText("Keep again" if row.retired else "Retire")
        self.figures.show()
        self.figures.say(box_figures(card) if item.kind is ItemKind.BOX else key_figures(row, today))
        self._section(
            "where",
            self.places,
            place_facts(card),
            counted(len(row.places), "place") if row.places else "none",
        )
        self._ahead(card, today)
        self._section(
            "lots",
            self.lots,
            [lot_fact(lot, item.unit, today) for lot in card.lots],
            counted(len(card.lots), "lot"),
        )
        self._section("entries", self.entries, entry_facts(card, page), f"{card.entry_count:,} in all")
        self._section(
            "counts", self.counts, [count_fact(one, item.unit) for one in card.counts], _counted_words(row)
        )
        self._section("about", self.about, about_facts(card), "")
        self._section("books", self.books, book_facts(card), "adds up to nothing")

    def _ahead(self, card: ItemCard, today: date) -> None:
        section = self.sections["stock.item.ahead"]
        section.setVisible(card.item.kind is not ItemKind.BOX)
        self.bars.set_weeks(week_bars(card, today), UNIT_WORDS[card.item.unit])
        lines = ahead_words(card, today)
        self.sum.setText("\n".join(lines))
        section.say(order_summary(card.row, today))

    def _section(self, key: str, rows: FactRows, facts: Sequence[Fact], summary: str) -> None:
        rows.say(facts)
        section = self.sections[f"stock.item.{key}"]
        section.setVisible(bool(facts))
        section.say(summary)

    def _empty(self) -> None:
        for button in self.acts.values():
            button.off("No item is chosen")
        self.figures.hide()
        for section in self.sections.values():
            section.hide()


def key_figures(row: StockRow, today: date) -> list[Figure]:
    """What is there, how long it lasts, by when to order."""
    ahead = row.outlook
    out, by, order = (ahead.runs_out_on, ahead.order_by, order_words(row)) if ahead else (None, None, "")
    late = is_late(row, today)
    there = "" if row.there is None else figure(row.there, row.unit)
    lasts = "not in the weeks ahead" if ahead else "no use on record"
    found = [
        Figure("There", there, UNIT_WORDS[row.unit], _counted_words(row), state_of(row, today)[1]),
        Figure("Runs out", short(out) if out else "", source=str(out.year) if out else lasts),
        Figure("Order by", short(by) if by and order else "", source=order, mark=Mark.LATE if late else None),
    ]
    if row.expires_on is not None:
        mark = Mark.ODD if row.expired else None
        found.append(Figure("Expires", short(row.expires_on), source=str(row.expires_on.year), mark=mark))
    return found


def box_figures(card: ItemCard) -> list[Figure]:
    """Boxes are not used up: how many are in the stores and how many on hives."""
    row = card.row
    hives = sum(one.quantity for one in card.accounts if one.kind is Account.HIVES)
    return [
        Figure("There", f"{row.there or 0:,}", "boxes", _counted_words(row)),
        Figure("On hives", f"{hives:,}", "boxes", "by the books"),
        Figure("All", f"{(row.there or 0) + hives:,}", "boxes"),
    ]


def ahead_words(card: ItemCard, today: date) -> list[str]:
    """The arithmetic of what runs out and what to order, in words."""
    item, ahead, there = card.item, card.row.outlook, card.row.there or 0
    if ahead is None:
        return ["Nothing is known of its use yet: a week of use makes the first guess."]
    unit, weeks, soon = item.unit, len(ahead.weeks), figures().short_weeks
    need = sum(ahead.weeks)
    near = f"{roughly(sum(ahead.weeks[:soon]), unit)} in the next {soon} weeks"
    lines = [f"Reckoned as {ahead.basis}: {near}, {roughly(need, unit)} in {weeks} weeks."]
    if ahead.runs_out_on is None:
        lines.append(f"What is there ({roughly(there, unit)}) lasts through the {weeks} weeks.")
    else:
        lines.append(f"What is there ({roughly(there, unit)}) is used up on {long(ahead.runs_out_on)}.")
    if ahead.runs_out_on is not None and item.lead_days is not None and ahead.order_by is not None:
        late = ", which is past" if ahead.order_by < today else ""
        lines.append(
            f"{long(ahead.runs_out_on)} less {counted(item.lead_days, 'day')} to deliver: order by {long(ahead.order_by)}{late}."
        )
    elif ahead.runs_out_on is not None:
        lines.append("By when to order is not known: the days to deliver are not written down.")
    if ahead.order:
        missing = f"{roughly(need, unit)} less {roughly(there, unit)} there: {roughly(max(0, need - there), unit)} are missing"
        packs = packs_words(ahead.order_packs, item.pack_word)
        holds = f", {packs} of {said(item.pack, unit)}" if packs and item.pack else ""
        lines.append(f"{missing}{holds}. A guess from few years; a person decides.")
    return lines


def order_summary(row: StockRow, today: date) -> str:
    """What the folded section still says."""
    ahead, order = row.outlook, order_words(row)
    if ahead is None:
        return "no use on record"
    if not order:
        return "enough"
    by = f" by {short(ahead.order_by)}" if ahead.order_by else ""
    return f"order {order}{by}" + (", late" if ahead.order_by and ahead.order_by < today else "")


def week_bars(card: ItemCard, today: date) -> list[WeekBar]:
    """A year back as it was used, and the weeks ahead as they are reckoned."""
    unit = card.item.unit
    past = [
        WeekBar(
            week.monday,
            value(week.used, unit),
            value(week.wasted, unit),
            days=min(7, (today - week.monday).days + 1),
        )
        for week in card.weeks
    ]
    weeks = card.row.outlook.weeks if card.row.outlook else ()
    first = today + timedelta(days=1)
    return past + [
        WeekBar(first + timedelta(days=7 * at), value(use, unit), ahead=True) for at, use in enumerate(weeks)
    ]


def place_facts(card: ItemCard) -> list[Fact]:
    """Where it lies, and how many boxes are on hives."""
    kinds = (*PLACES, Account.HIVES)
    return [_held(one, card.item.unit) for one in card.accounts if one.kind in kinds]


def book_facts(card: ItemCard) -> list[Fact]:
    """The other accounts: what came from where, and what became of it."""
    kinds = (*PLACES, Account.HIVES)
    return [_held(one, card.item.unit) for one in card.accounts if one.kind not in kinds]


def _held(one: Held, unit: Unit) -> Fact:
    quantity = -one.quantity if one.kind in _FROM and one.quantity < 0 else one.quantity
    return Fact(_FROM.get(one.kind, one.name), said(quantity, unit), value_ink="ink", value_weight=500)


def lot_fact(lot: Lot, unit: Unit, today: date) -> Fact:
    """One lot: their batch, whose, what is left of what was bought."""
    ends = ""
    if lot.expires_on is not None:
        ends = (
            f"expired {long(lot.expires_on)}" if lot.expires_on < today else f"expires {long(lot.expires_on)}"
        )
    came = long(lot.acquired_on) if lot.acquired_on else ""
    price = money(lot.price_pence) if lot.price_pence is not None else ""
    several = len(lot.places) > 1
    where = ", ".join(f"{one.name} {said(one.quantity, unit)}" if several else one.name for one in lot.places)
    left = f"{said(lot.left, unit)} of {said(lot.bought, unit)}" if lot.bought else said(lot.left, unit)
    second = ", ".join(part for part in (came, ends, price, where) if part)
    return Fact(lot.batch or "no batch", left if lot.left else "used up", Mark.ODD if lot.expired else None,
                second=second, middle=lot.supplier)  # fmt: skip


def entry_facts(card: ItemCard, page: int) -> list[Fact]:
    """One page of the entries, newest first, with the way to older and newer ones."""
    rows = [entry_fact(row, card.item.unit) for row in card.entries]
    if page > 0:
        rows.insert(0, Fact("Newer entries", ink="accent", key=("page", page - 1)))
    if (page + 1) * PAGE < card.entry_count:
        rows.append(Fact("Older entries", ink="accent", key=("page", page + 1)))
    return rows


def entry_fact(row: EntryRow, unit: Unit) -> Fact:
    """One entry; its key leads to what it follows from, or to taking it back."""
    key: tuple[str, int] | None = None
    if row.round_id is not None:
        key = ("round", row.round_id)
    elif row.batch_id is not None:
        key = ("batch", row.batch_id)
    elif not row.countered:
        key = ("entry", row.id)
    taken = "takes one back" if row.counters_id is not None else "taken back" if row.countered else ""
    after = (
        "from a round" if row.round_id is not None else "from a jarring" if row.batch_id is not None else ""
    )
    lot = f"lot {row.lot}" if row.lot else ""
    second = ", ".join(part for part in (row.reason, after, lot, taken, row.note) if part)
    ink: Token = "ink3" if row.countered else "ink"
    return Fact(
        long(row.on), said(row.quantity, unit), middle=way_words(row), second=second, key=key, ink=ink
    )


def way_words(row: EntryRow) -> str:
    """From where to where, in the words of the trade."""
    source, target = row.source, row.target
    if source.kind is Account.SUPPLIER:
        return f"bought into {target.name}"
    if source.kind is Account.UNCOUNTED:
        return (
            f"more found in {target.name}" if target.kind in PLACES else f"beyond the record, {target.name}"
        )
    if target.kind is Account.UNCOUNTED:
        return f"less found in {source.name}"
    if source.kind is Account.TURNED or target.kind is Account.TURNED:
        return f"{'into' if source.kind is Account.TURNED else 'out of'} this state, {(target if source.kind is Account.TURNED else source).name}"
    ends = ["hives" if end.kind is Account.HIVES else end.name for end in (source, target)]
    if target.kind in PLACES or target.kind is Account.HIVES:
        return f"{ends[0]} to {ends[1]}"
    return f"{ends[1]} from {ends[0]}"


def count_fact(one: Count, unit: Unit) -> Fact:
    """One count beside what the record held."""
    off = one.counted - one.held
    words = (
        f"record {said(one.held, unit)}, {'+' if off > 0 else ''}{said(off, unit)}" if off else "as on record"
    )
    second = f"{words}, {one.reason}" if one.reason else words
    return Fact(
        long(one.on), said(one.counted, unit), Mark.ODD if off else Mark.MET, second=second, middle=one.place
    )


def about_facts(card: ItemCard) -> list[Fact]:
    """What is written down of an item; what is not known has no line."""
    item = card.item
    box = BOX_WORDS[item.box] if item.box else ""
    found = (
        ("Kind", KIND_WORDS.get(item.kind, "")),
        (
            "A pack",
            f"{said(item.pack, item.unit)}{', ' + item.pack_word if item.pack_word else ''}"
            if item.pack
            else "",
        ),
        ("Low below", said(item.low, item.unit) if item.low is not None else ""),
        ("To deliver", counted(item.lead_days, "day") if item.lead_days is not None else ""),
        ("Bought from", item.supplier),
        ("In rounds it is", FEED_WORDS.get(item.feed_kind or "", "")),
        (
            "Sugar by weight",
            f"{per_cent(item.sugar_hundredths)} %" if item.sugar_hundredths is not None else "",
        ),
        ("For jars of", f"{item.fits_g:,} g" if item.fits_g is not None else ""),
        ("Box", ", ".join(part for part in (box, (item.frame_size or "").replace("_", " ")) if part)),
        ("Kept until", long(item.retired_on) if item.retired_on else ""),
    )
    facts = [Fact(name, words) for name, words in found if words]
    return [*facts, Fact("Note", second=item.note)] if item.note else facts


def _facts(card: ItemCard) -> str:
    tip = state_tip(card.row)
    return f"{KIND_WORDS.get(card.item.kind, '')}{'; ' + tip if tip else ''}".capitalize()


def _counted_words(row: StockRow) -> str:
    return f"counted {long(row.counted_on)}" if row.counted_on else "never counted"
