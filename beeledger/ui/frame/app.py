"""Starting the window on a ledger."""

from __future__ import annotations

import sys
from pathlib import Path
from types import TracebackType

from PySide6.QtWidgets import QApplication

from beeledger.base.clock import Clock
from beeledger.base.errors import CannotNow
from beeledger.base.paths import desk_folder, settings_file
from beeledger.base.settings import load_settings
from beeledger.database.backup import restore
from beeledger.database.opening import open_ledger
from beeledger.operations.drafts import DraftStore
from beeledger.operations.due_rule import keep_due
from beeledger.queries.farm import farm_settings
from beeledger.ui.desk.desk import Desk, Saying
from beeledger.ui.frame import memory
from beeledger.ui.frame.window import Window, dress
from beeledger.ui.widgets import look

FIRST = "today"
"""The place at which the window opens."""
TITLE_BAR = 32
"""Pixels that a desktop adds above a window, about; only whether the window still fits hangs on it."""


def make_desk(target: str | Path, clock: Clock) -> Desk:
    """Open a ledger and set up this desk before it; CannotNow says why it cannot be.

    The clock is set to the farm's own time zone.
    """
    settings = load_settings(settings_file())
    ledger = open_ledger(target, clock, who=settings.who, desk=settings.desk)
    keep_due(ledger)
    with ledger.read() as session:
        clock.zone = farm_settings(session).zone
    drafts = DraftStore(desk_folder(), str(target), clock)
    drafts.drop_posted(ledger)
    return Desk(ledger, drafts, settings, settings_file())


def make_app() -> QApplication:
    """The application with the bundled fonts loaded."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
        app.setApplicationName("BeeLedger")
        app.setDesktopFileName("beeledger")
    look.load_fonts()
    return app


def run_window(target: str | Path, clock: Clock) -> int:
    """Show the window on a ledger until it is closed; returns the exit code.

    A backup chosen in the window is put in the ledger's place while nothing has it open, and the window
    comes back on it.
    """
    app = make_app()
    saying: Saying | None = None
    while True:
        window = open_window(make_desk(target, clock), saying)
        fill_small_screen(window)
        memory.settle_in()
        code = app.exec()
        memory.move_out()
        chosen = window.restore_from
        window.deleteLater()
        if chosen is None:
            return code
        saying = restored(chosen, Path(target), clock)


def open_window(desk: Desk, saying: Saying | None = None) -> Window:
    """The window on its desk, begun, with something to say if there is."""
    catch_faults(desk)
    dress(desk)
    window = Window(desk)
    window.open_place(FIRST)
    window.show()
    window.start()
    if desk.drafts.moved_aside is not None:
        desk.say(
            "The drafts of this desk could not be read.",
            "now",
            f"They were moved to {desk.drafts.moved_aside}.",
        )
    if saying is not None:
        desk.said.emit(saying)
    return window


def fill_small_screen(window: Window) -> None:
    """Where the window with its title bar would reach over the edge of the screen, it takes the whole of it."""
    room = window.screen().availableGeometry().size()
    if room.width() < window.width() or room.height() < window.height() + TITLE_BAR:
        window.showMaximized()


def restored(backup_file: Path, ledger_file: Path, clock: Clock) -> Saying:
    """Put a backup in the ledger's place; what came of it, to be said when the window is back."""
    try:
        aside = restore(backup_file, ledger_file, clock)
    except CannotNow as fault:
        return Saying(f"Not restored: {fault.sentence}", "now", fault.remedy)
    kept = f"The ledger that stood there is kept as {aside.name}." if aside else ""
    return Saying(f"Restored the backup {backup_file.name}.", "watch", kept)


def catch_faults(desk: Desk) -> None:
    """From now on a bug anywhere in the window makes a report and a sentence; Ctrl+C at a terminal still ends it."""

    def caught(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, Exception):
            desk.fault(error)
        else:
            sys.__excepthook__(kind, error, trace)

    sys.excepthook = caught
