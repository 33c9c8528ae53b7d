"""A new ledger: the steps to its first posted round, the done ones ticked and the next one named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from beeledger.base.text import counted
from beeledger.queries.first_steps import FirstSteps
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.words import RunWords, Words

TITLES = (
    "Welcome. This ledger is empty",
    "Next: the first site, or your old spreadsheet",
    "Next: the hives that stand there",
    "Next: a sheet of paper for the first visit",
    "Next: type the first round",
    "The first round is posted",
)
AFTER = (
    "From now on this place says each morning where something is due. F1 tells of the place in front, "
    "Ctrl K finds any hive, site, paper or word, and whatever was done can be taken back at the top right."
)
BEFORE = "Enter does the step that is marked. Each can be taken back, and none is needed for the others."


@dataclass(frozen=True, slots=True)
class Ways:
    """Where the steps lead."""

    name: Callable[[str], None]
    spreadsheet: Callable[[], None]
    site: Callable[[], None]
    hives: Callable[[], None]
    sheet: Callable[[], None]
    round: Callable[[], None]
    leave: Callable[[], None]


class Step(QWidget):
    """One step: its number or a tick, what it is, what it gives, and its buttons."""

    def __init__(self, number: int, title: str, words: str, *pieces: QWidget) -> None:
        super().__init__()
        self._number, self._title = number, title
        self.done = False
        self.mark = RunWords()
        self.mark.setFixedWidth(look.px(26))
        self.title = Words(title, weight=600)
        self.words = Words(words, role="small", ink="ink2", wrap=True)
        self._plain = words
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.px(8))
        for piece in pieces:
            row.addWidget(piece, 0, Qt.AlignmentFlag.AlignBottom)
        row.addStretch(1)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, look.px(12), 0, 0)
        grid.setHorizontalSpacing(0)
        grid.setVerticalSpacing(look.px(3))
        top = Qt.AlignmentFlag.AlignTop
        grid.addWidget(self.mark, 0, 0, top)
        grid.addWidget(self.title, 0, 1, top)
        grid.addWidget(self.words, 0, 2)
        grid.addLayout(row, 1, 2)
        grid.setColumnMinimumWidth(1, look.px(150))
        grid.setColumnStretch(2, 1)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.tell("")

    def tell(self, done: str) -> None:
        """Tick it with what came of it; empty words leave it to do."""
        self.done = bool(done)
        self.mark.say([Run("", mark=Mark.MET)] if done else [Run(f"{self._number}", "ink2", 600)])
        self.words.setText(done or self._plain)
        self.setAccessibleName(f"{self._title}: {'done, ' if done else ''}{self.words.text()}")


class Welcome(Stack):
    """Name the farm, a spreadsheet or a first site, the hives, a sheet of paper, the first round."""

    def __init__(self, ways: Ways) -> None:
        super().__init__()
        self.setObjectName("today.welcome")
        self._ways = ways
        self._paper = False
        self._current = -1
        self.farm = Field("Name of the farm", prompt="as customers know it", width=320, message=False)
        self.farm.setObjectName("today.welcome.farm")
        self.keep = Button("Keep the name", self.keep_name)
        self.spreadsheet = Button("Read an old spreadsheet", ways.spreadsheet)
        self.site = Button("Add the first site", ways.site)
        self.hives = Button("Bring in hives by their numbers", ways.hives)
        self.sheet = Button("Show the round sheet", ways.sheet, icon="print")
        self.round = Button("Type the first round", ways.round)
        self.leave = Button("Show Today", ways.leave, kind="quiet")
        self.leave.setObjectName("today.welcome.leave")
        self.title = Words(TITLES[0], role="card", weight=600)
        self.below = Words(BEFORE, ink="ink2", wrap=True)
        self.steps = self._steps()
        self._lay_out()
        self.setFocusProxy(self.farm)

    def show_steps(self, steps: FirstSteps) -> None:
        """Tick what is done, name what is next, and hand it the keys if they are here."""
        if not self.farm.editor.hasFocus():
            self.farm.set_value(steps.name)
        where = f"{counted(steps.sites, 'site')}, the fullest {steps.site}" if steps.sites > 1 else steps.site
        hives = counted(steps.colonies, "colony", "colonies")
        told = (
            steps.name,
            where if steps.sites else "",
            f"{hives} in the record" if steps.colonies else "",
            "Printed or saved" if self._paper else "",
            "Posted" if steps.posted else "",
        )
        for step, words in zip(self.steps, told, strict=True):
            step.tell(words)
        self.site.setText("Add another site" if steps.sites else "Add the first site")
        for button, wanting in (
            (self.hives, "" if steps.sites else "Add a site first"),
            (self.sheet, "" if steps.colonies else "Bring in hives first"),
            (self.round, "" if steps.colonies else "Bring in hives first"),
        ):
            button.off(wanting) if wanting else button.on()
        self.leave.setVisible(bool(steps.colonies))
        self._name_next(self._next(steps))

    def _next(self, steps: FirstSteps) -> int:
        """The first step not done; who went on without a name is not sent back to it."""
        if steps.posted and steps.colonies:
            return len(self.steps)
        return next(at for at, step in enumerate(self.steps) if not step.done and (at or not steps.sites))

    def paper_kept(self) -> None:
        """The sheet was printed or saved: its step is ticked."""
        self._paper = True

    def keep_name(self) -> None:
        """Write the name; the keys go on to the next step when it is written."""
        if self.farm.value():
            self.keep.setFocus(Qt.FocusReason.OtherFocusReason)
            self._ways.name(self.farm.value())

    def _name_next(self, number: int) -> None:
        self.title.setText(TITLES[number])
        self.below.setText(AFTER if number == len(self.steps) else BEFORE)
        mains = (self.keep, self.site, self.hives, self.sheet, self.round, self.leave)
        for at, button in enumerate(mains):
            button.become("main" if at == number else "quiet" if button is self.leave else "plain")
        target: QWidget = self.farm if number == 0 else mains[number]
        self.setFocusProxy(target)
        focus = QApplication.focusWidget()
        moved, self._current = number != self._current, number
        if moved and focus is not None and self.isAncestorOf(focus):
            target.setFocus(Qt.FocusReason.OtherFocusReason)

    def _steps(self) -> tuple[Step, ...]:
        return (
            Step(1, "The farm", "Its name stands on every paper and label.", self.farm, self.keep),
            Step(
                2,
                "Sites",
                "A site needs a name and, for the map, its grid reference. An old workbook or CSV brings sites and "
                "hives at once, in any layout: it is shown first and written only when you say so.",
                self.site,
                self.spreadsheet,
            ),
            Step(3, "Hives", "1-20 brings in twenty in one act. They stand as typed.", self.hives),
            Step(
                4,
                "Paper for the visit",
                "One line a hive, to be filled in with a pencil. Save as PDF or print it, then Esc comes back.",
                self.sheet,
            ),
            Step(
                5, "The first round", "What was seen, fed and treated, one short line a hive; Ctrl Enter posts.",
                self.round,
            ),
        )  # fmt: skip

    def _lay_out(self) -> None:
        self.column.setContentsMargins(look.px(35), look.px(20), look.px(35), look.px(16))
        self.column.setSpacing(look.px(4))
        for piece in (self.title, self.below, *self.steps):
            self.add(piece)
        row = QWidget()
        column = QVBoxLayout(row)
        column.setContentsMargins(look.px(176), look.px(18), 0, 0)
        column.addWidget(self.leave, 0, Qt.AlignmentFlag.AlignLeft)
        self.add(row)
        self.column.addStretch(1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter keeps the name, or presses the button that has the keys."""
        focus = QApplication.focusWidget()
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            super().keyPressEvent(event)
        elif isinstance(focus, Button):
            focus.click()
        else:
            self.keep_name()
