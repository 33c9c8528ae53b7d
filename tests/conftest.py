"""What every test stands on: a clock that stands still, a desk of its own, an empty ledger of both kinds."""

from __future__ import annotations

import gc
import itertools
import logging
import os
import shutil
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from beeledger.base.clock import FixedClock
from tests.servers import Server, memory_folder, running_server

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from beeledger.database.opening import Ledger

os.environ["QT_QPA_PLATFORM"] = "offscreen"
if memory := memory_folder():
    os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", memory)  # pytest's name for where temporary folders go

# Examples are drawn from the test's own name, so a run can be repeated; the night asks for more and for new ones.
settings.register_profile("suite", deadline=None, derandomize=True, database=None)
settings.register_profile("night", deadline=None, max_examples=2000, database=None, print_blob=True)
settings.load_profile(os.environ.get("BEELEDGER_HYPOTHESIS", "suite"))

KINDS = ("sqlite", "postgresql")
_number = itertools.count(1)


@pytest.fixture
def clock() -> FixedClock:
    """Thursday 14 May 2026, seven in the evening on the farm (18:00 UTC)."""
    return FixedClock(datetime(2026, 5, 14, 18, 0, tzinfo=UTC), "Europe/London")


@pytest.fixture(autouse=True)
def desk_folder(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A fresh folder for drafts and settings, made when it is first asked for."""
    folder = tmp_path_factory.getbasetemp() / f"desk-{next(_number)}"
    monkeypatch.setenv("BEELEDGER_DESK", str(folder))
    return folder


@pytest.fixture(autouse=True)
def _silence(request: pytest.FixtureRequest, caplog: pytest.LogCaptureFixture) -> Iterator[None]:
    """A warning in the log fails the test, unless it is marked ``expects_log`` and looks at it itself."""
    yield
    if request.node.get_closest_marker("expects_log"):
        return
    loud = [record for record in caplog.get_records("call") if record.levelno >= logging.WARNING]
    assert not loud, f"said in the log: {[record.getMessage() for record in loud]}"


@pytest.fixture(autouse=True)
def _nothing_left_behind(request: pytest.FixtureRequest) -> Iterator[None]:
    """No thread outlives its test; after a test of the window no job runs and no window is open."""
    before = set(threading.enumerate())
    yield
    if "qapp" in request.fixturenames:
        _close_qt()
    left = [thread for thread in threading.enumerate() if thread not in before and not thread.daemon]
    assert not left, f"threads left behind: {left}"


def _close_qt() -> None:
    from PySide6.QtCore import QCoreApplication, QEvent, QThreadPool
    from PySide6.QtWidgets import QApplication

    assert QThreadPool.globalInstance().waitForDone(5000), "a job still runs"
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    if any(widget.isVisible() for widget in QApplication.topLevelWidgets()):
        gc.collect()  # a window in a ring of references is gone only now
    still = [widget for widget in QApplication.topLevelWidgets() if widget.isVisible()]
    names = [f"{type(widget).__name__} {widget.objectName()!r}" for widget in still]
    for widget in still:
        widget.close()
    assert not names, f"left open (use qtbot.addWidget): {names}"


@pytest.fixture(scope="session")
def qapp(qapp: QApplication) -> QApplication:
    """The application with the bundled fonts and the light look on."""
    from beeledger.ui.widgets import look

    look.load_fonts()
    look.apply(qapp, look.LIGHT)
    return qapp


@pytest.fixture(scope="session")
def postgres() -> Iterator[Server]:
    """A PostgreSQL server for this run."""
    with running_server() as server:
        yield server


def _migrate(target: str) -> None:
    from beeledger.database.opening import open_ledger

    open_ledger(target, FixedClock(datetime(2026, 1, 1, 12, 0, tzinfo=UTC))).close()


@pytest.fixture(scope="session")
def _sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("template") / "empty.beeledger"
    _migrate(str(file))
    assert not file.with_name(file.name + "-wal").exists(), "closing a ledger leaves one whole file"
    return file


@pytest.fixture(scope="session")
def _postgres_template(postgres: Server) -> str:
    _migrate(postgres.create("empty_ledger"))
    return "empty_ledger"


@pytest.fixture
def new_target(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Callable[..., str]]:
    """Make a database by its kind: ``new_target("sqlite")`` migrated, ``migrated=False`` not there or empty."""
    made: list[str] = []

    def make(kind: str, *, migrated: bool = True) -> str:
        name = f"ledger_{next(_number)}"
        if kind == "sqlite":
            file = tmp_path / f"{name}.beeledger"
            if migrated:
                shutil.copyfile(request.getfixturevalue("_sqlite_template"), file)
            return str(file)
        server: Server = request.getfixturevalue("postgres")
        template = request.getfixturevalue("_postgres_template") if migrated else None
        made.append(name)
        return server.create(name, template)

    yield make
    for name in made:
        request.getfixturevalue("postgres").drop(name)


@pytest.fixture(params=KINDS)
def kind(request: pytest.FixtureRequest) -> str:
    """Which database: every test that asks runs on both."""
    return str(request.param)


@pytest.fixture
def target(kind: str, new_target: Callable[..., str]) -> str:
    """The path or address of an empty, migrated database that nobody has open."""
    return new_target(kind)


@pytest.fixture
def ledger(target: str, clock: FixedClock) -> Iterator[Ledger]:
    """An empty ledger, open, on SQLite and on PostgreSQL."""
    from beeledger.database.opening import open_ledger

    opened = open_ledger(target, clock)
    yield opened
    opened.close()


@pytest.fixture
def sqlite_ledger(new_target: Callable[..., str], clock: FixedClock) -> Iterator[Ledger]:
    """An empty ledger, open, in one file: for tests above the database, which need not run twice."""
    from beeledger.database.opening import open_ledger

    opened = open_ledger(new_target("sqlite"), clock)
    yield opened
    opened.close()
