"""The two lists of Stock behind their tabs: items, and boxes by state and place; each with its foot."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QApplication, QStackedWidget

from beeledger.queries.records.stock import Equipment, StockRow
from beeledger.rules.stock_items import BoxKind
from beeledger.ui.places.stock.table import (
    BOXES,
    CHIPS,
    books_words,
    box_row,
    box_sums,
    passes,
    pressing_first,
    row_id,
    stock_row,
    sums,
)
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Row
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.tabs import Tab, Tabs
from beeledger.ui.widgets.words import RunWords

_ABOVE = 3
"""So many of the buttons stand beside the tabs, the others beside the filter."""


class Lists(Stack):
    """Tabs, what filters the list in front, and the list."""

    turned = Signal(str)

    def __init__(
        self, items: RecordTable, filter_box: FilterBox, empty: EmptyState, buttons: Sequence[Button]
    ) -> None:
        super().__init__()
        self.rows: dict[Hashable, StockRow] = {}
        self.items, self.filter, self.empty = items, filter_box, empty
        self.boxes = RecordTable(BOXES, many=False)
        self.boxes.setObjectName("stock.boxes")
        self.tabs = Tabs()
        self.tabs.setObjectName("stock.tabs")
        self.chips = Chips()
        self.chips.set_chips(CHIPS)
        self.foot, self.boxes_foot = TableFoot(), TableFoot(self.boxes)
        self.books = {kind: RunWords(shorten=True) for kind in BoxKind}
        self.no_boxes = EmptyState(
            "No box is kept yet",
            "Boxes are items of the kind boxes, one for each kind, frame and state.",
            "New item",
        )
        self._pages = QStackedWidget()
        self._nothing = False
        self._lay_out(buttons)
        self.tabs.chosen.connect(lambda key: self._turn(str(key)))
        self.items.shown_changed.connect(lambda *_counts: self._say_foot())
        self._turn("items")

    def current(self) -> str:
        """The key of the list in front."""
        return str(self.tabs.current())

    def table(self) -> RecordTable:
        """The table in front."""
        return self.boxes if self.current() == "boxes" else self.items

    def show_items(self, rows: Sequence[StockRow], today: date) -> None:
        """Fill the items."""
        self.rows = {row_id(row): row for row in rows}
        self.items.set_rows([stock_row(row, today) for row in pressing_first(rows, today)])
        nothing = not rows and "retired" not in self.chips.on()
        self.empty.stand_for(self.items, self.foot, nothing=nothing)
        self._nothing = nothing
        self._lead_keys()
        low = sum(row.is_low for row in rows)
        self._tabs(f"{low:,} low" if low else "")
        self._say_foot()

    def show_boxes(self, equipment: Equipment) -> None:
        """Fill the boxes."""
        self.boxes.set_rows([box_row(one) for one in equipment.counts])
        self.no_boxes.stand_for(self.boxes, self.boxes_foot, nothing=not equipment.counts)
        self.boxes_foot.set_sums(box_sums(equipment))
        for one in equipment.on_hives:
            self.books[one.box].say(books_words(one))

    def keep(self) -> None:
        """Show what the chips ask for."""
        on = self.chips.on()

        def kept(row: Row) -> bool:
            return row.id in self.rows and passes(self.rows[row.id], on)

        self.items.filter_by(kept if on else None)

    def _lead_keys(self) -> None:
        """The keys go to the list in front; to the one button where nothing is kept yet."""
        nothing = self._nothing and self.current() == "items"
        focus = QApplication.focusWidget()
        held = focus is not None and self.isAncestorOf(focus)
        self.setFocusProxy(self.empty.button if nothing else self.table())
        if held and nothing:
            self.empty.button.setFocus(Qt.FocusReason.OtherFocusReason)

    def _say_foot(self) -> None:
        shown = [self.rows[row.id] for row in self.items.records.rows_shown() if row.id in self.rows]
        self.foot.say(sums(shown))

    def _tabs(self, state: str) -> None:
        self.tabs.set_tabs([Tab("items", "Items", state, "watch"), Tab("boxes", "Equipment")])

    def _lay_out(self, buttons: Sequence[Button]) -> None:
        self._tabs("")
        head = Band(self.tabs, height=40, inset=0, right=buttons[:_ABOVE])
        head.row.addSpacing(look.px(12))
        self.add(head)
        self.add(Band(self.filter, self.chips, right=buttons[_ABOVE:]))
        books = Stack(*self.books.values())
        books.column.setContentsMargins(look.px(16), look.px(6), look.px(16), look.px(6))
        items = Stack(self.empty, self.items, self.foot, grows=self.items)
        boxes = Stack(books, self.no_boxes, self.boxes, self.boxes_foot, grows=self.boxes)
        for page in (items, boxes):
            self._pages.addWidget(page)
        self.add(self._pages, 1)

    def _turn(self, key: str) -> None:
        self._pages.setCurrentIndex(1 if key == "boxes" else 0)
        self.filter.setVisible(key == "items")
        self.chips.setVisible(key == "items")
        self._lead_keys()
        self.turned.emit(key)
