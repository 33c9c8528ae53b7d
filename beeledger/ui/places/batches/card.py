"""The card of a batch: balance, sources, readings and weighing at the left, the label and the law at the right."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from beeledger.base.dates import long, short
from beeledger.base.text import counted
from beeledger.base.units import kilograms, per_cent, scaled
from beeledger.queries.records.batch_card import BatchCard, Gone
from beeledger.queries.records.batch_record import BatchReading, Source
from beeledger.rules.label_particulars import Particular, State
from beeledger.rules.labels import date_words, net_words
from beeledger.ui.places.batches.proof import LabelProof
from beeledger.ui.places.batches.reading import Shown
from beeledger.ui.places.batches.table import weights_wanted
from beeledger.ui.places.batches.weighing import WeighingCheck
from beeledger.ui.widgets import look
from beeledger.ui.widgets.balance_line import BalanceLine, Part
from beeledger.ui.widgets.buttons import Button, ButtonRow
from beeledger.ui.widgets.card import CardHead
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.foot import ActFoot
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Panes, Stack
from beeledger.ui.widgets.section import Section
from beeledger.ui.widgets.share_bar import Share, ShareBar, part_ink

FIGURE_SPACE = "\u2007"
_MARKS = {State.MET: Mark.MET, State.NOT_MET: Mark.CANNOT, State.ADVICE: Mark.ADVICE}


class BatchView(QWidget):
    """One batch. The place connects its buttons; every figure comes ready from the reading."""

    weighed = Signal(list)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shown: Shown | None = None
        self.head = CardHead()
        self.way = Button("Way back")
        self.record = Button("Batch record", icon="print")
        self.count = Button("Count labels")
        self.edit = Button("Edit label")
        self.print = Button("Print labels", kind="main")
        self.balance = BalanceLine()
        self.bar, self.sources = ShareBar(), FactRows(middle_at=112)
        self.readings = FactRows(marks=True, middle_at=116)
        self.weighing = WeighingCheck()
        self.proof, self.law, self.went = (
            LabelProof(),
            FactRows(marks=True, middle_at=147),
            FactRows(middle_at=90),
        )
        self.nothing_left = EmptyState(
            "Nothing has left yet", "Jars that are sold, given or paid as rent are listed here."
        )
        self.send = Button("Jars out", kind="quiet")
        self.foot = ActFoot(self.edit, self.print)
        self._lay_out()
        self.weighing.weighed.connect(self.weighed)

    def show_batch(self, shown: Shown) -> None:
        """Fill the card."""
        card, fresh = shown.card, self.shown is None or self.shown.card.line.id != shown.card.line.id
        self.shown, line = shown, shown.card.line
        label = card.label
        best_before = date_words(label.best_before, label.date_form)
        self.head.say(
            label.lot_mark,
            [Run(f"{line.product}, {net_words(line.jar_g)}", "ink2")],
            " · ".join(
                part
                for part in (
                    f"Jarred {long(line.jarred_on)}", f"by {card.by}" if card.by else "",
                    f"{line.jars:,} jars", best_before[0].lower() + best_before[1:],
                )
                if part
            ),
        )  # fmt: skip
        self.balance.say(*balance_of(card), met=card.difference_g == 0)
        self._show_sources(card)
        self.readings.say(
            [_reading(each) for each in card.readings] or [Fact("Nothing was read of it yet", ink="ink2")]
        )
        self.sections["readings"].say(readings_summary(card.readings))
        if fresh:
            self.weighing.waiting = 0
            self.weighing.tare.clear()
            self.weighing.gross.clear()
        if not self.weighing.waiting:
            self.weighing.show_weights(line.jar_g, card.net_tenths, weights_wanted(line), line.jars)
        self.sections["weighing"].say(self.weighing.summary())
        self._show_label(shown)
        self._show_went(card)

    def _show_sources(self, card: BatchCard) -> None:
        self.bar.set_shares(
            [Share(each.name, each.grams, f"{per_cent(each.share_hundredths)} %") for each in card.sources]
        )
        self.sources.say(source_facts(card.sources))
        self.sections["sources"].say(sources_summary(card))

    def _show_label(self, shown: Shown) -> None:
        layout, label = shown.run.layout, shown.card.label
        words = f"{label.business}, {label.name}, {net_words(label.net_g)}, {label.lot_mark}"
        self.proof.say(shown.proof, layout.label_width, layout.label_height, words)
        self.sections["proof"].say(layout.name)
        self.law.say([_law(each) for each in shown.particulars])
        self.sections["law"].say(law_summary(shown.particulars))
        failing = [each for each in shown.particulars if each.state is State.NOT_MET]
        if failing:
            first = failing[0]
            self.print.off(f"{first.title}: {first.words}")
            more = f" (and {len(failing) - 1} more)" if len(failing) > 1 else ""
            self.foot.say(
                [Run(f"{len(failing)} to mend before printing", "now", 600, mark=Mark.CANNOT, small=True)],
                [Run(f"{first.title}: {first.words}{more}", "now", small=True)],
            )
        else:
            self.print.on()
            line = shown.card.line
            printed = (
                f"{line.printed:,} labels printed, {shown.card.used:,} used, {shown.card.spoiled:,} spoiled"
            )
            self.foot.say([Run(printed if line.printed else "no labels printed yet", small=True)])
        self.print.setText(f"Print {shown.card.line.jars:,}")

    def _show_went(self, card: BatchCard) -> None:
        self.went.say([_went(each) for each in card.gone])
        self.went.setVisible(bool(card.gone))
        self.nothing_left.setVisible(not card.gone)
        left = kilograms(card.line.left_g)
        self.sections["went"].say("nothing left here" if card.line.is_sold_out else f"{left} kg on the farm")

    def _lay_out(self) -> None:
        self.head.set_acts_beside(self.count, self.way, self.record)
        send = ButtonRow(self.send)
        send.setContentsMargins(look.px(23), 0, 0, 0)  # the word of a quiet button at the text inset
        went = Stack(self.nothing_left, self.went, send)
        self.sections = {
            "sources": Section("Sources", Stack(self.bar, self.sources), first=True),
            "readings": Section("Readings of the blend", self.readings),
            "weighing": Section("Weighing check", self.weighing),
            "proof": Section("Label proof", self.proof, first=True),
            "law": Section("What the law asks", self.law),
            "went": Section("Where it went", went),
        }
        for key, section in self.sections.items():
            section.setObjectName(f"batches.card.{key}")
        left = _scrolled(*(self.sections[key] for key in ("sources", "readings", "weighing")))
        right = Stack()
        right.add(_scrolled(*(self.sections[key] for key in ("proof", "law", "went"))), 1)
        right.add(self.foot)
        panes = Panes(left, right)
        panes.share(422, 442)
        panes.setStretchFactor(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self.balance)
        column.addWidget(panes, 1)
        names = {
            "way": self.way,
            "record": self.record,
            "count": self.count,
            "edit": self.edit,
            "send": self.send,
            "print": self.print,
        }
        for name, button in names.items():
            button.setObjectName(f"batches.card.{name}")
        self.setObjectName("batches.card")


def balance_of(card: BatchCard) -> tuple[list[Part], str]:
    """The balance line of a jarring: drawn = jars + what was lost, and in words whether it balances."""
    mean = scaled(card.jar_mean_tenths, 10, 1)
    parts = [_drawn(card)]
    jars = Part(kilograms(card.line.jars_g, 3), "jars", "kg", f"{card.line.jars:,} × {mean} g", "=")
    parts.append(jars)
    parts += [Part(kilograms(each.grams, 3), each.what, "kg", each.note, "+") for each in card.spent]
    if card.difference_g == 0:
        return parts, "balances to the gram"
    return parts, f"{kilograms(abs(card.difference_g), 3)} kg not accounted for"


def _drawn(card: BatchCard) -> Part:
    lots = card.drawn_from
    words = lots[0].name if len(lots) == 1 else counted(len(lots), "lot")
    return Part(kilograms(card.drawn_g, 3), f"drawn from {words}", "kg")


def sources_summary(card: BatchCard) -> str:
    """From how many sites, and what is left where it was drawn from."""
    left = [f"{kilograms(lot.left_g, 3)} kg left in {lot.name}" for lot in card.drawn_from if lot.left_g]
    through = _in_common(card.sources)
    return ", ".join([counted(len(card.sources), "site"), *([through] if through else []), *left])


def readings_summary(readings: Sequence[BatchReading]) -> str:
    """How many were read, and how many lie outside their limit."""
    if not readings:
        return ""
    outside = sum(each.met is False for each in readings)
    return f"{outside} outside the limit" if outside else f"{len(readings)} known"


def law_summary(particulars: Sequence[Particular]) -> str:
    """As "14 met, 1 to mend"."""
    met = sum(each.state is State.MET for each in particulars)
    failing = sum(each.state is State.NOT_MET for each in particulars)
    return f"{met} met, {failing} to mend" if failing else f"{met} met"


def source_facts(sources: Sequence[Source]) -> list[Fact]:
    """Each site with its day, its weight and its share; what all have in common stands in the head."""
    alone = not _in_common(sources)
    weights = _aligned([kilograms(each.grams) for each in sources])
    shares = _aligned([per_cent(each.share_hundredths) for each in sources])
    return [
        Fact(
            each.name,
            f"{weight} kg  {share} %{_water(each) if alone else ''}",
            middle=_came(each, alone=alone),
            swatch=part_ink(at),
            weight=500,
            value_ink="ink",
            value_weight=600,
        )
        for at, (each, weight, share) in enumerate(zip(sources, weights, shares, strict=True))
    ]


def _in_common(sources: Sequence[Source]) -> str:
    """The one drum all came through, with its water; blank where they came through several."""
    ways = {(each.through, each.moisture_hundredths) for each in sources}
    if len(sources) < 2 or len(ways) > 1 or not sources[0].through:
        return ""
    return f"{sources[0].through}{_water(sources[0], ', ')}"


def _came(source: Source, *, alone: bool) -> str:
    day = long(source.taken) if source.taken else ""
    return ", ".join(part for part in (source.through if alone else "", day) if part)


def _water(source: Source, before: str = "  ") -> str:
    known = source.moisture_hundredths
    return "" if known is None else f"{before}{per_cent(known)} % water"


def _aligned(figures: Sequence[str]) -> list[str]:
    """Figures of one width: a figure space is as wide as a digit."""
    widest = max((len(each) for each in figures), default=0)
    return [each.rjust(widest, FIGURE_SPACE) for each in figures]


def _reading(reading: BatchReading) -> Fact:
    marks = {True: Mark.MET, False: Mark.LATE, None: None}
    only = reading.met is None and reading.limit
    mark = Mark.ODD if only else marks[reading.met]
    middle = ", ".join(part for part in (reading.value, reading.source) if part)
    ink: Token = "now" if reading.met is False else "ink2"
    return Fact(reading.what, reading.limit or "no limit", mark, middle=middle, value_ink=ink)


def _law(particular: Particular) -> Fact:
    failing = particular.state is State.NOT_MET
    return Fact(
        particular.title, mark=_MARKS[particular.state], middle=particular.words,
        weight=600 if failing else 400, ink="now" if failing else "ink", tint="nowsoft" if failing else None,
    )  # fmt: skip


def _went(gone: Gone) -> Fact:
    whom = " ".join(part for part in (gone.party, gone.note) if part)
    return Fact(gone.what, f"{kilograms(gone.grams, 3)} kg, {short(gone.on)}", middle=whom)


def _scrolled(*pieces: QWidget) -> QScrollArea:
    inside = Stack(*pieces)
    inside.column.addStretch(1)
    scroll = QScrollArea()
    scroll.setWidget(inside)
    scroll.setWidgetResizable(True)
    scroll.setFrameShape(QFrame.Shape.NoFrame)
    return scroll
