"""The card of one colony, and the card of several chosen ones."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from PySide6.QtCore import QEvent, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.base.dates import short
from beeledger.base.text import counted, listed, shortened
from beeledger.base.units import frames, kilograms, per_cent
from beeledger.queries.records.colonies import ColonyCard, ColonyLine
from beeledger.queries.records.restrictions import RestrictionLine
from beeledger.rules.due import Grade, grade, reason_figures
from beeledger.ui.parts.due_words import INKS, MARKS
from beeledger.ui.parts.queen_mark import queen_runs
from beeledger.ui.parts.stack_drawing import StackDrawing
from beeledger.ui.places.colonies import due_story, story
from beeledger.ui.places.colonies.what_if import WhatIf
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.line_chart import LineChart
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.more import MoreButton
from beeledger.ui.widgets.time_lanes import TimeLanes

_NARROW = 400
"""Under this width two pieces stand one under the other."""
_AT_HAND = 4
"""So many acts stand as buttons; the rest, seldomer wanted, in the menu beside them."""
Acts = Mapping[str, tuple[str, Callable[[], None]]]
"""By its word each act with its chord."""


def _buttons(acts: Acts, name: str) -> list[Button]:
    """The acts at hand as buttons, and the others behind one more."""
    words = list(acts)
    shown = [Button(word, acts[word][1], tip=acts[word][0]) for word in words[:_AT_HAND]]
    for word, button in zip(words, shown, strict=False):
        button.setObjectName(f"{name}.{word.lower().replace(' ', '_')}")
    more = MoreButton()
    more.setObjectName(f"{name}.more")
    for word in words[_AT_HAND:]:
        more.offer(word, *acts[word])
    return [*shown, more]


class HiveCard(Card):
    """One colony: who she is, how it stands, its boxes, what is due, how it went."""

    def __init__(self, acts: Acts, wide: Callable[[], None]) -> None:
        super().__init__()
        self.setObjectName("colonies.card")
        self.buttons = _buttons(acts, "colonies.card")
        self.wide = Button("Widen", wide, kind="quiet")
        self.wide.setObjectName("colonies.card.wide")
        self.back = Button("Bring back")
        self.back.setObjectName("colonies.card.bring_back")
        self.head.set_acts(*self.buttons, self.back, last=self.wide)
        self.figures = KeyFigures()
        self.stack = StackDrawing()
        self.due = FactRows(marks=True)
        self.strength = LineChart("Bees and brood", "frames")
        self.mites = LineChart("Mites", "in 100 bees")
        self.stores = LineChart("Stores", "kg")
        self.lanes = TimeLanes()
        self.visits = FactRows(middle_at=132)
        self.force = FactRows(marks=True)
        self.force.setObjectName("colonies.force")
        self.force.hide()
        self.add(self.force)
        self.add(self.figures)
        self.boxes = self.section("colonies.boxes", "Boxes and what is due", _Beside(self.stack, self.due))
        self.due.setObjectName("colonies.due")
        self.what_if = WhatIf()
        self.reckoned = self.section("colonies.reckoned", "What if", self.what_if)
        self.charts = self.section(
            "colonies.charts", "Strength, mites and stores", _Beside(self.strength, self.mites)
        )
        self.charts.add(self.stores)
        self.happened = self.section("colonies.happened", "What happened", self.lanes)
        self.happened.add(self.visits)
        self.put_off = FactRows(middle_at=132)
        self.put_off.setObjectName("colonies.put_off")
        self.happened.add(self.put_off)
        self.reckoned.fold(shut=True)
        self.reckoned.say("feed, mites, queens")
        self.say("No colony chosen", (), "Choose one in the table.")
        self.show_nothing()

    def show_nothing(self) -> None:
        """Nothing is chosen: only the head stays."""
        for piece in (self.force, self.figures, self.boxes, self.reckoned, self.charts, self.happened):
            piece.hide()
        for button in (*self.buttons, self.back, self.wide):
            button.hide()

    def show_force(self, lines: Sequence[RestrictionLine]) -> None:
        """In one line each: what is restricted where it stands."""
        self.force.say(
            [
                Fact(
                    f"Restricted since {short(line.begins_on)}: {line.reason}",
                    "",
                    Mark.HELD,
                    weight=600,
                    ink="now",
                )
                for line in lines
            ]
        )
        self.force.setVisible(bool(lines))

    def show_colony(self, card: ColonyCard, today: date) -> None:
        """Fill the card."""
        line, queen = card.line, card.line.queen
        mark = line.mark or (card.marks[-1][0] if line.ended_on and card.marks else "")
        title = f"Hive {mark}" if mark else "A hive without a number"
        state = str(queen.state) if queen.state else None
        runs = queen_runs(queen.year, queen.marked, queen.clipped, queen.tag, state, queen.state_on)
        self.say(title, [] if line.ended_on else runs, story.facts_line(card))
        self.figures.say(story.key_figures(card, today))
        self._show_boxes(card, today)
        self.what_if.show_colony(card, today)
        span = (story.first_day(card, today), line.ended_on or today)
        self.strength.set_series(story.strength_series(card, span[1]), story.strength_lines(card), span=span)
        self.mites.set_series(story.mite_series(card, span[1]), story.mite_lines(card), span=span)
        self.stores.set_series(
            story.stores_series(card, span[1]), story.stores_lines(card, span[1]), span=span
        )
        self.charts.say("12 months")
        drawn = story.lanes(card, span[0])
        self.lanes.set_lanes(drawn, *span)
        hefted = any(visit.entry.outcome == "not_opened" for visit in card.visits)
        self.happened.say(
            counted(story.events(drawn), "event") + (" · ring: hefted, not opened" if hefted else "")
        )
        self.visits.say(story.visit_facts(card))
        self.put_off.say(due_story.put_off_facts(card))
        # Shown only when filled: a layout asked for while it is hidden would keep the empty sizes.
        for piece in (self.figures, self.boxes, self.charts, self.happened, self.wide):
            piece.show()
        self.reckoned.setVisible(line.ended_on is None)
        for button in self.buttons:
            button.setVisible(line.ended_on is None)
        self.back.setVisible(line.ended_on is not None)

    def _show_boxes(self, card: ColonyCard, today: date) -> None:
        boxes, dues = story.stack(card), due_story.due_facts(card, today)
        self.stack.say(boxes)
        self.due.say(dues or [Fact("Nothing is due", ink="ink2")])
        pressing = sum(grade(due.due_on, today) is not Grade.LATER for due in card.line.due)
        due = f"{pressing} due" if pressing else "nothing due yet"
        self.boxes.say(f"{counted(len(boxes), 'box', 'boxes')}, {due}")


class SeveralCard(Card):
    """Several colonies chosen: their sums, and the acts that work on many."""

    def __init__(self, acts: Acts) -> None:
        super().__init__()
        self.setObjectName("colonies.several")
        self.head.set_acts(*_buttons(acts, "colonies.several"))
        self.figures = KeyFigures()
        self.due = FactRows(marks=True)
        self.sites = FactRows()
        self.add(self.figures)
        self.section("colonies.several.due", "What is due", self.due)
        self.section("colonies.several.sites", "Where they stand", self.sites)

    def show_lines(self, lines: Sequence[ColonyLine], today: date) -> None:
        """Fill the card from the rows that are chosen."""
        marks = [line.mark or "one without a number" for line in lines]
        self.say(counted(len(lines), "colony", "colonies"), [Run("chosen")], shortened(listed(marks), 160))
        self.figures.say(several_figures(lines))
        self.due.say(several_dues(lines, today) or [Fact("Nothing is due soon", ink="ink2")])
        sites: dict[str, int] = {}
        for line in lines:
            sites[line.site or line.place] = sites.get(line.site or line.place, 0) + 1
        self.sites.say(
            [Fact(name, counted(number, "colony", "colonies")) for name, number in sorted(sites.items())]
        )


def several_figures(lines: Sequence[ColonyLine]) -> list[Figure]:
    """Means, each with on how many it rests."""
    made = []
    for name, unit, values, words in (
        ("Bees", "frames", [line.bees_tenths for line in lines], frames),
        ("Brood", "frames", [line.brood_tenths for line in lines], frames),
        ("Stores", "kg", [line.stores_g for line in lines], kilograms),
        ("Mites", "%", [line.mites_hundredths for line in lines], per_cent),
    ):
        known = [value for value in values if value is not None]
        mean = words(round(sum(known) / len(known))) if known else ""
        made.append(Figure(name, mean, unit, f"mean of {len(known):,}" if known else "not known"))
    return made


def several_dues(lines: Sequence[ColonyLine], today: date) -> list[Fact]:
    """What is due first at each, counted by kind, worst first."""
    count: dict[tuple[Grade, str], int] = {}
    for line in lines:
        if line.due_on is not None and line.due_code is not None:
            key = (grade(line.due_on, today), line.due_code)
            count[key] = count.get(key, 0) + 1
    order = list(Grade)
    keys = sorted(
        (key for key in count if key[0] is not Grade.LATER),
        key=lambda key: (order.index(key[0]), -count[key]),
    )
    return [
        Fact(
            reason_figures()[code].words,
            f"{count[how, code]:,} {how}",
            MARKS[how],
            weight=600,
            value_ink=INKS[how],
        )
        for how, code in keys
    ]


class _Beside(QWidget):
    """Two pieces side by side; one under the other where the card is narrow."""

    def __init__(self, first: QWidget, second: QWidget) -> None:
        super().__init__()
        self._pieces = (first, second)
        for piece in self._pieces:
            piece.setParent(self)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        heights = [piece.sizeHint().height() for piece in self._pieces]
        return sum(heights) if width < look.px(_NARROW) else max(heights)

    def sizeHint(self) -> QSize:
        return QSize(look.px(_NARROW), self.heightForWidth(max(1, self.width())))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(220), self.heightForWidth(max(1, self.width())))

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
            self._place()
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()

    def _place(self) -> None:
        first, second = self._pieces
        hint = first.sizeHint()
        fixed = first.sizePolicy().horizontalPolicy() == QSizePolicy.Policy.Fixed
        if self.width() < look.px(_NARROW):
            first.setGeometry(0, 0, self.width(), hint.height())
            second.setGeometry(0, hint.height(), self.width(), second.sizeHint().height())
            return
        split = hint.width() if fixed else self.width() // 2
        first.setGeometry(0, 0, split, hint.height())
        second.setGeometry(split, 0, self.width() - split, second.sizeHint().height())
