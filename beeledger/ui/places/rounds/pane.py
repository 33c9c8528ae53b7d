"""One round on the desk: grid, foot, quick line, marks, posting. Both ways of typing are views of one sheet."""

from __future__ import annotations

from collections.abc import Callable
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from beeledger.base.findings import Finding
from beeledger.rules.rounds.checks import needs_reason
from beeledger.ui.desk.desk import Desk
from beeledger.ui.places.rounds import doing
from beeledger.ui.places.rounds.beside import Beside
from beeledger.ui.places.rounds.foot import GridFoot, PostBar
from beeledger.ui.places.rounds.grid import EntryGrid
from beeledger.ui.places.rounds.sheet import EVERY_ROW, Sheet
from beeledger.ui.places.rounds.site_line import read_site_line, with_site_line
from beeledger.ui.places.rounds.strip import Asking, Strip
from beeledger.ui.widgets.marks import Mark

LINE, CELLS = "line", "cells"


class RoundPane(QWidget):
    """Shows one sheet at a time. Commands it does not know are handed on."""

    commanded = Signal(str)
    lines_added = Signal()
    progressed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.sheet: Sheet | None = None
        self.mode = LINE
        self.posting = False
        self._reason_for: list[int] = []
        self._came_to_empty = False
        self.grid = EntryGrid()
        self.grid.enter_goes = desk.settings.enter_goes
        self.foot = GridFoot(self.grid)
        self.strip = Strip()
        self.beside = Beside()
        self.marks = self.beside.marks
        self.bar = PostBar(
            lambda: self.command("next_held"),
            lambda: self.command("post_rest"),
            lambda: self.command("post"),
        )
        self._lay_out()
        self._connect()
        self._commands = self._known_commands()

    def show_sheet(self, sheet: Sheet) -> None:
        """Another round, where its typing stood."""
        if self.sheet is not None and self._heard in self.sheet.heard:
            self.sheet.heard.remove(self._heard)
        self.sheet = sheet
        sheet.heard.append(self._heard)
        place = dict(sheet.place)
        self.grid.show_sheet(sheet, int(place.get("row", 0)))
        self.mode = str(place.get("mode", LINE))
        self._back_to_hive()
        self.grid.resume(place.get("cell"))
        self.beside.show_sheet(sheet)
        self.beside.fit(self.width() - self.grid.wanted_width())
        self._tell_all()

    def come(self) -> None:
        """Take the keys to where the typing goes on."""
        (self.grid if self.mode == CELLS else self.strip.line).setFocus(Qt.FocusReason.OtherFocusReason)

    def command(self, name: str) -> None:
        """Carry out a command of the pane, or hand it on."""
        known = self._commands.get(name)
        if known is None:
            self.commanded.emit(name)
        elif self.sheet is not None and not self.posting:
            known()

    def show_draft_time(self) -> None:
        """The draft was kept just now."""
        now = self.desk.clock.now().astimezone(ZoneInfo(self.desk.clock.zone))
        self.bar.kept = f"{now:%H:%M:%S}"

    def set_posting(self, *, posting: bool) -> None:
        """While the act runs nothing is typed."""
        self.posting = posting
        self.strip.line.setReadOnly(posting)
        self.grid.locked = posting
        self._tell_bar()

    # -- what the keys ask for

    def _known_commands(self) -> dict[str, Callable[[], None]]:
        return {
            "toggle": self._toggle, "fill": self._fill, "normal": self._normal, "site": self._ask_site,
            "find": self._ask_find, "next_empty": self._next_empty, "next_held": self._next_held,
            "accept": self._accept, "accept_alike": self._accept_alike, "undo": self._undo, "redo": self._redo,
            "direction": self._direction, "marks": self.beside.turn, "reverse": self._reverse,
            "repeat": lambda: doing.repeat(self._on, self.grid.row, self.desk.say),
            "normal_rest": lambda: doing.normal(self._on, range(len(self._on.lines))),
            "line_up": lambda: self._move_line(-1), "line_down": lambda: self._move_line(1),
            "drop_line": lambda: doing.drop_line(self._on, self.grid.row), "reading": self._to_reading,
        }  # fmt: skip

    @property
    def _on(self) -> Sheet:
        assert self.sheet is not None
        return self.sheet

    def _toggle(self) -> None:
        self.mode = LINE if self.mode == CELLS else CELLS
        self._back_to_hive()
        self.come()

    def _fill(self) -> None:
        rows = self.grid.stretch()
        down = len(rows) == 1
        if down:
            rows = range(rows.start, min(rows.start + 2, len(self._on.lines)))
        column = self.grid.column
        columns = [column] if self.mode == CELLS and column is not None else list(self._on.columns)
        doing.fill_down(self._on, rows, columns)
        if down:
            self.grid.go(rows.stop - 1)

    def _normal(self) -> None:
        rows = self.grid.stretch()
        doing.normal(self._on, rows)
        if len(rows) == 1:
            self.grid.go(rows.start + 1)

    def _next_empty(self) -> None:
        row = doing.next_empty(self._on, self.grid.row)
        if row is None:
            self.desk.say("Every line is filled")
        else:
            self.grid.go(row)

    def _next_held(self) -> None:
        rows = doing.held_rows(self._on) or doing.odd_rows(self._on)
        if not rows:
            self.desk.say("Nothing holds the posting, nothing is odd")
            return
        row = next((one for one in rows if one > self.grid.row), rows[0])
        view = self._on.views[row]
        first = [*view.open, *view.odd][0]
        self.grid.go_to_field(row, first.where.field)
        self.come()

    def _accept(self) -> None:
        row = self.grid.row
        self._ask_reason(doing.accept(self._on, row), range(row, row + 1))

    def _accept_alike(self) -> None:
        row = self.grid.row
        doing.accept_alike(self._on, row)
        self._ask_reason(list(self._on.views[row].open), range(len(self._on.lines)))

    def _ask_reason(self, findings: list[Finding], rows: range) -> None:
        """Ask for the reason that only a person can give; it goes to each of the lines that want it."""
        codes = {one.code for one in findings if needs_reason(one)}
        if not codes:
            return
        self._reason_for = [row for row in rows if codes & {one.code for one in self._on.views[row].open}]
        line = self._on.lines[self.grid.row]
        last = next((other.reason for other in self._on.lines if other.reason), "")
        many = len(self._reason_for)
        where = "Enter keeps it" if many == 1 else f"Enter keeps it for {many}"
        self._ask(
            Asking.REASON, f"Reason, {line.mark}" if many == 1 else "Reason", where, line.reason or last
        )

    def _undo(self) -> None:
        self._travelled(self._on.undo(), "No typing to take back; Ctrl Shift Z takes back the last act")

    def _redo(self) -> None:
        self._travelled(self._on.redo(), "No typing to bring again")

    def _travelled(self, row: int | None, nothing: str) -> None:
        if row is None:
            self.desk.say(nothing)
            return
        self.grid.go(row)
        self._back_to_hive()

    def _direction(self) -> None:
        self.grid.enter_goes = "right" if self.grid.enter_goes == "down" else "down"
        self.desk.change_settings(enter_goes=self.grid.enter_goes)
        self.desk.say(f"Enter goes {self.grid.enter_goes}")

    def _to_reading(self) -> None:
        if not self.beside.come():
            self.desk.say("No workbook was read into this round")

    def _go_to_hive(self, mark: str) -> None:
        row = doing.row_of(self._on, mark)
        if row is not None:
            self.grid.go(row)
        self.come()

    def _reverse(self) -> None:
        doing.reverse(self._on)
        self.grid.go(0)

    def _move_line(self, step: int) -> None:
        self.grid.go(doing.move_line(self._on, self.grid.row, step))

    # -- the line put to other uses

    def _ask_site(self) -> None:
        self._ask(Asking.SITE, "Whole site", "Enter fills, Esc leaves", self._on.head.each_text)

    def _ask_find(self) -> None:
        self._ask(Asking.FIND, "Go to hive", "Enter goes, Esc leaves")

    def _ask(self, asking: Asking, name: str, where: str, text: str = "") -> None:
        self.strip.ask(asking, name, where, text)
        self._tell_asking(text)
        self.strip.line.setFocus(Qt.FocusReason.OtherFocusReason)
        self.strip.line.selectAll()

    def _tell_asking(self, text: str) -> None:
        if self.strip.asking is Asking.FIND:
            self.strip.tell_find(self._on, text)
        elif self.strip.asking is Asking.SITE:
            self.strip.tell_site(self._on, text)
        else:
            self.strip.tell_reason(list(self._on.views[self.grid.row].open))

    def _back_to_hive(self) -> None:
        if self.sheet is not None and self.sheet.lines and self.grid.row >= 0:
            self.strip.show_hive(self.sheet, self.grid.row)
            self._came_to_empty = self.sheet.lines[self.grid.row].empty
            self.sheet.place.update(row=self.grid.row, mode=self.mode)

    def _typed(self, text: str) -> None:
        if self.sheet is None or self.grid.row < 0:
            return
        if self.strip.asking is not Asking.HIVE:
            self._tell_asking(text)
            return
        doing.set_text(self.sheet, self.grid.row, text)
        if text.endswith(" "):
            self.sheet.pause()

    def _entered(self, back: bool) -> None:  # noqa: FBT001  # a signal hands it over by place
        if self.sheet is None or self.posting:
            return
        {
            Asking.HIVE: lambda: self._take_line(back=back),
            Asking.FIND: self._go_find,
            Asking.SITE: self._take_site,
            Asking.REASON: self._take_reason,
        }[self.strip.asking]()

    def _take_line(self, *, back: bool) -> None:
        sheet, row = self._on, self.grid.row
        sheet.pause()
        mark = self.strip.goes_to(sheet, row)
        if mark is not None:
            sheet.undo()
            self.grid.go(doing.row_of(sheet, mark) or 0)
            self._back_to_hive()
            return
        to = row - 1 if back else row + 1
        ahead = doing.next_empty(sheet, row)
        if not back and ahead is not None and (self._came_to_empty or to >= len(sheet.lines)):
            to = ahead  # hives that were found and typed before their turn are passed over
        self.grid.go(to)

    def _go_find(self) -> None:
        sheet, mark = self._on, self.strip.line.text().strip()
        row = doing.row_of(sheet, mark) if mark else None
        if row is None:
            here = self.grid.row
            # A line that was not typed yet comes after the hive that was found before it.
            row = doing.add_line(sheet, here - 1 if sheet.lines[here].empty else here, mark)
            self.lines_added.emit()
        self.strip.asking = Asking.HIVE
        self.grid.go(row)
        self._back_to_hive()
        self.come()

    def _take_site(self) -> None:
        text = self.strip.line.text()
        said = read_site_line(text, self._on.habits, self._on.head.on)
        if said.problem or said.unread:
            return
        doing.set_head(self._on, with_site_line(self._on.head, text, self._on.habits))
        self._back_to_hive()
        self.come()

    def _take_reason(self) -> None:
        doing.give_reason(self._on, self._reason_for, self.strip.line.text())
        self._back_to_hive()
        self.come()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves what the line was put to."""
        if event.key() == Qt.Key.Key_Escape and self.strip.asking is not Asking.HIVE:
            self._back_to_hive()
            self.come()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The list of marks folds by itself where the grid would not fit beside it."""
        super().resizeEvent(event)
        self.beside.fit(self.width() - self.grid.wanted_width())

    def _heard(self, rows: frozenset[int]) -> None:
        row = self.grid.row
        if self.strip.asking is Asking.HIVE and 0 <= row < len(self._on.lines):
            if self.strip.line.hasFocus() and self.strip.line.text() == self._on.text(row):
                self.strip.tell_hive(self._on, row)
            elif row in rows or rows == EVERY_ROW:
                self.strip.show_hive(self._on, row)
        if rows == EVERY_ROW:
            self.beside.show_sheet(self._on)
        self._tell_all()

    def _tell_all(self) -> None:
        if self.sheet is not None:
            self.foot.show_sums(self.sheet)
            self._tell_bar()
            self.progressed.emit()

    def _tell_bar(self) -> None:
        if self.sheet is not None:
            self.bar.show_state(self.sheet, posting=self.posting)

    def _row_changed(self, _row: int) -> None:
        if self.sheet is not None and self.strip.asking is Asking.HIVE:
            self._back_to_hive()

    def _problem(self, words: str) -> None:
        if (
            self.sheet is None
            or self.strip.asking is not Asking.HIVE
            or not 0 <= self.grid.row < len(self.sheet.lines)
        ):
            return
        if words:
            self.strip.read_back.say([], words, "Esc takes it back; F1 lists the marks", Mark.CANNOT)
        else:
            self.strip.tell_hive(self.sheet, self.grid.row)

    def _asked(self, row: int, words: str) -> None:
        doing.ask_crew(self._on, row, words)

    def _connect(self) -> None:
        line = self.strip.line
        line.typed.connect(self._typed)
        line.entered.connect(self._entered)
        line.walked.connect(lambda step: self.grid.go(self.grid.row + step))
        line.stretched.connect(self.grid.extend)
        line.commanded.connect(self.command)
        self.grid.commanded.connect(self.command)
        self.grid.row_changed.connect(self._row_changed)
        self.grid.said.connect(self._problem)
        self.grid.question_asked.connect(self._asked)
        self.grid.took_focus.connect(self._grid_focused)
        line.took_focus.connect(self._line_focused)
        self.beside.reading.went.connect(self._go_to_hive)
        self.beside.reading.left.connect(self.come)

    def _grid_focused(self) -> None:
        self._set_mode(CELLS)

    def _line_focused(self) -> None:
        if self.strip.asking is Asking.HIVE:
            self._set_mode(LINE)

    def _set_mode(self, mode: str) -> None:
        self.mode = mode
        if self.sheet is not None:
            self.sheet.place["mode"] = mode

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setContentsMargins(0, 0, 0, 0)
        left.setSpacing(0)
        left.addWidget(self.grid, 1)
        left.addWidget(self.foot)
        left.addWidget(self.strip)
        middle = QHBoxLayout()
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addLayout(left, 1)
        middle.addWidget(self.beside)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(middle, 1)
        column.addWidget(self.bar)
