"""Stock: what is there and where, when it runs out and what to order, boxes by state, counts, every entry.

Reads: queries.stock.stock_list, queries.stock.choices, queries.stock_card.item_card, queries.equipment.equipment_counts
Acts: operations.stock.buy_stock, operations.stock.move_stock, operations.stock.use_stock, operations.stock.waste_stock, operations.stock.count_stock, operations.stock.turn_boxes, operations.stock.counter_entry, operations.stock_items.add_item, operations.stock_items.change_item, operations.stock_items.retire_item, operations.stock_items.keep_item_again, operations.stock_items.add_store, operations.stock_items.change_store
Computes: rules.stock.forecast, rules.stock.outlook
Prints: documents.stock_list
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import Any, ClassVar

from beeledger.operations.act import Done
from beeledger.operations.stock import (
    StockTake,
    buy_stock,
    count_stock,
    counter_entry,
    move_stock,
    turn_boxes,
    use_stock,
    waste_stock,
)
from beeledger.operations.stock_items import (
    NewStore,
    add_item,
    add_store,
    change_item,
    change_store,
    keep_item_again,
    retire_item,
)
from beeledger.queries.equipment import equipment_counts
from beeledger.queries.records.round_desk import RoundKey
from beeledger.queries.records.stock import Choices, Equipment, Item, ItemCard, StockRow
from beeledger.queries.stock import choices, stock_list
from beeledger.queries.stock_card import item_card
from beeledger.queries.stock_paper import stock_sheet
from beeledger.rules.stock_items import Account, ItemKind
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.side_panes import SidePanes
from beeledger.ui.parts.table_place import PaperPlace
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.stock.card import STATE, ItemView
from beeledger.ui.places.stock.count_sheet import CountSheet
from beeledger.ui.places.stock.forms import (
    counter_form,
    delivery_form,
    move_form,
    store_form,
    turn_form,
    use_form,
)
from beeledger.ui.places.stock.item_form import item_form
from beeledger.ui.places.stock.lists import Lists
from beeledger.ui.places.stock.table import ITEMS, row_id
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.record_table import RecordTable

_NO_STORE = "Stock lies somewhere: name the first store, then write in what came."


class Here(PaperPlace):
    """What the farm keeps, and the card of what is chosen."""

    key: ClassVar[str] = "stock"
    title: ClassVar[str] = "Stock"
    reads: ClassVar[frozenset[str]] = frozenset(
        {
            "stock_item", "stock_store", "stock_lot", "stock_entry", "stock_count", "medicine", "medicine_disposal",
            "treatment", "box_stack", "party", "vehicle", "site", "colony",
        }
    )  # fmt: skip

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.rows: list[StockRow] = []
        self._wanted: int | None = None
        self._page = 0
        self._build()
        self.fill_front(SidePanes(self.lists, self.side, wanted=350, most=36), self.sheet)
        self._connect()
        self._list_chords()
        self.setFocusProxy(self.lists)

    def refresh(self) -> None:
        """Read the items and the boxes."""
        today, retired = self.desk.clock.today(), "retired" in self.lists.chips.on()
        self.desk.read(stock_list, today, retired=retired, owner=self, then=self._show, key="list")
        self.desk.read(equipment_counts, owner=self, then=self._show_boxes, key="boxes")

    def show_what(self, what: object) -> None:
        """An item by its id; "boxes" goes to the equipment."""
        if what == "boxes":
            self.lists.tabs.choose("boxes")
        elif isinstance(what, int):
            self._wanted = what
            self.filter.clear()
            self.lists.tabs.choose("items")
            self.refresh()

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Every quantity goes from somewhere to somewhere: from a supplier into a store, from a store to a van, to "
            "the hives, used, wasted. What rounds feed, what a jarring takes and labels that are printed come off the "
            "usual store by themselves.</p><p>Quantities are typed as <b>12.5</b> (kilograms, litres or pieces, as the item "
            "is kept), <b>800 g</b>, or <b>3 sacks</b>. <b>Count</b> opens a sheet: type down the column, Enter after each "
            "figure; differences stand beside it before anything is posted.</p><p>When more goes than the record holds, "
            "the program asks: press the button again to accept it, and count the item when you can. An entry is never "
            "changed: Enter on it takes it back by its opposite. What runs out when is a guess from the farm's own use; a "
            "person decides what to order.</p>"
        )

    def leave(self) -> bool:
        """Counted figures are not thrown away unseen."""
        if self.front.currentWidget() is self.sheet and self.sheet.is_begun():
            self.desk.say(
                "A count is typed and not posted yet",
                "watch",
                "Post it with Ctrl Enter, or leave it with Escape",
            )
            return False
        return True

    def new(self) -> None:
        """Open the form of a new item."""
        self._with_choices(
            lambda known: self.ask(item_form(known, self._today()), "new", add_item, then=self._added)
        )

    def change(self) -> None:
        """Open the form of the chosen item."""
        card = self.card.shown
        if card is not None:
            self._with_choices(
                lambda known: self.ask(
                    item_form(known, self._today(), card.item), "change", change_item, card.item.id
                )
            )

    def deliver(self) -> None:
        """Open the form of what came in."""
        self._lines(
            lambda known, item: self.ask(delivery_form(known, self._today(), item), "deliver", buy_stock)
        )

    def carry(self) -> None:
        """Open the form of what goes to another place."""
        self._lines(lambda known, item: self.ask(move_form(known, self._today(), item), "move", move_stock))

    def use(self) -> None:
        """Open the form of what was used up."""
        self._lines(lambda known, item: self.ask(use_form(known, self._today(), item), "use", use_stock))

    def waste(self) -> None:
        """Open the form of what was spoiled or thrown away."""
        self._lines(
            lambda known, item: self.ask(
                use_form(known, self._today(), item, wasted=True), "waste", waste_stock
            )
        )

    def turn(self) -> None:
        """Open the form of boxes that change their state."""
        card = self.card.shown
        if card is not None and card.item.kind is ItemKind.BOX:
            self._with_choices(
                lambda known: self.ask(turn_form(known, self._today(), card.item), "turn", turn_boxes)
            )

    def count(self) -> None:
        """Open the count sheet."""

        def opened(known: Choices) -> None:
            if not self._has_store(known):
                return
            self.side.close_form()
            self.sheet.begin(known, self.rows, self._today())
            self.front.setCurrentWidget(self.sheet)
            self.sheet.come()

        self._with_choices(opened)

    def retire(self) -> None:
        """Keep the chosen item no longer, or again."""
        card = self.card.shown
        if card is not None and card.row.retired:
            self.desk.act(keep_item_again, card.item.id, owner=self)
        elif card is not None:
            self.desk.act(retire_item, card.item.id, self._today(), owner=self)

    def stores(self) -> None:
        """Open the form of the stores."""
        self._with_choices(self._open_stores)

    def print_list(self) -> None:
        """Show the stock list on paper."""
        today = self._today()
        self.paper.show_document(
            "stock-list", lambda session: stock_sheet(session, today), f"stock list {today.isoformat()}"
        )

    def _build(self) -> None:
        self.take_table(RecordTable(ITEMS), FilterBox("Item, kind or place", width=180))
        self.filter.setMinimumWidth(60)
        self.empty = EmptyState(
            "Nothing is kept yet",
            "Add what the farm keeps: sugar, jars, lids, frames, boxes. Then write in a delivery, or count what is there.",
            "Add the first item",
            self.new,
        )
        buttons = [
            self.button("print", "Print", self.print_list, icon="print"),
            self.button("stores", "Stores", self.stores, icon=""),
            self.button("count", "Count", self.count, icon=""),
            self.button("deliver", "Delivery", self.deliver, icon=""),
            self.button("new", "New", self.new),
        ]
        self.lists = Lists(self.table, self.filter, self.empty, buttons)
        self.card = ItemView(
            {
                "Change": self.change, "Move": self.carry, "Use": self.use, "Waste": self.waste, STATE: self.turn,
                "Retire": self.retire,
            }
        )  # fmt: skip
        self.take_card(self.card, back_to=self.lists)
        self.sheet = CountSheet()

    def _list_chords(self) -> None:
        for keys, words, act in (
            ("Ctrl+N", "a new item", self.new), ("Ctrl+E", "change the chosen item", self.change),
            ("Ctrl+D", "what came in: a delivery", self.deliver), ("Ctrl+M", "carry to another place", self.carry),
            ("Ctrl+U", "what was used up", self.use), ("Ctrl+B", "what was wasted", self.waste),
            ("Ctrl+T", "the count sheet", self.count), ("Ctrl+G", "boxes change their state", self.turn),
            ("Ctrl+R", "keep the chosen item no longer, or again", self.retire), ("Ctrl+P", "print the stock list", self.print_list),
        ):  # fmt: skip
            self.command(keys, words, act)
        self.command("Ctrl+Shift+N", "in a form: another line")

    def _connect(self) -> None:
        lists = self.lists
        lists.chips.changed.connect(self._chipped)
        lists.turned.connect(lambda _key: self._turned())
        lists.no_boxes.button.clicked.connect(lambda _on=False: self.new())
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(self._opened)
        lists.boxes.chosen_changed.connect(self._chosen)
        lists.boxes.opened.connect(self._opened)
        self.card.entries.opened.connect(self._follow)
        self.sheet.posted.connect(self._post_count)
        self.sheet.cancelled.connect(self.close_paper)

    def _today(self) -> Any:
        return self.desk.clock.today()

    def _with_choices(self, then: Callable[[Choices], None]) -> None:
        self.desk.read(choices, owner=self, then=then, key="choices")

    def _lines(self, ask: Callable[[Choices, Item | None], None]) -> None:
        """Open a form of several lines, the first for the chosen item."""
        item = self.card.shown.item if self.card.shown is not None else None
        kept = item if item is not None and item.retired_on is None else None

        def opened(known: Choices) -> None:
            if self._has_store(known):
                ask(known, kept)

        self._with_choices(opened)

    def _has_store(self, known: Choices) -> bool:
        """Whether there is a store; the first is asked for where there is none."""
        if any(one.kind is Account.STORE and not one.closed for one in known.places):
            return True
        self._open_stores(known, _NO_STORE)
        return False

    def _open_stores(self, known: Choices, note: str = "") -> None:
        form = store_form(known, self._today(), note)
        self.open_form(form, "store", lambda thing: self._save_store(form, *thing))

    def _save_store(self, form: TypedForm, store_id: int | None, new: NewStore) -> None:
        if store_id is None:
            self.post(form, add_store, new)
        else:
            self.post(form, change_store, store_id, new)

    def _added(self, done: Done) -> None:
        self._wanted = done.result

    def _chipped(self, on: Sequence[Hashable]) -> None:
        self.lists.keep()
        if ("retired" in on) != any(row.retired for row in self.rows):
            self.refresh()

    def _show(self, rows: list[StockRow]) -> None:
        self.rows = rows
        self.lists.show_items(rows, self._today())
        self.lists.keep()
        low = sum(row.is_low for row in rows)
        self.set_subtitle(f"{low:,} low" if low else "")
        wanted, self._wanted = self._wanted, None
        self.choose(wanted)
        self._chosen(self.lists.table().chosen())

    def _show_boxes(self, equipment: Equipment) -> None:
        self.lists.show_boxes(equipment)

    def _turned(self) -> None:
        self.side.close_form()
        table = self.lists.table()
        if not table.chosen():
            table.choose([row.id for row in table.records.rows_shown()[:1]])
        self._chosen(table.chosen())

    def _chosen(self, ids: Sequence[Hashable]) -> None:
        if self.side.form() is not None:
            return
        last = ids[-1] if ids else None
        if isinstance(last, int):
            self._read_card(last, 0)
            return
        medicine = next((row for row in self.rows if row_id(row) == last), None)
        if medicine is not None:
            self.card.show_medicine(medicine)
        else:
            self.card.show_nothing()

    def _read_card(self, item_id: int, page: int) -> None:
        self._page = page
        today = self._today()
        self.desk.read(
            item_card, item_id, today, page, owner=self, key="card",
            then=lambda card: self._fill(card, page),
        )  # fmt: skip

    def _fill(self, card: ItemCard, page: int) -> None:
        self.card.show_item(card, self._today(), page)

    def _opened(self, row: Hashable) -> None:
        if isinstance(row, tuple):
            self.desk.open_place("medicines", row[1])
        else:
            self.change()

    def _follow(self, key: object) -> None:
        """From an entry to what made it, to the next page, or to taking it back."""
        card = self.card.shown
        if card is None or not isinstance(key, tuple):
            return
        kind, number = key
        if kind == "round":
            self.desk.open_place("rounds", RoundKey(number))
        elif kind == "batch":
            self.desk.open_place("batches", number)
        elif kind == "page":
            self._read_card(card.item.id, number)
        else:
            entry = next(row for row in card.entries if row.id == number)
            self.ask(counter_form(entry, card.item, self._today()), "counter", counter_entry, number)

    def _post_count(self, take: StockTake) -> None:
        def done(_done: Done) -> None:
            self.close_paper()

        self.desk.act(count_stock, take, owner=self, then=done, refused=self.sheet.refused)
