"""Starting the window on a ledger."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtWidgets import QApplication

from beeledger.base.clock import Clock
from beeledger.base.paths import desk_folder, settings_file
from beeledger.base.settings import load_settings
from beeledger.database.opening import open_ledger
from beeledger.operations.drafts import DraftStore
from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.window import Window, dress
from beeledger.ui.widgets import look


def make_desk(target: str | Path, clock: Clock) -> Desk:
    """Open a ledger and set up this desk before it; CannotNow says why it cannot be."""
    settings = load_settings(settings_file())
    ledger = open_ledger(target, clock, who=settings.who, desk=settings.desk)
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
    """Show the window on a ledger until it is closed; returns the exit code."""
    app = make_app()
    desk = make_desk(target, clock)
    dress(desk)
    window = Window(desk)
    window.open_place("today")
    window.show()
    desk.start()
    return app.exec()
