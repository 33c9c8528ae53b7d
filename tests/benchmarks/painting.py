"""Event to end of paint: places, keys in a grid cell, a filter key; 1366×768, without a screen."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from tests.benchmarks.farms import Farms
from tests.benchmarks.figures import Figure, p95
from tests.benchmarks.turning import on_thread, opened, seconds, settle

if TYPE_CHECKING:
    from beeledger.ui.desk.desk import Desk
    from beeledger.ui.frame.window import Window

TIMES = 200


def figures(farms: Farms) -> list[Figure]:
    """Each place opened, each key of a round's cells, each letter of a filter, 200 times in all."""
    desk, window = opened(farms.copy("paint"), farms.folder / "paint-desk")
    try:
        return [*_places(desk, window), _filter(desk, window), _cells(desk, window)]
    finally:
        window.close()
        desk.close()


def _places(desk: Desk, window: Window) -> list[Figure]:
    from beeledger.ui.frame.registry import PLACES

    keys = [entry.key for entry in PLACES]
    first = {key: seconds(desk, lambda key=key: window.open_place(key)) * 1000 for key in keys}
    taken: dict[str, list[float]] = {key: [] for key in keys}
    for _ in range(-(-TIMES // len(keys))):
        for key in keys:
            window.places[key].stale = True  # as after an act that touched it: it reads everything anew
            taken[key].append(seconds(desk, lambda key=key: window.open_place(key)) * 1000)
    slowest = max(keys, key=lambda key: p95(taken[key]))
    how = f"p95 of {TIMES}, everything read anew; slowest {slowest}: {p95(taken[slowest]):.0f} ms"
    late = max(first, key=lambda key: first[key])
    return [
        Figure(
            "a place opened to painted", p95([each for one in taken.values() for each in one]), 150, "ms", how
        ),
        Figure(
            "the slowest place opened to painted",
            p95(taken[slowest]),
            150,
            "ms",
            f"p95 of its own: {slowest}",
        ),
        Figure(
            "a place opened for the first time",
            first[late],
            None,
            "ms",
            f"the slowest of all, {late}, code loaded",
        ),
    ]


def _filter(desk: Desk, window: Window) -> Figure:
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest

    window.open_place("colonies")
    settle(desk)
    place: Any = window.place
    box = place.filter
    box.setFocus()
    rows = len(place.table.records.rows_shown())
    keys = [
        Qt.Key.Key_1,
        Qt.Key.Key_2,
        Qt.Key.Key_Space,
        Qt.Key.Key_8,
        Qt.Key.Key_B,
        *[Qt.Key.Key_Backspace] * 5,
    ]
    spent = [
        on_thread(lambda key=key: QTest.keyClick(box, key)) * 1000 for key in keys * -(-TIMES // len(keys))
    ]
    how = f"p95 of {len(spent)} keys among {rows:,} colonies, work of the window's thread"
    return Figure("a filter key painted", p95(spent), 30, "ms", how)


def _cells(desk: Desk, window: Window) -> Figure:
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    def focus() -> Any:
        return QApplication.focusWidget() or window

    window.open_place("rounds", _largest_site(desk))
    settle(desk)
    QTest.keyClick(focus(), Qt.Key.Key_Return)
    settle(desk)
    place: Any = window.place
    QTest.keyClick(focus(), Qt.Key.Key_F2)
    place.pane.grid.go_to_field(0, "brood_tenths")
    spent: list[float] = []
    for letter in _digits():
        press = (
            (lambda: QTest.keyClick(focus(), Qt.Key.Key_Return))
            if letter == "\n"
            else (lambda letter=letter: QTest.keyClicks(focus(), letter))
        )
        spent.append(on_thread(press) * 1000)
        if len(spent) >= TIMES:
            break
    settle(desk)
    hives = place.pane.grid.model().rowCount()
    how = f"p95 of {len(spent)} keys, {hives} hives, checks and foot included, work of the window's thread"
    return Figure("a key in a grid cell painted", p95(spent), 16, "ms", how)


def _digits() -> Iterator[str]:
    while True:
        yield from "7\n8\n6.5\n9\n10\n"


def _largest_site(desk: Desk) -> str:
    from beeledger.queries.sites import list_sites

    with desk.ledger.read() as session:
        lines = list_sites(session, desk.clock.today(), closed=False)
    return max(lines, key=lambda line: line.colonies).name
