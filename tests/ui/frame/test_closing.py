"""Backups of themselves, and closing the window while something is still to do."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from threading import Event

import pytest

from beeledger.base.errors import CannotNow
from beeledger.database.backup import backup, backups_of
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.operations.sites import NewSite, add_site
from beeledger.ui.desk.desk import Desk, Question
from beeledger.ui.desk.jobs import Job
from beeledger.ui.frame import closing
from beeledger.ui.frame.window import Window
from beeledger.ui.parts import backups as parts
from tests.ui.frame.conftest import settle


@pytest.fixture
def asked(window: Window) -> list[Question]:
    """Questions put to the person; the box itself is not shown."""
    told: list[Question] = []
    window.desk.asked.disconnect(window._asked)
    window.desk.asked.connect(told.append)
    return told


def waiting_job(desk: Desk) -> tuple[Event, Callable[[Job], int]]:
    """A job that goes on step by step until it is let go or stopped."""
    go = Event()

    def work(job: Job) -> int:
        for step in range(10_000):
            job.progress(step, 10_000)
            if go.wait(0.001):
                return step
        return -1

    return go, work


def test_a_window_opened_on_an_old_backup_writes_one(window: Window, qtbot: object, farm_file: Path) -> None:
    assert window.status.text().endswith("no backup yet")
    window.start()
    settle(qtbot, window.desk)
    qtbot.waitUntil(lambda: len(backups_of(farm_file)) == 1)
    settle(qtbot, window.desk)
    assert "backup 19:00 today" in window.status.text()


def test_a_backup_of_today_is_enough(window: Window, qtbot: object, farm_file: Path) -> None:
    window.start()
    settle(qtbot, window.desk)
    window.desk.clock.moment += timedelta(hours=25)
    window.backups.keep()
    settle(qtbot, window.desk)
    assert len(backups_of(farm_file)) == 1
    assert "backup 19:00 yesterday" in window.status.text()
    window.desk.clock.moment += timedelta(hours=2)
    window.backups.keep()
    settle(qtbot, window.desk)
    assert len(backups_of(farm_file)) == 2


def test_a_backup_is_written_each_hour_in_which_something_was_done(
    window: Window, qtbot: object, farm_file: Path
) -> None:
    window.start()
    settle(qtbot, window.desk)

    def an_hour_on() -> int:
        window.desk.clock.moment += timedelta(minutes=61)
        window.backups._timer.timeout.emit()
        settle(qtbot, window.desk)
        return len(backups_of(farm_file))

    assert an_hour_on() == 1  # nothing was done
    window.desk.act(add_site, NewSite("Far Drove"))
    settle(qtbot, window.desk)
    window.backups._timer.timeout.emit()
    settle(qtbot, window.desk)
    assert len(backups_of(farm_file)) == 2
    assert "backup 20:01 today" in window.status.text()
    assert an_hour_on() == 2  # it holds all there is
    perform(window.desk.ledger, add_site, NewSite("Longer Drove"))  # as another desk does
    assert an_hour_on() == 3


def test_what_was_done_before_a_crash_is_backed_up_when_the_window_is_opened(
    window: Window, qtbot: object, farm_file: Path
) -> None:
    backup(window.desk.ledger)
    window.desk.clock.moment += timedelta(minutes=30)
    perform(window.desk.ledger, add_site, NewSite("Far Drove"))  # and the plug was pulled
    window.desk.clock.moment += timedelta(minutes=40)
    window.start()
    settle(qtbot, window.desk)
    assert len(backups_of(farm_file)) == 2


def test_closing_after_an_act_writes_a_backup_first_and_then_closes(
    window: Window, qtbot: object, farm_file: Path
) -> None:
    window.start()
    settle(qtbot, window.desk)
    window.desk.clock.moment += timedelta(hours=1)
    window.desk.act(set_farm, {"contact": "01353 1"})
    settle(qtbot, window.desk)
    window.close()
    assert window.isVisible()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert len(backups_of(farm_file)) == 2


def test_the_backup_chosen_to_be_restored_lives_through_the_backup_of_closing(
    window: Window, qtbot: object, farm_file: Path
) -> None:
    """Both are of one hour, and of one hour only the newest is kept otherwise."""
    window.start()
    settle(qtbot, window.desk)
    (chosen,) = backups_of(farm_file)
    window.desk.clock.moment += timedelta(minutes=10)
    window.desk.act(set_farm, {"contact": "01353 1"})
    settle(qtbot, window.desk)
    window.desk.restore_wanted.emit(chosen)
    qtbot.waitUntil(lambda: not window.isVisible())
    assert window.restore_from == chosen
    assert len(backups_of(farm_file)) == 2
    assert chosen in backups_of(farm_file)


def test_closing_with_nothing_done_writes_none(window: Window, qtbot: object, farm_file: Path) -> None:
    window.start()
    settle(qtbot, window.desk)
    window.close()
    assert not window.isVisible()
    assert len(backups_of(farm_file)) == 1


def test_a_backup_that_cannot_be_written_is_asked_about_and_holds_the_window(
    window: Window, qtbot: object, asked: list[Question], monkeypatch: pytest.MonkeyPatch
) -> None:
    window.start()
    settle(qtbot, window.desk)
    window.desk.act(set_farm, {"contact": "01353 1"})
    settle(qtbot, window.desk)

    def full(_ledger: object, **_more: object) -> Path:
        raise CannotNow("The disk is full, nothing was written.", "Free some space and try again.")

    monkeypatch.setattr(parts, "backup", full)
    window.close()
    qtbot.waitUntil(lambda: len(asked) == 1)
    assert "disk is full" in asked[0].text
    assert asked[0].answers == (closing.OPEN, closing.GO)
    asked[0].then(None)
    assert window.isVisible()
    asked[0].then(closing.GO)
    assert not window.isVisible()


def test_a_running_job_is_asked_about_and_closing_waits_for_it_to_stop(
    window: Window, qtbot: object, asked: list[Question]
) -> None:
    desk = window.desk
    _go, work = waiting_job(desk)
    desk.run("Checking the ledger", work, owner=window, then=lambda _step: None)
    window.close()
    assert window.isVisible()
    assert asked[0].answers == (closing.STAY, closing.STOP)
    asked[0].then(closing.STAY)
    assert window.isVisible()
    asked[0].then(closing.STOP)
    qtbot.waitUntil(lambda: not window.isVisible())


def test_a_job_shows_its_progress_and_stops_when_cancelled(window: Window, qtbot: object) -> None:
    desk = window.desk
    _go, work = waiting_job(desk)
    desk.run("Checking the ledger", work, owner=window, then=lambda _step: None)
    qtbot.waitUntil(lambda: (window.status.progress.share() or 0) > 0)
    assert window.status.progress.accessibleName() == "Checking the ledger"
    window.status.progress.cancel.click()
    settle(qtbot, desk)
    assert not window.status.progress.isVisible()
    assert window.top.said.sentence == "Stopped as asked"


def test_a_place_with_something_unsaved_keeps_the_window_open(
    window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(window.place, "leave", lambda: False)
    window.close()
    assert window.isVisible()
    monkeypatch.undo()
    window.close()
    assert not window.isVisible()
