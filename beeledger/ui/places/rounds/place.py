"""Rounds: the evening's typing, one grid for each site of the day, by cells or by one quick line a hive.

Reads: queries.round_start.round_start, queries.due.due_by_site, queries.round_start.desk_sheet, queries.rounds.lines_of, queries.rounds.recent_rounds, queries.round_again.round_again, queries.round_again.sheet_again, queries.round_paper.printed_sheet
Acts: operations.rounds.post_round, operations.rounds.correct_round
Prints: documents.round_sheet
Computes: rules.rounds.reading.parse, rules.rounds.checks.check_entry, rules.rounds.sums.foot
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QStackedWidget, QVBoxLayout, QWidget

from beeledger.base.dates import long, short
from beeledger.operations.act import Done
from beeledger.queries.due import due_by_site
from beeledger.queries.records.round_desk import HiveLine, RoundKey
from beeledger.queries.round_again import sheet_again
from beeledger.queries.round_start import DeskSheet, RoundStart, desk_sheet, round_start
from beeledger.queries.rounds import lines_of
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.place import Place
from beeledger.ui.parts.paper import PaperPane
from beeledger.ui.places.rounds import doing
from beeledger.ui.places.rounds.again import Corrections
from beeledger.ui.places.rounds.drafts import KIND, OpenRound, keep, kept_rounds, opened
from beeledger.ui.places.rounds.head_words import HELP, head_words
from beeledger.ui.places.rounds.keys import CHORDS, command_of
from beeledger.ui.places.rounds.new_round import RoundForm
from beeledger.ui.places.rounds.pane import RoundPane
from beeledger.ui.places.rounds.posted_list import PostedRounds
from beeledger.ui.places.rounds.poster import Poster
from beeledger.ui.places.rounds.printing import show_round_sheet
from beeledger.ui.places.rounds.scan_in import kept_pictures, read_sheets
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.places.rounds.start import StartPane
from beeledger.ui.places.rounds.state import Head
from beeledger.ui.places.rounds.workbook import read_workbook, write_workbook
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.panes import Band
from beeledger.ui.widgets.tabs import Tabs
from beeledger.ui.widgets.words import Words


class Here(Place):
    """The rounds that are being typed on this desk."""

    key: ClassVar[str] = "rounds"
    title: ClassVar[str] = "Rounds"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.rounds: dict[str, OpenRound] = {one.head.uid: one for one in kept_rounds(desk)}
        self.tabs = Tabs()
        self.tabs.setObjectName("rounds.tabs")
        self.new = Button("New round", lambda: self._command("new"), kind="quiet", icon="plus")
        self.new.setObjectName("rounds.new")
        self.visit = Words("", ink="ink2")
        self.print = Button("Print", lambda: self._command("print"), kind="quiet", icon="print")
        self.again = Button("Posted rounds", lambda: self._command("posted"), kind="quiet")
        self.again.setObjectName("rounds.posted")
        self.book_in = Button("Read workbook", lambda: self._command("workbook_in"), kind="quiet")
        self.book_in.setObjectName("rounds.workbook_in")
        self.book_out = Button("Workbook", lambda: self._command("workbook_out"), kind="quiet")
        self.book_out.setObjectName("rounds.workbook_out")
        self.form = RoundForm(desk.clock.today())
        self.pane = RoundPane(desk)
        self.poster = Poster(desk, self.pane)
        self.posted = PostedRounds()
        self.corrections = Corrections(desk, self.posted)
        self.paper = PaperPane(desk)
        self.empty = StartPane(lambda: self._command("new"))
        self.stack = QStackedWidget()
        self._commands = self._known_commands()
        self._lay_out()
        self._connect()

    @property
    def front(self) -> OpenRound | None:
        """The round whose tab is in front."""
        return self.rounds.get(str(self.tabs.current()))

    def refresh(self) -> None:
        """Read the sites and the round in front anew."""
        self.desk.read(round_start, owner=self, then=self._offer, key="start")
        self._show_tabs()
        self._show_front()
        if self.front is not None and self.front.sheet is not None:
            self._read_sheet(self.front)

    def show_what(self, what: object) -> None:
        """The round at a site, by the site's id or its name: the draft that is open, or a new one.

        A ``RoundKey`` opens that posted round to be corrected.
        """
        if isinstance(what, RoundKey):
            self._correct(what.round_id)
            return
        found = [one for one in self.rounds.values() if what in (one.head.site_id, one.head.site)]
        if found:
            self.tabs.choose(found[-1].head.uid)
            self._show_front()
            return
        self.desk.read(round_start, owner=self, then=lambda start: self._begin_at(start, what), key="start")

    def commands(self) -> list[QAction]:
        """The chords of the place."""
        actions = []
        for chord in CHORDS:
            action = QAction(chord.words, self)
            action.setShortcut(QKeySequence(chord.keys))
            actions.append(action)
        return actions

    def help_text(self) -> str:
        """How a round is typed."""
        return HELP

    def heard(self, done: Done) -> None:
        super().heard(done)
        before = list(self.rounds)
        body = self.poster.taken_back(done, self.rounds)
        if body is not None or list(self.rounds) != before:
            self._was_posted("", body)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        name = command_of(event)
        if name:
            self._command(name)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._come()

    # -- commands

    def _known_commands(self) -> dict[str, Callable[[], None]]:
        return {
            "new": self._begin, "head": self._edit_head, "print": self._print, "posted": self._list_posted,
            "post": lambda: self._post(self.poster.post), "post_rest": lambda: self._post(self.poster.post_rest),
            "next_tab": self._next_tab, "set_aside": self._set_aside, "workbook_out": self._workbook_out,
            "scan_in": lambda: read_sheets(self.desk, self, self.rounds, self._take_in),
            "workbook_in": lambda: read_workbook(self.desk, self, self._workbook_read),
        }  # fmt: skip

    def _command(self, name: str) -> None:
        known = self._commands.get(name)
        if known is not None:
            known()
        elif self.stack.currentWidget() is self.pane:
            self.pane.command(name)

    def _begin(self, site: str = "") -> None:
        self.form.begin(self.desk.clock.today(), site)
        self._in_front(self.form)
        self.form.come()

    def _begin_at(self, start: RoundStart, what: object) -> None:
        self._offer(start)
        self._begin(next((site.name for site in start.sites if what in (site.id, site.name)), ""))

    def _edit_head(self) -> None:
        if self.front is not None and self.front.sheet is not None:
            self.form.edit(self.front.sheet.head, self.desk.clock.today())
            self._in_front(self.form)
            self.form.come()

    def _next_tab(self) -> None:
        uids = list(self.rounds)
        if uids:
            at = uids.index(str(self.tabs.current())) if self.tabs.current() in uids else -1
            self.tabs.choose(uids[(at + 1) % len(uids)])

    def _set_aside(self) -> None:
        front = self.front
        if front is None:
            return
        self.desk.drafts.set_aside(front.head.uid)
        del self.rounds[front.head.uid]
        self.desk.say(f"The draft {front.head.site}, {short(front.head.on)} was put away", "note")
        self._show_tabs()
        self._show_front()

    def _post(self, how: Callable[[], None]) -> None:
        if self.stack.currentWidget() is self.pane:
            how()

    def _print(self) -> None:
        if self.front is None:
            self.desk.say("Open a round first: its sheet is what is printed")
            return
        show_round_sheet(self.paper, self.front.head)
        self._in_front(self.paper)

    def _workbook_out(self) -> None:
        if self.front is not None and self.front.sheet is not None:
            write_workbook(self.desk, self.front.sheet, self)

    def _workbook_read(self, body: dict[str, Any]) -> None:
        uid = str(body["head"]["uid"])
        known = self.rounds.get(uid)
        if known is None or known.sheet is None:
            self._take_in(body)
            return
        doing.take_over_body(known.sheet, body)
        self._show_tabs(uid)
        self._show_front()
        self._lines_added()

    def _list_posted(self) -> None:
        self.corrections.list_posted(self.front.head.site if self.front else "")

    def _show_posted(self) -> None:
        self._in_front(self.posted)
        self.posted.come()

    def _correct(self, round_id: int) -> None:
        """The posted round in the grid: its correction if one was begun, else what was posted."""
        begun = next((one for one in self.rounds.values() if one.head.corrects == round_id), None)
        if begun is None:
            self.corrections.open(round_id)
            return
        self.tabs.choose(begun.head.uid)
        self._left()

    def _take_in(self, body: dict[str, Any]) -> None:
        """A draft that came from somewhere else than the form: in front, as it was."""
        one = opened(body)
        self.rounds[one.head.uid] = one
        self.desk.drafts.save(one.head.uid, KIND, one.head.site, body)
        self._show_tabs(one.head.uid)
        self._show_front()

    def _was_posted(self, uid: str, rest: object) -> None:
        self.rounds.pop(uid, None)
        if isinstance(rest, dict):
            self._take_in(rest)
        self._show_tabs()
        self._show_front()

    # -- tabs and sheets

    def _offer(self, start: RoundStart) -> None:
        self.form.offer(start)
        today, count = self.desk.clock.today(), len(start.sites)
        query = partial(due_by_site, today=today, horizon=0)
        self.desk.read(query, owner=self, then=lambda due: self.empty.offer(due, sites=count), key="due")

    def _show_tabs(self, current: str = "") -> None:
        self.tabs.set_tabs([one.tab() for one in self.rounds.values()])
        for piece in (self.tabs, self.print, self.book_out):
            piece.setVisible(bool(self.rounds))
        if current:
            self.tabs.choose(current)

    def _progressed(self) -> None:
        self.tabs.set_tabs([one.tab() for one in self.rounds.values()])

    def _show_front(self) -> None:
        front = self.front
        if front is None:
            self.visit.setText("")
            self.set_subtitle("")
            if self.stack.currentWidget() is not self.form:
                self._in_front(self.empty)
            return
        self._tell_head(front.head)
        if front.sheet is None:
            self._read_sheet(front)
        else:
            self._show_sheet(front.sheet)

    def _read_sheet(self, one: OpenRound) -> None:
        head = one.head
        query = partial(desk_sheet, site_id=head.site_id)
        if head.corrects is not None:
            query = partial(sheet_again, round_id=head.corrects)
        self.desk.read(
            query, on=head.on, colony_ids=one.colonies(),
            owner=self, then=lambda read: self._sheet_read(one, read), key=head.uid,
        )  # fmt: skip

    def _sheet_read(self, one: OpenRound, read: DeskSheet) -> None:
        fresh = one.sheet is None
        sheet = one.sheet or one.take_sheet(read)
        if fresh:
            sheet.save = partial(self._keep, sheet)
            if one.body is None:
                sheet.keep()
        else:
            sheet.rejoin(read)
        if self.front is one:
            self._show_sheet(sheet)

    def _show_sheet(self, sheet: Sheet) -> None:
        self._tell_head(sheet.head)
        self._in_front(self.pane)
        if self.pane.sheet is not sheet:
            self.pane.show_sheet(sheet)
        self._progressed()
        if self._has_the_keys():
            self.pane.come()

    def _has_the_keys(self) -> bool:
        """Whether typing goes on here, and not in the search or another window."""
        focus = QApplication.focusWidget()
        return focus is None or focus is self or self.isAncestorOf(focus)

    def _keep(self, sheet: Sheet, body: dict[str, Any]) -> None:
        if sheet.head.uid not in self.rounds:
            return  # it was posted or put away: nothing brings it back by itself
        if self.rounds[sheet.head.uid].head is not sheet.head:
            self.rounds[sheet.head.uid].head = sheet.head
            self._tell_head(sheet.head)
        keep(self.desk, sheet, body)
        self.pane.show_draft_time()

    def _lines_added(self) -> None:
        sheet = self.pane.sheet
        if sheet is not None and (unknown := doing.unknown_hives(sheet)):

            def known(hives: list[HiveLine]) -> None:
                sheet.know(hives)

            self.desk.read(lines_of, unknown, sheet.head.on, owner=self, then=known, key="added")

    def _form_filled(self, head: object) -> None:
        assert isinstance(head, Head)
        known = self.rounds.get(head.uid)
        if known is not None and known.sheet is not None:
            doing.set_head(known.sheet, head)
            self._show_front()
            return
        self.rounds[head.uid] = OpenRound(head)
        self._show_tabs(head.uid)
        self._show_front()

    def _tab_chosen(self, _key: object) -> None:
        self._show_front()

    def _tell_head(self, head: Head) -> None:
        self.visit.setText(head_words(head))
        correcting = ", correcting what was posted" if head.corrects is not None else ""
        self.set_subtitle(f"{head.site}, {long(head.on)}{correcting}")

    def _in_front(self, piece: QWidget) -> None:
        self.stack.setCurrentWidget(piece)

    def _come(self) -> None:
        piece = self.stack.currentWidget()
        if piece is self.pane:
            self.pane.come()
        elif piece in (self.form, self.posted, self.empty):
            piece.come()

    def _connect(self) -> None:
        self.tabs.chosen.connect(self._tab_chosen)
        self.empty.opened.connect(self.show_what)
        self.form.opened.connect(self._form_filled)
        self.form.cancelled.connect(self._left)
        self.paper.closed.connect(self._left)
        self.posted.cancelled.connect(self._left)
        self.posted.opened.connect(self._correct)
        self.corrections.ready.connect(self._take_in)
        self.corrections.listed.connect(self._show_posted)
        self.pane.commanded.connect(self._command)
        self.pane.beside.scan.pictures = partial(kept_pictures, self.desk)
        self.pane.grid.row_changed.connect(self.pane.beside.scan.show_row)
        self.pane.lines_added.connect(self._lines_added)
        self.pane.progressed.connect(self._progressed)
        self.poster.posted.connect(self._was_posted)

    def _left(self) -> None:
        self._in_front(self.empty)
        self._show_front()
        self._come()

    def _lay_out(self) -> None:
        band = Band(self.tabs, self.new, self.again, self.book_in, inset=0)
        band.air()
        for piece in (self.visit, self.book_out, self.print):
            band.add(piece)
        band.row.addSpacing(12)
        for page in (self.empty, self.form, self.pane, self.paper, self.posted):
            self.stack.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(band)
        column.addWidget(self.stack, 1)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
