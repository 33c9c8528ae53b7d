"""The window: the list of places, the top line, the place in front, the status line, and the chords."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QGuiApplication, QKeyEvent, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QApplication, QHBoxLayout, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from beeledger.base.settings import DeskSettings
from beeledger.base.text import counted
from beeledger.operations.act import Done
from beeledger.queries.acts import ActLine, last_act_of
from beeledger.queries.counts import FarmSize, Waiting, farm_size, waiting
from beeledger.ui.desk.desk import Desk, FileQuestion, Question, Saying
from beeledger.ui.desk.jobs import Job
from beeledger.ui.desk.place import Place
from beeledger.ui.frame import memory, pointer
from beeledger.ui.frame.ask import ask, ask_file
from beeledger.ui.frame.backup_keeper import BackupKeeper
from beeledger.ui.frame.closing import Closing
from beeledger.ui.frame.help_panel import HelpPanel
from beeledger.ui.frame.last_act import LastAct
from beeledger.ui.frame.place_frame import PlaceFrame
from beeledger.ui.frame.place_list import PlaceList
from beeledger.ui.frame.registry import PLACES, entry_of
from beeledger.ui.frame.scaling import rescale
from beeledger.ui.frame.search import SearchList
from beeledger.ui.frame.status_line import BackupState, StatusLine, backup_run
from beeledger.ui.frame.top_line import TopLine
from beeledger.ui.frame.trail import Trail
from beeledger.ui.frame.waiting import waiting_words
from beeledger.ui.widgets import look

FOLD_BELOW = 1400
LEAST_PT, MOST_PT = 9.0, 16.0


class Window(QMainWindow):
    """BeeLedger's one window."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.setObjectName("window")
        self.desk = desk
        self.places: dict[str, Place] = {}
        self._frames: dict[str, PlaceFrame] = {}
        self.restore_from: Path | None = None
        """The backup that the person wants in the place of this ledger, once the window is closed."""
        self._trail = Trail()
        self._dressed = (desk.settings.look, desk.settings.base_pt)
        self.list = PlaceList()
        self.top = TopLine()
        self.stack = QStackedWidget()
        self.status = StatusLine()
        self.backups = BackupKeeper(desk, self)
        self.closing = Closing(desk, self.backups, self.places.values, self.close)
        self.last = LastAct(desk, self.top)
        self._lay_out()
        self.search = SearchList(desk, self.top.search, self._whole)
        self.help = HelpPanel(self._whole)
        self._connect()
        self._set_chords()
        self._name_ledger()
        self.backups.look()
        self.setWindowTitle("BeeLedger")
        self.resize(1440, 900)

    @property
    def place(self) -> Place:
        """The place in front."""
        front = self.stack.currentWidget()
        assert isinstance(front, PlaceFrame)
        return front.place

    def start(self) -> None:
        """Begin the daily work: watch other desks, keep backups, say what this desk did last."""
        self.desk.start()
        self.backups.keep()
        self.desk.read(last_act_of, self.desk.settings.desk, owner=self, then=self._remember, key="last")

    def open_place(self, key: str, what: object = None) -> None:
        """Bring a place to the front, at something in it, and remember the way."""
        if self._may_leave():
            self._trail.went(key, what)
            self._show(key, what)
            self.top.let_go()

    def go(self, step: int) -> None:
        """Back (-1) or forward (1) along the way taken."""
        if self._trail.can(step) and self._may_leave():
            self._show(*self._trail.go(step))

    def walk(self, step: int) -> None:
        """To the next or previous place of the list."""
        keys = [entry.key for entry in PLACES]
        self.open_place(keys[(keys.index(self.place.key) + step) % len(keys)])

    def undo_last(self) -> None:
        """Take back the last act of this desk, or bring again what was just taken back."""
        self.last.take_back()

    def redress(self) -> None:
        """Put the look and the text size of the settings on everything."""
        before = look.base_pt()
        dress(self.desk)
        if look.base_pt() != before:
            rescale(self, before, look.base_pt())
        self._fold()
        self.help.fit()

    def _may_leave(self) -> bool:
        return self.stack.currentWidget() is None or self.place.leave()

    def _show(self, key: str, what: object) -> None:
        new = key not in self.places
        place = self._built(key)
        self.stack.setCurrentWidget(self._frames[key])
        self.list.set_current(key)
        self.setWindowTitle(f"{place.title} – BeeLedger")
        self.top.set_place(place.title, place.subtitle)
        self.top.set_ways(back=self._trail.can(-1), forward=self._trail.can(1))
        self.help.hide()
        place.come_to_front()
        if what is not None:
            place.show_what(what)
        if new or not place.isAncestorOf(QApplication.focusWidget() or self):
            place.setFocus(Qt.FocusReason.OtherFocusReason)
        self._count()

    def _built(self, key: str) -> Place:
        if key not in self.places:
            place = entry_of(key).build(self.desk)
            self.places[key] = place
            self._frames[key] = PlaceFrame(place)
            self.stack.addWidget(self._frames[key])
            memory.keep()
            place.subtitle_changed.connect(self._retitle)
        return self.places[key]

    def _retitle(self, _text: str) -> None:
        self.top.set_place(self.place.title, self.place.subtitle)

    def _lay_out(self) -> None:
        middle = QVBoxLayout()
        middle.addWidget(self.top)
        middle.addWidget(self.stack, 1)
        across = QHBoxLayout()
        across.addWidget(self.list)
        across.addLayout(middle, 1)
        self._whole = QWidget()
        column = QVBoxLayout(self._whole)
        column.addLayout(across, 1)
        column.addWidget(self.status)
        for layout in (middle, across, column):
            layout.setSpacing(0)
            layout.setContentsMargins(0, 0, 0, 0)
        self.setCentralWidget(self._whole)

    def _connect(self) -> None:
        desk = self.desk
        self.list.chosen.connect(self.open_place)
        self.top.back.clicked.connect(lambda _checked=False: self.go(-1))
        self.top.forward.clicked.connect(lambda _checked=False: self.go(1))
        self.top.undo_wanted.connect(self.undo_last)
        self.status.stop_wanted.connect(self._stop_job)
        self.backups.told.connect(self._show_backup)
        self.search.word_wanted.connect(lambda word: self.help.show_words(self.place, word))
        desk.changed.connect(self._heard)
        desk.said.connect(self._said)
        desk.asked.connect(self._asked)
        desk.opened.connect(self.open_place)
        desk.settings_changed.connect(self._settled)
        desk.restore_wanted.connect(self._restore)
        self.closing.stayed.connect(self._stay)
        desk.workers.job_moved.connect(self._show_jobs)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._scheme_changed)

    def _set_chords(self) -> None:
        chords: list[tuple[str, Callable[[], object]]] = [
            ("Ctrl+K", self._find), ("Alt+Left", lambda: self.go(-1)), ("Alt+Right", lambda: self.go(1)),
            ("Ctrl+PgDown", lambda: self.walk(1)), ("Ctrl+PgUp", lambda: self.walk(-1)),
            ("F1", self._help), ("Shift+F1", lambda: self.help.show_words(self.place)), ("Ctrl+Shift+Z", self.undo_last), ("Ctrl+Q", self.close),
        ]  # fmt: skip
        if pointer.wanted():
            chords.append((pointer.CHORD, lambda: self.desk.say(pointer.under())))
        for keys, act in chords:
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.activated.connect(act)

    def _remember(self, line: ActLine | None) -> None:
        if line is not None:
            self.last.remember(line)

    def _heard(self, done: Done) -> None:
        self.last.heard(done)
        self.top.let_go()
        for place in list(self.places.values()):
            place.heard(done)
        self._count()

    def _count(self) -> None:
        desk = self.desk
        desk.read(farm_size, owner=self, then=self._sized, key="size")
        drafts = desk.drafts
        desk.read(
            lambda session: (waiting(session, desk.clock.today()), len(drafts.drafts())),
            owner=self, then=self._counted, key="waiting",
        )  # fmt: skip

    def _sized(self, size: FarmSize) -> None:
        self.desk.clock.zone = size.zone or self.desk.clock.zone
        self.list.set_farm(
            size.name, f"{counted(size.colonies, 'colony', 'colonies')} · {counted(size.sites, 'site')}"
        )

    def _counted(self, found: tuple[Waiting, int]) -> None:
        self.list.set_waiting(waiting_words(*found))

    def _said(self, saying: Saying) -> None:
        self.top.show_saying(saying)

    def _asked(self, question: object) -> None:
        if isinstance(question, Question):
            ask(question, self)
        elif isinstance(question, FileQuestion):
            ask_file(question, self)

    def _settled(self, settings: DeskSettings) -> None:
        wanted = (settings.look, settings.base_pt)
        if wanted != self._dressed:
            self._dressed = wanted
            self.redress()
        self._fold()
        self._name_ledger()

    def _scheme_changed(self, _scheme: object) -> None:
        if self.desk.settings.look == "auto":
            self.redress()

    def _stop_job(self, job: Job) -> None:
        job.stop.set()
        self._show_jobs(job)

    def _show_jobs(self, _job: object) -> None:
        self.status.show_jobs(self.desk.workers.jobs)

    def _name_ledger(self) -> None:
        ledger = self.desk.ledger
        name = ledger.file.name if ledger.file else ledger.engine.url.database or "server"
        self.status.set_ledger(name, self.desk.settings.desk)

    def _show_backup(self, state: BackupState) -> None:
        self.status.set_backup(backup_run(state, self.desk.clock.now(), self.desk.clock.zone))
        memory.tidy()
        self._count()  # each minute: the day may have turned, and drafts come and go without an act

    def _restore(self, backup_file: Path) -> None:
        self.restore_from = backup_file
        self.close()

    def _stay(self) -> None:
        self.restore_from = None  # who keeps the window open does not want its ledger changed later

    def _find(self) -> None:
        self.top.search.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.top.search.selectAll()

    def _help(self) -> None:
        self.help.toggle(self.place)

    def _fold(self) -> None:
        wish = self.desk.settings.places_folded
        narrow = self.width() < max(FOLD_BELOW, look.px(1150))
        self.list.fold(folded=narrow if wish == "auto" else wish == "folded")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the list of places in a narrow window."""
        super().resizeEvent(event)
        self._fold()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Ctrl+Z that nothing inside wanted takes back the last act."""
        if event.matches(QKeySequence.StandardKey.Undo):
            self.undo_last()
        else:
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Places may keep the window open; else everything queued is finished first."""
        if self.closing.may_close():
            self.desk.close()
            event.accept()
        else:
            event.ignore()


def dress(desk: Desk) -> None:
    """Put the look and text size of the desk's settings on the application."""
    wish = desk.settings.look
    chosen = {"light": look.LIGHT, "dark": look.DARK}.get(wish) or look.desktop_look()
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    look.apply(app, chosen, min(MOST_PT, max(LEAST_PT, desk.settings.base_pt)))
