"""The program's own start, by its command, until Today is painted and takes a key. Run as a script with a ledger."""

import sys

from PySide6.QtWidgets import QApplication

EVENING = "2026-05-14"


def until_ready(*_args: object) -> int:
    """Stands in for the event loop: turns it until Today is there and has taken a key, then leaves."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    from beeledger.ui.frame.window import Window
    from tests.benchmarks.turning import settle

    window = next(one for one in QApplication.topLevelWidgets() if isinstance(one, Window))
    settle(window.desk)
    table = window.place.focusProxy() or window.place
    assert window.place.key == "today"
    assert window.place.lines
    QTest.keyClick(table, Qt.Key.Key_Down)
    QApplication.processEvents()
    print("ready", flush=True)
    window.close()
    window.desk.close()
    return 0


def main() -> int:
    QApplication.exec = until_ready
    from beeledger.cli.main import main as command

    return command(["open", sys.argv[1], "--today", EVENING])


if __name__ == "__main__":
    sys.exit(main())
