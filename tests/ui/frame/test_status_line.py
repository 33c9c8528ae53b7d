"""The line at the bottom, the way taken, and margins that grow with the text."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from beeledger.queries.counts import Waiting
from beeledger.ui.desk.jobs import Job
from beeledger.ui.frame.scaling import rescale
from beeledger.ui.frame.status_line import BackupState, StatusLine, backup_run
from beeledger.ui.frame.trail import LONGEST, Trail
from beeledger.ui.frame.waiting import waiting_words
from beeledger.ui.widgets.marks import Mark

NOW = datetime(2026, 5, 14, 18, 0, tzinfo=UTC)
LONDON = "Europe/London"


@pytest.mark.parametrize(
    ("ago", "size_bytes", "words", "mark"),
    [
        (timedelta(minutes=30), 214_000_000, "backup 18:30 today, 214 MB", Mark.MET),
        (timedelta(hours=20), 9_100_000, "backup 23:00 yesterday, 9.1 MB", Mark.MET),
        (timedelta(hours=27), 9_100_000, "backup 16:00 yesterday, 9.1 MB", Mark.TODAY),
        (timedelta(days=5), 40_000, "backup 19:00 9 May, 5 days ago, 0.0 MB", Mark.TODAY),
        (timedelta(days=60), 1_214_000_000, "backup 18:00 15 Mar, 60 days ago, 1,214 MB", Mark.TODAY),
    ],
)
def test_the_backup_is_told_by_its_local_time_and_an_old_one_is_marked(
    ago: timedelta, size_bytes: int, words: str, mark: Mark
) -> None:
    run = backup_run(BackupState(NOW - ago, size_bytes), NOW, LONDON)
    assert (run.text, run.mark) == (words, mark)
    assert run.ink == ("ink2" if mark is Mark.MET else "watch")


def test_no_backup_is_said() -> None:
    assert backup_run(BackupState(), NOW, LONDON).text == "no backup yet"


def test_jobs_that_wait_are_counted_and_one_that_stops_says_so(qapp: object, qtbot: object) -> None:
    line = StatusLine()
    qtbot.addWidget(line)
    first, second = Job("Checking the ledger", 3, 12), Job("Writing a backup")
    line.show_jobs([first, second])
    assert line.progress.accessibleName() == "Checking the ledger and 1 more"
    assert line.progress.share() == 0.25
    first.stop.set()
    line.show_jobs([first])
    assert line.progress.accessibleName() == "Checking the ledger, stopping"
    with qtbot.waitSignal(line.stop_wanted) as wanted:
        line.progress.cancel.click()
    assert wanted.args == [first]


def test_what_waits_is_told_in_words_and_what_does_not_is_not() -> None:
    assert waiting_words(Waiting(), 0) == {}
    assert waiting_words(Waiting(sites_late=4, takes_to_weigh=2), 1) == {
        "today": ("4 late", False), "rounds": ("1 draft", False), "harvest": ("2 to weigh", False),
    }  # fmt: skip


def test_going_somewhere_new_forgets_what_lay_ahead() -> None:
    trail = Trail()
    assert not trail.can(-1)
    for key in ("today", "rounds", "rounds", "sites"):
        trail.went(key, None)
    assert trail.go(-1) == ("rounds", None)
    assert trail.go(-1) == ("today", None)
    assert not trail.can(-1)
    trail.went("history", 7)
    assert not trail.can(1)
    assert trail.go(-1) == ("today", None)
    assert trail.go(1) == ("history", 7)
    with pytest.raises(IndexError):
        trail.go(1)


def test_a_long_day_does_not_make_the_way_endless() -> None:
    trail = Trail()
    for number in range(3 * LONGEST):
        trail.went("history", number)
    steps = 0
    while trail.can(-1):
        trail.go(-1)
        steps += 1
    assert steps == LONGEST - 1


def test_margins_and_gaps_are_reckoned_from_the_first_figures(qapp: object, qtbot: object) -> None:
    root = QWidget()
    qtbot.addWidget(root)
    column = QVBoxLayout(root)
    column.setContentsMargins(16, 1, 0, 7)
    column.setSpacing(6)
    grid = QGridLayout()
    grid.setHorizontalSpacing(12)
    grid.setVerticalSpacing(4)
    column.addLayout(grid)
    for old, new in ((9.75, 16.0), (16.0, 9.0), (9.0, 16.0)):
        rescale(root, old, new)
    assert column.contentsMargins().left() == round(16 * 16 / 9.75)
    assert column.contentsMargins().top() == 1  # a hairline stays one
    assert (grid.horizontalSpacing(), grid.verticalSpacing()) == (20, 7)
    rescale(root, 16.0, 9.75)
    edges = column.contentsMargins()
    assert (edges.left(), edges.bottom(), column.spacing(), grid.horizontalSpacing()) == (16, 7, 6, 12)
