"""A small farm, a desk before it, and the window on that desk."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from beeledger.base.clock import FixedClock
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.ui.desk.desk import Desk
from beeledger.ui.frame.app import make_desk
from beeledger.ui.frame.window import Window, dress
from beeledger.ui.widgets import look
from tests.builders.yards import LOOKED, yard


@pytest.fixture
def farm_file(new_target: Callable[..., str]) -> Path:
    """A ledger nobody has open."""
    return Path(new_target("sqlite"))


@pytest.fixture
def desk(farm_file: Path, clock: FixedClock, qapp: Any) -> Iterator[Desk]:
    """A desk before a farm of two hives that were looked at today."""
    made = make_desk(farm_file, clock)
    perform(made.ledger, set_farm, {"name": "Fenlight Honey"})
    stand = yard(made.ledger, "Sedge Holt", "1041", "1042")
    stand.post(h1041=LOOKED, h1042=LOOKED)
    made.ledger.close()
    made.close()
    made = make_desk(farm_file, clock)
    yield made
    made.close()
    look.apply(qapp, look.LIGHT)


@pytest.fixture
def window(desk: Desk, qtbot: Any) -> Window:
    """The window, in front, at History; nothing under way."""
    dress(desk)
    made = Window(desk)
    qtbot.addWidget(made)
    made.open_place("history")
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    settle(qtbot, desk)
    return made


def settle(qtbot: Any, desk: Desk) -> None:
    """Wait until everything asked for has come, and what came of it."""
    qtbot.waitUntil(lambda: desk.workers.waiting == 0, timeout=10_000)
