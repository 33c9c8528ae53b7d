"""Starting the window, coming back on a restored backup, and faults that make a report."""

from __future__ import annotations

import sys
from datetime import timedelta
from pathlib import Path
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QRect, QTimer

from beeledger.base.clock import FixedClock
from beeledger.database.backup import backup
from beeledger.database.opening import open_ledger
from beeledger.operations.act import perform
from beeledger.operations.drafts import DraftStore
from beeledger.operations.farm import set_farm
from beeledger.queries.counts import farm_size
from beeledger.ui.desk.desk import Desk, Saying
from beeledger.ui.frame import app
from tests.ui.frame.conftest import settle


@pytest.fixture
def hook(monkeypatch: pytest.MonkeyPatch) -> None:
    """What catches faults is put back after the test."""
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)


def test_the_window_opens_at_today_and_says_what_it_was_given_to_say(
    desk: Desk, qtbot: object, hook: None
) -> None:
    window = app.open_window(desk, Saying("Restored the backup of Tuesday.", "watch"))
    qtbot.addWidget(window)
    settle(qtbot, desk)
    assert window.place.key == app.FIRST == "today"
    assert window.top.said.sentence == "Restored the backup of Tuesday."
    assert window.top.said.tone == "watch"


def test_drafts_that_could_not_be_read_are_told_with_where_they_went(
    desk: Desk, qtbot: object, hook: None, tmp_path: Path
) -> None:
    (tmp_path / "drafts.db").write_bytes(b"SQLite format 3\x00" + b"\x99" * 5000)
    desk.drafts.close()
    desk.drafts = DraftStore(tmp_path, "ledger", desk.clock)
    window = app.open_window(desk)
    qtbot.addWidget(window)
    assert "drafts damaged" in window.top.said.sentence
    settle(qtbot, desk)


def test_the_clock_of_a_farm_abroad_is_set_when_its_ledger_is_opened(
    farm_file: Path, clock: FixedClock, qapp: object
) -> None:
    ledger = open_ledger(farm_file, clock)
    perform(ledger, set_farm, {"zone": "Pacific/Auckland"})
    ledger.close()
    desk = app.make_desk(farm_file, clock)
    assert desk.clock.zone == "Pacific/Auckland"
    desk.close()


def test_a_restored_backup_takes_the_ledgers_place_and_the_ledger_is_kept(
    farm_file: Path, clock: FixedClock
) -> None:
    ledger = open_ledger(farm_file, clock)
    perform(ledger, set_farm, {"name": "Fenlight Honey"})
    kept = backup(ledger)
    perform(ledger, set_farm, {"name": "Fenlight Bees"})
    ledger.close()
    saying = app.restored(kept, farm_file, clock)
    assert (saying.text, saying.tone) == (f"Restored the backup {kept.name}.", "watch")
    aside = next(farm_file.parent.glob("*aside*"))
    assert aside.name in saying.remedy
    for file, name in ((farm_file, "Fenlight Honey"), (aside, "Fenlight Bees")):
        opened = open_ledger(file, clock)
        with opened.read() as session:
            assert farm_size(session).name == name
        opened.close()


def test_what_is_no_backup_is_not_restored_and_the_ledger_stays(
    farm_file: Path, clock: FixedClock, tmp_path: Path
) -> None:
    rotten = tmp_path / "20260514-180000.db"
    rotten.write_text("not a database")
    before = farm_file.read_bytes()
    saying = app.restored(rotten, farm_file, clock)
    assert saying.tone == "now"
    assert saying.text.startswith("Not restored: ")
    assert farm_file.read_bytes() == before


def test_a_fault_is_said_once_and_makes_a_report_with_nothing_of_the_farm_in_it(
    desk: Desk, hook: None, desk_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told: list[Saying] = []
    desk.said.connect(told.append)
    app.catch_faults(desk)

    def broken() -> None:
        raise LookupError("no such cell")

    for _time in range(3):
        try:
            broken()
        except LookupError as error:
            sys.excepthook(type(error), error, error.__traceback__)
    (report,) = desk_folder.glob("fault *.txt")
    text = report.read_text(encoding="utf-8")
    assert "LookupError: no such cell" in text
    assert "Fenlight" not in text
    assert [saying.tone for saying in told] == ["now"]
    assert str(report) in told[0].remedy
    assert "What was typed is kept" in told[0].text
    assert "no such cell" in capsys.readouterr().err


def test_ctrl_c_at_the_terminal_is_no_fault(
    desk: Desk, hook: None, desk_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    app.catch_faults(desk)
    sys.excepthook(KeyboardInterrupt, KeyboardInterrupt(), None)
    assert list(desk_folder.glob("fault *")) == []
    assert "KeyboardInterrupt" in capsys.readouterr().err


def test_a_backup_chosen_in_the_window_is_restored_and_the_window_comes_back_on_it(
    farm_file: Path,
    clock: FixedClock,
    qapp: object,
    qtbot: object,
    hook: None,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The whole way: the window on the ledger, a backup wanted, the window on the backup, closed."""
    ledger = open_ledger(farm_file, clock)
    perform(ledger, set_farm, {"name": "Fenlight Honey"})
    kept = backup(ledger)
    clock.moment += timedelta(hours=1)
    perform(ledger, set_farm, {"name": "Fenlight Bees"})
    ledger.close()
    seen: list[tuple[int, str]] = []
    plain = app.open_window

    def opened(desk: Desk, saying: Saying | None) -> app.Window:
        window = plain(desk, saying)
        seen.append((desk.newest_act, saying.text if saying else ""))
        again = window.close if saying else lambda: desk.restore_wanted.emit(kept)
        QTimer.singleShot(0, again)
        return window

    monkeypatch.setattr(app, "open_window", opened)
    monkeypatch.setattr(app, "FIRST", "settings")
    assert app.run_window(farm_file, clock) == 0
    assert seen == [(2, ""), (1, f"Restored the backup {kept.name}.")]


def test_a_restore_is_forgotten_when_the_window_stays_open(
    desk: Desk, qtbot: object, hook: None, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(app, "FIRST", "settings")
    window = app.open_window(desk)
    qtbot.addWidget(window)
    settle(qtbot, desk)
    monkeypatch.setattr(window.place, "leave", lambda: False)
    desk.restore_wanted.emit(tmp_path / "20260514-180000.db")
    assert window.isVisible()
    assert window.restore_from is None
    monkeypatch.setattr(window.place, "leave", lambda: True)


@pytest.mark.parametrize(
    ("wide", "high", "whole"), [(1920, 1080, False), (1440, 900, True), (1366, 768, True)]
)
def test_on_a_small_screen_the_window_takes_the_whole_of_it(
    desk: Desk,
    qtbot: object,
    hook: None,
    monkeypatch: pytest.MonkeyPatch,
    wide: int,
    high: int,
    *,
    whole: bool,
) -> None:
    window = app.open_window(desk)
    qtbot.addWidget(window)
    screen = SimpleNamespace(availableGeometry=lambda: QRect(0, 0, wide, high))
    monkeypatch.setattr(window, "screen", lambda: screen)
    app.fill_small_screen(window)
    assert window.isMaximized() is whole
