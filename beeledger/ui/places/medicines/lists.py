"""The three lists of Medicines behind their tabs: packs, given, mites; each with its foot and its empty state."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QStackedWidget

from beeledger.base.text import counted
from beeledger.queries.records.medicines import GivenLine, MiteView, PackRow
from beeledger.ui.places.medicines.table import (
    GIVEN,
    MITES,
    PACKS,
    given_row,
    mite_rows,
    mites_head,
    pack_row,
    to_fill_words,
)
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Row, Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.tabs import Tab, Tabs

KEYS = ("packs", "given", "mites")
_PIECES = "bought, given and left in pieces"
_DAYS = "given in pieces, withdrawal in days"
_GIVEN_APPEARS = "What a round puts into a hive and takes out stands here, with what the law asks for."
_PERIODS = (("year", "twelve months"), ("all", "all"))


class Lists(Stack):
    """Tabs, what filters the list in front, and the list."""

    turned = Signal(str)
    """The key of the list that came to the front."""
    period_changed = Signal()

    def __init__(self, add: Button, register: Button) -> None:
        super().__init__()
        add.setObjectName("medicines.new")
        register.setObjectName("medicines.print")
        self._states = dict.fromkeys(KEYS, "")
        self._build()
        self._lay_out(add, register)
        self._connect()
        self._tell_tabs()
        self._turn("packs")

    def current(self) -> str:
        """The key of the list in front."""
        return str(self.tabs.current())

    def number(self) -> int:
        """Its place among the three."""
        return KEYS.index(self.current())

    def table(self) -> RecordTable:
        """The table in front."""
        return (self.packs, self.given, self.mites)[self.number()]

    def go(self, key: str) -> None:
        """Bring a list to the front."""
        self.tabs.choose(key)

    def period(self) -> str:
        """Which part of the register is shown."""
        return str((self.periods.on() or ["year"])[0])

    def show_packs(self, packs: Sequence[PackRow], today: date) -> None:
        """Fill the packs."""
        self._fill(0, [pack_row(pack, today) for pack in packs], never=not packs)
        self._states["packs"] = to_fill_words(packs)
        self._tell_tabs()
        self._foots[0].say([Run(counted(len(packs), "pack"), "ink", 600)], [Run(_PIECES, "ink2", small=True)])

    def show_given(self, lines: Sequence[GivenLine], today: date, none: str) -> None:
        """Fill the register; ``none`` says when or to whom nothing was given where it is empty."""
        self._fill(1, [given_row(line, today) for line in lines], never=not lines)
        self.no_given.say(f"Nothing given {none}", _GIVEN_APPEARS, "Type a round")
        inside = [line for line in lines if line.still_in]
        hives = sum(line.hives for line in inside)
        self._states["given"] = f"{hives:,} in now" if hives else ""
        self._tell_tabs()
        late = sum(line.hives for line in inside if line.due_out is not None and line.due_out < today)
        every = sum(line.hives for line in lines)
        words = [Run(f"{counted(len(lines), 'line')}, {counted(every, 'hive')}", "ink", 600, gap=12)]
        if hives:
            words.append(Run(f"in {counted(hives, 'hive')} now", "ink2", gap=12))
        if late:
            words.append(Run(f"{late:,} late", "now", 600))
        self._foots[1].say(words, [Run(_DAYS, "ink2", small=True)])

    def show_mites(self, view: MiteView) -> None:
        """Fill the sites."""
        counted_sites = [site for site in view.sites if site.counted]
        self._fill(2, mite_rows(view), never=not counted_sites)
        over = sum(site.at_line > 0 for site in view.sites)
        self._states["mites"] = f"{counted(over, 'site')} at the line" if over else ""
        self._tell_tabs()
        standing = sum(site.standing for site in view.sites)
        rests_on = sum(site.counted for site in view.sites)
        self._foots[2].say(
            [Run(f"mites counted in {rests_on:,} of {standing:,} hives", "ink", 600)],
            [Run(mites_head(view), "ink2", small=True)],
        )

    def _fill(self, at: int, rows: Sequence[Row], *, never: bool) -> None:
        table = (self.packs, self.given, self.mites)[at]
        table.set_rows(rows)
        self._pages[at].setCurrentIndex(0 if never else 1)
        if rows and not table.chosen():
            table.choose([rows[0].id])

    def _build(self) -> None:
        self.tabs = Tabs()
        self.tabs.setObjectName("medicines.tabs")
        self.filter = FilterBox("Product, batch or site", width=180)
        self.filter.setObjectName("medicines.filter")
        self.periods = Chips(one=True)
        self.periods.set_chips(_PERIODS, on=["year"])
        self.only = Chips()
        self.packs, self.given, self.mites = RecordTable(PACKS), RecordTable(GIVEN), RecordTable(MITES)
        for key, table in zip(KEYS, (self.packs, self.given, self.mites), strict=True):
            table.setObjectName(f"medicines.{key}.table")
        self.no_packs = EmptyState(
            "No medicine yet",
            "A pack is written down when it is bought: product, batch, expiry, supplier and proof of purchase.",
            "Add the first pack",
        )
        self.no_given = EmptyState(
            "Nothing given yet",
            _GIVEN_APPEARS,
            "Type a round",
        )
        self.no_mites = EmptyState(
            "No mites counted in twelve months",
            "A count is typed in a round: mites in a wash or a sugar roll, or dropped in so many days.",
            "Type a round",
        )

    def _lay_out(self, add: Button, register: Button) -> None:
        self.add(Band(self.tabs, height=40, inset=0))
        band = Band(self.filter, self.periods, self.only)
        band.air()
        band.add(register)
        band.add(add)
        self.add(band)
        self._stack = QStackedWidget()
        self._foots: list[TableFoot] = []
        self._pages: list[QStackedWidget] = []
        for table, empty in (
            (self.packs, self.no_packs), (self.given, self.no_given), (self.mites, self.no_mites)
        ):  # fmt: skip
            foot = TableFoot(table)
            filled = Stack(table, foot)
            filled.column.setStretchFactor(table, 1)
            page = QStackedWidget()
            page.addWidget(empty)
            page.addWidget(filled)
            self._foots.append(foot)
            self._pages.append(page)
            self._stack.addWidget(page)
        self.add(self._stack, 1)

    def _connect(self) -> None:
        self.filter.listen(self)
        self.filter.words_changed.connect(self._filter)
        self.filter.left_down.connect(lambda: self.table().setFocus(Qt.FocusReason.ShortcutFocusReason))
        for table in (self.packs, self.given, self.mites):
            table.typed.connect(self.filter.take)
        self.tabs.chosen.connect(lambda key: self._turn(str(key)))
        self.periods.changed.connect(lambda _on: self.period_changed.emit())

    def _filter(self, words: str) -> None:
        for table in (self.packs, self.given, self.mites):
            table.filter_words(words)

    def _turn(self, key: str) -> None:
        self._stack.setCurrentIndex(KEYS.index(key))
        self.setFocusProxy(self.table())
        self.periods.setVisible(key == "given")
        self.only.setVisible(key == "given")
        self.turned.emit(key)

    def _tell_tabs(self) -> None:
        self.tabs.set_tabs(
            [
                Tab("packs", "Packs", self._states["packs"], "watch"),
                Tab("given", "Given", self._states["given"]),
                Tab("mites", "Mites", self._states["mites"], "watch"),
            ]
        )
