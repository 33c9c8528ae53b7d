"""Sitting down at a place: a desk on a ledger, the place in front of it, and waiting for what it asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from typing import Any

from beeledger.base.settings import DeskSettings
from beeledger.database.ledger import Ledger
from beeledger.operations.drafts import DraftStore
from beeledger.ui.desk.desk import Desk


class Seat:
    """A place in front of the person, and what was said and opened meanwhile."""

    def __init__(self, desk: Desk, place: Any, qtbot: Any) -> None:
        self.desk = desk
        self.place = place
        self.qtbot = qtbot
        self.said: list[Any] = []
        self.opened: list[tuple[str, object]] = []
        desk.said.connect(self.said.append)
        desk.opened.connect(lambda key, what: self.opened.append((key, what)))
        desk.changed.connect(place.heard)

    def settle(self) -> None:
        """Wait until nothing that was asked for is still under way."""
        self.qtbot.waitUntil(lambda: self.desk.workers.waiting == 0, timeout=10_000)

    def until(self, condition: Callable[[], bool]) -> None:
        """Wait for a condition."""
        self.qtbot.waitUntil(condition, timeout=10_000)


@contextmanager
def seated(
    ledger: Ledger, key: str, qtbot: Any, folder: Path, size: tuple[int, int] = (1256, 828)
) -> Iterator[Seat]:
    """Sit down before a place of the window, filled and in front."""
    folder.mkdir(parents=True, exist_ok=True)
    desk = Desk(ledger, DraftStore(folder, "ledger", ledger.clock), DeskSettings(), folder / "desk.json")
    place = import_module(f"beeledger.ui.places.{key}.place").Here(desk)
    seat = Seat(desk, place, qtbot)
    place.resize(*size)
    place.show()
    place.activateWindow()
    qtbot.waitUntil(place.isActiveWindow)
    place.come_to_front()
    seat.settle()
    try:
        yield seat
    finally:
        place.hide()
        place.deleteLater()
        desk.workers.stop()
        desk.drafts.close()
