"""The desk: what is asked for comes on the window's thread, to whom still wants it, and the window never waits."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from PySide6.QtCore import QObject, QTimer
from sqlalchemy.orm import Session

from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow, Refused
from beeledger.base.findings import Finding, Grade
from beeledger.base.settings import load_settings
from beeledger.database.audit import OpenAct
from beeledger.operations.act import Done, perform
from beeledger.operations.farm import set_farm
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.counts import farm_size
from beeledger.ui.desk import reports
from beeledger.ui.desk.desk import ASK_EVERY_MS, Desk, Saying
from beeledger.ui.desk.jobs import Job
from beeledger.ui.frame.app import make_desk


@pytest.fixture
def desk(new_target: Callable[..., str], clock: FixedClock, qapp: Any) -> Iterator[Desk]:
    made = make_desk(new_target("sqlite"), clock)
    yield made
    made.close()


@pytest.fixture
def said(desk: Desk) -> list[Saying]:
    told: list[Saying] = []
    desk.said.connect(told.append)
    return told


def settle(qtbot: Any, desk: Desk) -> None:
    qtbot.waitUntil(lambda: desk.workers.waiting == 0, timeout=10_000)


def test_a_read_comes_back_on_the_windows_thread_and_was_made_on_another(desk: Desk, qtbot: Any) -> None:
    threads: dict[str, threading.Thread] = {}

    def query(_session: Session) -> int:
        threads["read"] = threading.current_thread()
        return 7

    def then(value: int) -> None:
        threads["told"] = threading.current_thread()
        assert value == 7

    desk.read(query, owner=desk, then=then)
    settle(qtbot, desk)
    assert threads["told"] is threading.main_thread()
    assert threads["read"] is not threading.main_thread()


def test_the_window_goes_on_turning_while_a_query_is_slow(desk: Desk, qtbot: Any) -> None:
    """The query waits until the window has turned a hundred times: were the window to wait for it, neither would end."""
    go, turns, got = Event(), [0], []

    def slow(_session: Session) -> bool:
        return go.wait(10)

    def turn() -> None:
        turns[0] += 1
        if turns[0] == 100:
            go.set()

    timer = QTimer()
    timer.timeout.connect(turn)
    desk.read(slow, owner=desk, then=got.append)
    timer.start(0)
    settle(qtbot, desk)
    timer.stop()
    assert got == [True]


def test_the_window_goes_on_turning_while_an_act_is_slow(desk: Desk, qtbot: Any) -> None:
    go, got = Event(), []

    def slow_act(act: OpenAct) -> str:
        assert go.wait(10)
        return "Done at last"

    desk.act(slow_act, then=lambda done: got.append(done.sentence))
    QTimer.singleShot(0, go.set)
    settle(qtbot, desk)
    assert got == ["Done at last"]


def test_only_the_newest_read_of_a_key_is_told_and_overtaken_ones_are_not_begun(
    desk: Desk, qtbot: Any
) -> None:
    go, begun, told = Event(), [], []

    def hold(_session: Session) -> None:
        go.wait(10)

    for _reader in range(2):  # both readers are busy
        desk.read(hold, owner=desk, then=lambda _value: None)
    for number in range(5):
        desk.read(lambda _session, n=number: begun.append(n) or n, owner=desk, then=told.append, key="rows")
    go.set()
    settle(qtbot, desk)
    assert told == [4]
    assert begun == [4]


def test_reads_of_two_owners_with_one_key_do_not_meet(desk: Desk, qtbot: Any) -> None:
    here, there, told = QObject(), QObject(), []
    desk.read(lambda _session: "here", owner=here, then=told.append, key="rows")
    desk.read(lambda _session: "there", owner=there, then=told.append, key="rows")
    settle(qtbot, desk)
    assert sorted(told) == ["here", "there"]


def test_what_was_read_for_a_piece_that_is_gone_is_dropped(desk: Desk, qtbot: Any) -> None:
    from shiboken6 import delete

    owner, told, go = QObject(), [], Event()
    desk.read(lambda _session: go.wait(10), owner=owner, then=told.append)
    delete(owner)
    go.set()
    settle(qtbot, desk)
    assert told == []


def test_an_act_is_told_once_and_marks_what_it_touched(desk: Desk, qtbot: Any) -> None:
    heard: list[Done] = []
    desk.changed.connect(heard.append)
    desk.act(add_site, NewSite("Sedge Holt"))
    settle(qtbot, desk)
    assert [(done.act, done.kind) for done in heard] == [(1, "add_site")]
    assert "site" in heard[0].touched
    assert desk.newest_act == 1
    desk.read(farm_size, owner=desk, then=heard.append)
    settle(qtbot, desk)
    assert heard[-1].sites == 1


def test_a_refused_act_goes_to_the_form_that_asked_or_else_is_said(
    desk: Desk, qtbot: Any, said: list[Saying]
) -> None:
    refusals: list[Refused] = []
    desk.act(set_farm, {"zone": "Fen/Land"}, refused=refusals.append)
    settle(qtbot, desk)
    assert [finding.where.field for finding in refusals[0].findings] == ["zone"]
    assert said == []
    desk.act(set_farm, {"zone": "Fen/Land"})
    settle(qtbot, desk)
    assert [saying.tone for saying in said] == ["now"]
    assert "Fen/Land is no time zone" in said[0].text
    assert desk.newest_act == 0


def test_more_than_one_finding_is_counted(desk: Desk, qtbot: Any, said: list[Saying]) -> None:
    def two(_act: OpenAct) -> str:
        raise Refused([Finding("a", Grade.REFUSED, "first"), Finding("b", Grade.REFUSED, "second")])

    desk.act(two)
    settle(qtbot, desk)
    assert said[0].text == "first. (and 1 more)"
    assert len(said[0].findings) == 2


def test_the_worlds_fault_is_said_with_its_remedy_and_makes_no_report(
    desk: Desk, qtbot: Any, said: list[Saying], desk_folder: Path
) -> None:
    def full(_session: Session) -> None:
        raise CannotNow("The disk is full.", "Free some space and try again.")

    desk.read(full, owner=desk, then=lambda _value: None)
    settle(qtbot, desk)
    assert (said[0].text, said[0].remedy, said[0].tone) == (
        "The disk is full.", "Free some space and try again.", "now",
    )  # fmt: skip
    assert list(desk_folder.glob("fault*")) == []


def test_a_bug_in_a_query_makes_a_report(
    desk: Desk, qtbot: Any, said: list[Saying], desk_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(_session: Session) -> None:
        raise ZeroDivisionError("hives by nought")

    desk.read(broken, owner=desk, then=lambda _value: None)
    settle(qtbot, desk)
    (report,) = desk_folder.glob("fault *.txt")
    assert "hives by nought" in report.read_text(encoding="utf-8")
    assert said[0].text.startswith("A fault in the program")
    assert "ZeroDivisionError" in capsys.readouterr().err


def test_old_reports_go_so_that_they_never_fill_the_disk(
    tmp_path: Path, clock: FixedClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reports, "KEPT", 3)
    for number in range(5):
        clock.moment = clock.moment.replace(minute=number)
        reports.Reports(tmp_path).write(ValueError(str(number)), clock.now())
    assert [path.read_text(encoding="utf-8")[-2] for path in sorted(tmp_path.glob("fault*"))] == [
        "2",
        "3",
        "4",
    ]


def test_a_report_that_cannot_be_written_is_no_second_fault(tmp_path: Path, clock: FixedClock) -> None:
    assert reports.Reports(tmp_path / "no such folder").write(ValueError("x"), clock.now()) is None


def test_a_job_tells_how_far_it_is_and_is_gone_when_it_ends(desk: Desk, qtbot: Any) -> None:
    seen: list[tuple[int, int]] = []
    got: list[str] = []
    desk.workers.job_moved.connect(lambda job: seen.append((job.done, job.total)) if job else None)

    def work(job: Job) -> str:
        job.progress(1, 2)
        return "checked"

    desk.run("Checking", work, owner=desk, then=got.append)
    assert [job.title for job in desk.workers.jobs] == ["Checking"]
    settle(qtbot, desk)
    assert (1, 2) in seen
    assert got == ["checked"]
    assert desk.workers.jobs == []


def test_a_job_asked_to_stop_stops_and_one_that_waits_behind_it_never_begins(
    desk: Desk, qtbot: Any, said: list[Saying]
) -> None:
    begun = Event()
    ran: list[str] = []

    def endless(job: Job) -> None:
        begun.set()
        while True:
            job.progress(0, 1)
            job.stop.wait(0.001)

    first = desk.run("Checking", endless, owner=desk, then=lambda _value: None)
    second = desk.run("Writing", lambda _job: ran.append("ran"), owner=desk, then=lambda _value: None)
    assert begun.wait(10)
    second.stop.set()
    first.stop.set()
    settle(qtbot, desk)
    assert ran == []
    assert [saying.text for saying in said] == ["Stopped as asked", "Stopped as asked"]


def test_long_jobs_leave_the_readers_free(desk: Desk, qtbot: Any) -> None:
    go, told = Event(), []
    for _job in range(3):
        desk.run("Checking", lambda _job: go.wait(10), owner=desk, then=lambda _value: None)
    desk.read(lambda _session: "read", owner=desk, then=told.append)
    qtbot.waitUntil(lambda: told == ["read"])
    go.set()
    settle(qtbot, desk)


def test_what_another_desk_does_is_noticed_by_itself(desk: Desk, qtbot: Any, clock: FixedClock) -> None:
    assert ASK_EVERY_MS <= 5000
    heard: list[Done] = []
    desk.changed.connect(heard.append)
    other = make_desk(desk.ledger.target, clock)
    desk._poll.setInterval(5)
    desk.start()
    perform(other.ledger, add_site, NewSite("Sedge Holt"))
    other.close()
    qtbot.waitUntil(lambda: bool(heard))
    desk._poll.stop()
    settle(qtbot, desk)
    assert [(done.act, done.kind, done.touched) for done in heard] == [(1, "news", frozenset({"*"}))]
    assert desk.newest_act == 1


def test_what_another_desk_did_just_before_is_news_with_ones_own_act(
    desk: Desk, qtbot: Any, clock: FixedClock
) -> None:
    heard: list[Done] = []
    desk.changed.connect(heard.append)
    other = make_desk(desk.ledger.target, clock)
    perform(other.ledger, add_site, NewSite("Sedge Holt"))
    other.close()
    desk.act(add_site, NewSite("Long Drove"))
    settle(qtbot, desk)
    desk._ask_for_news()  # too late: its own act is the newest now
    settle(qtbot, desk)
    assert [(done.act, done.kind) for done in heard] == [(2, "add_site"), (2, "news")]
    assert heard[1].touched == {"*"}


def test_its_own_act_is_no_news(desk: Desk, qtbot: Any) -> None:
    heard: list[str] = []
    desk.changed.connect(lambda done: heard.append(done.kind))
    desk.act(add_site, NewSite("Sedge Holt"))
    settle(qtbot, desk)
    desk._ask_for_news()
    settle(qtbot, desk)
    assert heard == ["add_site"]


def test_a_setting_is_kept_and_stands_in_the_next_act(desk: Desk, qtbot: Any, desk_folder: Path) -> None:
    told: list[object] = []
    desk.settings_changed.connect(told.append)
    desk.change_settings(who="MB", base_pt=12.5)
    assert load_settings(desk_folder / "desk.json") == desk.settings == told[0]
    assert (desk.ledger.who, desk.settings.base_pt) == ("MB", 12.5)


def test_settings_that_cannot_be_kept_hold_until_the_window_closes(
    desk: Desk, said: list[Saying], tmp_path: Path
) -> None:
    desk._settings_file = tmp_path / "no such folder" / "desk.json"
    desk.change_settings(who="MB")
    assert desk.settings.who == "MB"
    assert said[0].text.startswith("The settings could not be kept")


def test_closing_finishes_the_acts_that_are_queued(desk: Desk, clock: FixedClock) -> None:
    for number in range(3):
        desk.act(add_site, NewSite(f"Sedge Holt {number}"))
    desk.close()
    desk.close()  # a second time does nothing
    again = make_desk(desk.ledger.target, clock)
    assert again.newest_act == 3
    again.close()


def test_a_piece_on_its_way_out_may_still_ask_and_gets_nothing(desk: Desk, qapp: Any) -> None:
    told: list[object] = []
    desk.read(lambda _session: 1, owner=desk, then=told.append)
    desk.close()
    desk.read(lambda _session: 2, owner=desk, then=told.append)
    desk.act(add_site, NewSite("Sedge Holt"), then=told.append)
    qapp.processEvents()
    assert told == []
