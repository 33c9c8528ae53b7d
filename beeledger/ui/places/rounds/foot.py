"""The foot of the grid: sums under their columns, and the band with the posting."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QRect, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from beeledger.base.findings import Grade
from beeledger.base.text import counted
from beeledger.ui.places.rounds.again import left_out
from beeledger.ui.places.rounds.checking import UNREAD, LineView
from beeledger.ui.places.rounds.grid import EntryGrid
from beeledger.ui.places.rounds.model import WHO
from beeledger.ui.places.rounds.painting import LEFT_INSET, RIGHT_INSET
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Align, Run
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.painting import fill, paint_text, upright
from beeledger.ui.widgets.panes import Band
from beeledger.ui.widgets.words import RunWords


class GridFoot(QWidget):
    """How many were looked at, each sum under its column, how long it took and when the next look is."""

    def __init__(self, grid: EntryGrid) -> None:
        super().__init__()
        self.setObjectName("rounds.foot")
        self._grid = grid
        self._left = ""
        self._right = ""
        self._sums: dict[str, str] = {}
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        grid.horizontalHeader().sectionResized.connect(self.update)
        grid.horizontalScrollBar().valueChanged.connect(self.update)

    def show_sums(self, sheet: Sheet) -> None:
        """Add up anew."""
        words = sheet.foot.words()
        self._left = words["outcome"]
        duration = _duration(sheet.head.start_minute, sheet.head.end_minute)
        parts = [words["not_opened"], duration, words["next_days"]]
        self._right = " · ".join(part for part in parts if part)
        self._sums = {
            column.key: said
            for column in sheet.columns
            if (said := " ".join(words[name] for name in column.sums if words.get(name)))
        }
        told = [self._left, *(f"{key} {value}" for key, value in self._sums.items()), self._right]
        self.setAccessibleName(", ".join(part for part in told if part))
        self.update()

    def sums(self) -> dict[str, str]:
        """The sums by the key of their column."""
        return dict(self._sums)

    def sizeHint(self) -> QSize:
        return QSize(look.px(300), look.px(26))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(100), look.px(26))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        fill(painter, self.rect(), "sunk")
        fill(painter, QRect(0, 0, self.width(), 1), "line5")
        fill(painter, QRect(0, self.height() - 1, self.width(), 1), "line5")
        head = self._grid.horizontalHeader()
        room = QRect(0, 0, self.width(), self.height())
        first = head.sectionViewportPosition(len(WHO))
        pad = look.px(LEFT_INSET + 4)
        paint_text(painter, QRect(pad, 0, first - pad, self.height()), self._left, "ink2", role="small")
        for at, column in enumerate(self._grid.cells.columns, start=len(WHO)):
            left, wide = head.sectionViewportPosition(at), head.sectionSize(at)
            if column.group_end:
                upright(painter, left + wide - 1, 0, self.height(), "line")
            if column.key == "rest":
                place = QRect(left, 0, self.width() - left - look.px(12), self.height())
                paint_text(painter, place, self._right, "ink2", role="small", align=Align.RIGHT, shorten=True)
            elif column.key in self._sums:
                text = self._sums[column.key]
                wanted = look.metrics("base", 600).horizontalAdvance(text)
                # A sum wider than its column reaches into the one at its left, whose own sum is short.
                x = max(0, min(left, left + wide - look.px(RIGHT_INSET) - wanted))
                place = QRect(x, room.top(), left + wide - look.px(RIGHT_INSET) - x, room.height())
                paint_text(painter, place, text, "ink", weight=600, align=Align.RIGHT)
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


def _duration(start: int | None, end: int | None) -> str:
    if start is None or end is None or end < start:
        return ""
    return f"{(end - start) // 60} h {(end - start) % 60:02d}"


ANSWERED = "A line with ? waits for the crew; once answered, take its question out"


class PostBar(Band):
    """What holds the posting, what wants a look, when the draft was kept; the one main button."""

    def __init__(
        self, first: Callable[[], object], rest: Callable[[], object], post: Callable[[], object]
    ) -> None:
        super().__init__(height=40, ground="sunk", line="above", inset=16)
        self.words = RunWords(shorten=True)
        self.first = Button("Go to it", first)
        self.first.setObjectName("rounds.first")
        self.rest = Button("Post the others", rest)
        self.rest.setObjectName("rounds.post_rest")
        self.post = Button("Post the round", post, kind="main")
        self.post.setObjectName("rounds.post")
        self.kept = ""
        self.row.addWidget(self.words, 1)
        for button in (self.first, self.rest, self.post):
            self.add(button)

    def show_state(self, sheet: Sheet, *, posting: bool) -> None:
        """Count anew what holds and what is odd."""
        held = [view for view in sheet.views if view.held]
        odd = sum(bool(view.odd) for view in sheet.views)
        waits = sum(view.waits for view in sheet.views)
        filled = sum(not line.empty for line in sheet.lines)
        gone = left_out(sheet)
        self.words.say([*held_runs(held), *_other_runs(odd, waits), *_gone_run(gone), *self._kept_run()])
        self.first.setVisible(bool(held))
        self.first.setText("Go to it" if len(held) == 1 else f"First of the {len(held)}")
        able = sum(_postable(view) for view in sheet.views)
        corrects = sheet.head.corrects is not None
        self.rest.setVisible(bool(held) and able > 0 and not corrects)
        self.post.setText("Post the correction" if corrects else "Post the round")
        self.rest.setText(f"Post the other {able}")
        reason = _why_off(len(held), filled if able or held else 0, waits, posting=posting)
        if reason:
            self.post.off(reason)
        else:
            self.post.on()
        self.rest.setEnabled(not posting)

    def _kept_run(self) -> list[Run]:
        return [Run(f"Draft kept {self.kept}", "ink2", small=True)] if self.kept else []


def _gone_run(gone: int) -> list[Run]:
    """Hives of a posted round that its correction leaves out."""
    words = f"{counted(gone, 'hive')} taken out of the round"
    return [Run(words, "watch", 600, mark=Mark.AGAINST, gap=18)] if gone else []


def _why_off(held: int, filled: int, waits: int, *, posting: bool) -> str:
    if posting:
        return "The round is being posted"
    if held:
        return f"{counted(held, 'line')} cannot be posted as {'it stands' if held == 1 else 'they stand'}"
    if waits and not filled:
        return ANSWERED
    return "" if filled else "Nothing is typed yet"


def _postable(view: LineView) -> bool:
    return not view.held and not view.waits and view.entry != type(view.entry)()


def held_runs(held: list[LineView]) -> list[Run]:
    """What holds the posting, counted by kind."""
    unread = sum(any(one.code == UNREAD for one in view.open) for view in held)
    refused = sum(
        any(one.grade is Grade.REFUSED and one.code != UNREAD for one in view.open) for view in held
    )
    against = sum(all(one.grade is Grade.AGAINST for one in view.open) for view in held)
    runs = []
    if refused:
        runs.append(Run(f"{refused} cannot be true", "now", 600, mark=Mark.CANNOT, gap=12))
    if unread:
        runs.append(Run(f"{unread} not read", "now", 600, mark=Mark.CANNOT, gap=12))
    if against:
        runs.append(Run(f"{against} against the record", "watch", 600, mark=Mark.AGAINST, gap=12))
    if runs:
        last = runs[-1]
        runs[-1] = Run(last.text, last.ink, last.weight, mark=last.mark, gap=4)
        runs.append(Run("and hold the posting" if len(held) > 1 else "and holds the posting", "ink2", gap=18))
    return runs


def _other_runs(odd: int, waits: int) -> list[Run]:
    runs = []
    if odd:
        runs.append(Run(f"{odd} to look at", "watch", 600, mark=Mark.ODD, gap=18))
    if waits:
        runs.append(
            Run(f"{waits} wait{'s' if waits == 1 else ''} for the crew", "ink2", mark=Mark.SOON, gap=18)
        )
    return runs
