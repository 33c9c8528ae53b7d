"""What if, on the card of a colony: a question, one or two figures, and the arithmetic with its sources. It writes nothing."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta

from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from beeledger.base.dates import long, read_date
from beeledger.base.units import to_scale
from beeledger.queries.records.colonies import ColonyCard
from beeledger.rules import mites, stores
from beeledger.rules.rounds.entry import Entry
from beeledger.rules.what_if import (
    Step,
    Stocked,
    if_counted,
    if_dropped,
    if_fed,
    if_hatched,
    if_laying_stopped,
)
from beeledger.ui.widgets import look
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.words import Words

QUESTIONS = (
    ("fed", "it is fed"), ("counted", "a wash finds"), ("dropped", "mites drop"), ("hatched", "a queen hatches"),
    ("stopped", "laying stops"),
)  # fmt: skip
_FIRST = {"fed": "Litres", "counted": "Mites", "dropped": "Mites", "hatched": "Day", "stopped": "Day"}
_SECOND = {"counted": "On how many bees", "dropped": "Over how many days"}
_MOST_LITRES_ML = 100_000
_MOST = 100_000
_HALF_YEAR = timedelta(days=182)
"""A day typed without its year is the one nearest to today."""


class WhatIf(QWidget):
    """The question and its fields in a line; under it the lines of the arithmetic, reckoned as typed."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("colonies.what_if")
        self._card: ColonyCard | None = None
        self._today = date.min
        self.steps: tuple[Step, ...] = ()
        mixes = [(code, mix.words) for code, mix in stores.figures().mixes.items()]
        self.question = Field("What if", editor=Choice(QUESTIONS), message=False)
        self.first = Field(_FIRST["fed"], "5", width=84, message=False)
        self.second = Field("On how many bees", "300", width=110, message=False)
        self.day = Field("Day", width=130, message=False)
        self.mix = Field("Of", "2:1", editor=Choice(mixes), message=False)
        self._fields = {
            "question": self.question,
            "first": self.first,
            "second": self.second,
            "day": self.day,
            "mix": self.mix,
        }
        self.said = Words("", role="small", ink="now", wrap=True)
        self._lines = QWidget()
        self._lay_out()
        for name, field in self._fields.items():
            field.setObjectName(f"colonies.what_if.{name}")
            field.changed.connect(lambda _text: self._reckon())
        self._reckon()

    def show_colony(self, card: ColonyCard, today: date) -> None:
        """Ask of another colony; the question and its figures stay."""
        self._card, self._today = card, today
        if not self.day.value():
            self.day.set_value(long(today))
        self._reckon()

    def _lay_out(self) -> None:
        inset = look.px(16)
        row = QHBoxLayout()
        row.setSpacing(look.px(10))
        row.addWidget(self.question, 1)
        for field in (self.first, self.mix, self.second, self.day):
            row.addWidget(field)
        self._grid = QGridLayout(self._lines)
        self._grid.setContentsMargins(0, look.px(6), 0, 0)
        self._grid.setVerticalSpacing(look.px(1))
        self._grid.setColumnStretch(0, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(inset, look.px(4), inset, look.px(4))
        column.setSpacing(look.px(4))
        column.addLayout(row)
        column.addWidget(self.said)
        column.addWidget(self._lines)

    def _reckon(self) -> None:
        what = self.question.value() or "fed"
        self.first.setVisible(what in ("fed", "counted", "dropped"))
        self.mix.setVisible(what == "fed")
        self.second.setVisible(what in _SECOND)
        self.day.setVisible(what in ("hatched", "stopped"))
        self.first.rename(_FIRST[what])
        self.second.rename(_SECOND.get(what, ""))
        try:
            steps = _ANSWERS[what](self._values(), self._card, self._today)
        except ValueError as error:
            self._show((), str(error))
        else:
            self._show(steps, "")

    def _values(self) -> Mapping[str, str]:
        return {name: field.value() for name, field in self._fields.items()}

    def _show(self, steps: Sequence[Step], wrong: str) -> None:
        self.said.setText(wrong)
        self.said.setVisible(bool(wrong))
        self.steps = tuple(steps)
        while self._grid.count():
            item = self._grid.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        before = ""
        for at, step in enumerate(steps):
            self._grid.addWidget(Words(step.words, wrap=True), 2 * at, 0)
            self._grid.addWidget(Words(step.figure, weight=600), 2 * at, 1)
            if step.source != before:
                self._grid.addWidget(
                    Words(step.source, role="small", ink="ink2", wrap=True), 2 * at + 1, 0, 1, 2
                )
            before = step.source
        spoken = "; ".join(f"{step.words}: {step.figure}, by {step.source}" for step in steps)
        self._lines.setAccessibleName(spoken or wrong)


def stocked(card: ColonyCard) -> Stocked:
    """The stores of a colony as last weighed, judged, or reckoned from frames; and what it sits in."""
    boxes = card.line.boxes
    brood = boxes.brood_boxes if boxes else 1
    for visit in card.visits:
        grams = _grams(visit.entry, boxes.brood_frame if boxes else "")
        if grams is not None:
            return Stocked(grams, visit.on, card.line.kind, brood)
    return Stocked(kind=card.line.kind, brood_boxes=brood)


def before_treatment(card: ColonyCard) -> int | None:
    """The share of the last count before the last treatment that has ended; None where there is no such pair."""
    ended = [one for one in card.treated if one.out_on is not None]
    if not ended:
        return None
    shares = [
        mites.infestation_hundredths(one.mites, one.bees)
        for one in card.mites
        if one.method != "drop" and one.on <= ended[-1].in_on
    ]
    return shares[-1] if shares else None


def _grams(entry: Entry, brood_frame: str) -> int | None:
    if entry.stores_g is not None or entry.stores_tenths is None:
        return entry.stores_g
    if brood_frame not in stores.figures().frames_g:
        return None
    return stores.stores_from_frames_g(entry.stores_tenths, brood_frame)


def _fed(values: Mapping[str, str], card: ColonyCard | None, today: date) -> list[Step]:
    return if_fed(
        _whole(values["first"], 1_000, _MOST_LITRES_ML),
        values["mix"],
        stocked(card) if card else Stocked(),
        today,
    )


def _counted(values: Mapping[str, str], card: ColonyCard | None, today: date) -> list[Step]:
    line = card.mite_line_hundredths if card else mites.figures().treat_hundredths
    return if_counted(
        _whole(values["first"]),
        _whole(values["second"]),
        line,
        today,
        before_treatment(card) if card else None,
    )


def _dropped(values: Mapping[str, str], _card: ColonyCard | None, today: date) -> list[Step]:
    return if_dropped(_whole(values["first"]), _whole(values["second"]), today)


def _hatched(values: Mapping[str, str], _card: ColonyCard | None, today: date) -> list[Step]:
    return if_hatched(read_date(values["day"], today + _HALF_YEAR))


def _stopped(values: Mapping[str, str], _card: ColonyCard | None, today: date) -> list[Step]:
    return if_laying_stopped(read_date(values["day"], today + _HALF_YEAR))


def _whole(text: str, scale: int = 1, most: int = _MOST) -> int:
    if not text:
        raise ValueError("type a figure")
    number = to_scale(text, scale)
    if not 0 <= number <= most:
        raise ValueError(f"{text} is out of reach")
    return number


_ANSWERS: dict[str, Callable[[Mapping[str, str], ColonyCard | None, date], list[Step]]] = {
    "fed": _fed, "counted": _counted, "dropped": _dropped, "hatched": _hatched, "stopped": _stopped,
}  # fmt: skip
