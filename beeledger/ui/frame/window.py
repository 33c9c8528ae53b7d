"""The window: the list of places, the top line, the place in front, the status line, and the chords."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QGuiApplication, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QApplication, QHBoxLayout, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from beeledger.database.backup import last_backup
from beeledger.operations.act import Done
from beeledger.queries.counts import FarmSize, farm_size
from beeledger.ui.desk.desk import Desk, FileQuestion, Question, Saying
from beeledger.ui.desk.place import Place
from beeledger.ui.frame.ask import ask, ask_file
from beeledger.ui.frame.help_panel import HelpPanel
from beeledger.ui.frame.place_list import PlaceList
from beeledger.ui.frame.registry import PLACES, entry_of
from beeledger.ui.frame.search import SearchList
from beeledger.ui.frame.status_line import StatusLine
from beeledger.ui.frame.top_line import TopLine
from beeledger.ui.widgets import look

FOLD_BELOW = 1400
_UNDO_KINDS = frozenset({"news"})


class Window(QMainWindow):
    """BeeLedger's one window."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.setObjectName("window")
        self.desk = desk
        self.places: dict[str, Place] = {}
        self._trail: list[tuple[str, object]] = []
        self._at = -1
        self.list = PlaceList()
        self.top = TopLine()
        self.stack = QStackedWidget()
        self.status = StatusLine()
        self._lay_out()
        self.search = SearchList(desk, self.top.search, self._whole)
        self.help = HelpPanel(self._whole)
        self._connect()
        self._set_chords()
        self._tell_ledger()
        self._backup_timer = QTimer(self)
        self._backup_timer.setInterval(60_000)
        self._backup_timer.timeout.connect(self._tell_ledger)
        self._backup_timer.start()
        self.setWindowTitle("BeeLedger")
        self.resize(1440, 900)

    @property
    def place(self) -> Place:
        """The place in front."""
        front = self.stack.currentWidget()
        assert isinstance(front, Place)
        return front

    def open_place(self, key: str, what: object = None) -> None:
        """Bring a place to the front, at something in it, and remember the way."""
        if self._at >= 0 and not self.place.leave():
            return
        del self._trail[self._at + 1 :]
        if not self._trail or self._trail[-1] != (key, what):
            self._trail.append((key, what))
        self._at = len(self._trail) - 1
        self._show(key, what)

    def go(self, step: int) -> None:
        """Back (-1) or forward (1) along the way taken."""
        if 0 <= self._at + step < len(self._trail):
            self._at += step
            self._show(*self._trail[self._at])

    def walk(self, step: int) -> None:
        """To the next or previous place of the list."""
        keys = [entry.key for entry in PLACES]
        self.open_place(keys[(keys.index(self.place.key) + step) % len(keys)])

    def _show(self, key: str, what: object) -> None:
        place = self._built(key)
        self.stack.setCurrentWidget(place)
        self.list.set_current(key)
        self.top.set_place(place.title, place.subtitle)
        self.top.set_ways(back=self._at > 0, forward=self._at < len(self._trail) - 1)
        self.help.hide()
        place.come_to_front()
        if what is not None:
            place.show_what(what)
        if not place.isAncestorOf(QApplication.focusWidget() or self):
            place.setFocus(Qt.FocusReason.OtherFocusReason)

    def _built(self, key: str) -> Place:
        if key not in self.places:
            place = entry_of(key).build(self.desk)
            self.places[key] = place
            self.stack.addWidget(place)
            place.subtitle_changed.connect(self._retitle)
        return self.places[key]

    def _retitle(self, _text: str) -> None:
        self.top.set_place(self.place.title, self.place.subtitle)

    def _lay_out(self) -> None:
        middle = QVBoxLayout()
        middle.setSpacing(0)
        middle.setContentsMargins(0, 0, 0, 0)
        middle.addWidget(self.top)
        middle.addWidget(self.stack, 1)
        across = QHBoxLayout()
        across.setSpacing(0)
        across.setContentsMargins(0, 0, 0, 0)
        across.addWidget(self.list)
        across.addLayout(middle, 1)
        self._whole = QWidget()
        column = QVBoxLayout(self._whole)
        column.setSpacing(0)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(across, 1)
        column.addWidget(self.status)
        self.setCentralWidget(self._whole)

    def _connect(self) -> None:
        desk = self.desk
        self.list.chosen.connect(self.open_place)
        self.top.went_back.connect(lambda: self.go(-1))
        self.top.went_forward.connect(lambda: self.go(1))
        self.top.undo_wanted.connect(self.undo_last)
        desk.changed.connect(self._heard)
        desk.said.connect(self._said)
        desk.asked.connect(self._asked)
        desk.opened.connect(self.open_place)
        desk.settings_changed.connect(lambda _settings: self.redress())
        desk.workers.job_moved.connect(lambda _job: self._show_jobs())
        QGuiApplication.styleHints().colorSchemeChanged.connect(lambda _scheme: self.redress())

    def _set_chords(self) -> None:
        chords: tuple[tuple[str, Callable[[], object]], ...] = (
            ("Ctrl+K", self._find), ("Alt+Left", lambda: self.go(-1)), ("Alt+Right", lambda: self.go(1)),
            ("Ctrl+PgDown", lambda: self.walk(1)), ("Ctrl+PgUp", lambda: self.walk(-1)),
            ("F1", self._help), ("Ctrl+Shift+Z", self.undo_last), ("Ctrl+Q", self.close),
        )  # fmt: skip
        for keys, act in chords:
            shortcut = QShortcut(QKeySequence(keys), self)
            shortcut.activated.connect(act)

    def undo_last(self) -> None:
        """Take back the last act of this desk."""
        done = self.desk.last_done
        if done is not None and done.kind not in _UNDO_KINDS:
            self.desk.undo(done.act)

    def redress(self) -> None:
        """Put the look and the text size of the settings on everything."""
        dress(self.desk)
        self.top.redress()
        self.status.setFixedHeight(look.px(24))
        self._fold()
        self.update()

    def _heard(self, done: Done) -> None:
        if done.kind != "news":
            self.top.show_done(done.sentence, can_undo=True)
        for place in self.places.values():
            place.heard(done)
        self._count()

    def _count(self) -> None:
        self.desk.read(farm_size, owner=self, then=self._sized, key="size")
        drafts = len(self.desk.drafts.drafts())
        words = f"{drafts} draft{'s' if drafts != 1 else ''}" if drafts else ""
        self.list.set_waiting({"rounds": (words, False)} if words else {})

    def _sized(self, size: FarmSize) -> None:
        self.list.set_farm(size.name, f"{size.colonies:,} colonies · {size.sites} sites")

    def _said(self, saying: Saying) -> None:
        self.top.show_saying(saying)

    def _asked(self, question: object) -> None:
        if isinstance(question, Question):
            ask(question, self)
        elif isinstance(question, FileQuestion):
            ask_file(question, self)

    def _show_jobs(self) -> None:
        jobs = self.desk.workers.jobs
        self.status.show_job(jobs[-1] if jobs else None)

    def _tell_ledger(self) -> None:
        ledger = self.desk.ledger
        name = ledger.file.name if ledger.file else ledger.engine.url.database or "server"
        self.status.set_ledger(name, self.desk.settings.desk)
        last = last_backup(ledger.file) if ledger.file else None
        self.status.set_backup(
            last, self.desk.clock.now(), self.desk.clock.zone, by_server=ledger.file is None
        )
        self._count()

    def _find(self) -> None:
        self.top.search.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.top.search.selectAll()

    def _help(self) -> None:
        self.help.toggle(self.place)

    def _fold(self) -> None:
        wish = self.desk.settings.places_folded
        self.list.fold(folded=self.width() < FOLD_BELOW if wish == "auto" else wish == "folded")

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold the list of places in a narrow window."""
        super().resizeEvent(event)
        self._fold()
        self.help.fit()

    def changeEvent(self, event: QEvent) -> None:
        """Follow a change of the look."""
        super().changeEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Places may keep the window open; else everything queued is finished first."""
        if all(place.leave() for place in self.places.values()):
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
    look.apply(app, chosen, desk.settings.base_pt)
