"""The store of the sample: feed, jars, lids and labels bought when they run short, boxes, and counts by the year."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random
from typing import Any

from beeledger.operations.stock import (
    MORE,
    Bought,
    CountLine,
    Delivery,
    StockMove,
    StockTake,
    StockUse,
    Taken,
    Turning,
    buy_stock,
    count_stock,
    move_stock,
    turn_boxes,
    use_stock,
    waste_stock,
)
from beeledger.operations.stock_items import NewItem, NewStore, add_item, add_store
from beeledger.queries.equipment import equipment_counts
from beeledger.queries.stock_balances import balances
from beeledger.rules.rounds.entry import FeedKind
from beeledger.rules.stock_items import HIVES, PLACES, Account, At, BoxKind, BoxState, ItemKind, Unit
from beeledger.sample.farm import Farm
from beeledger.sample.scenario import FOLDER

_ACCEPTED = frozenset({MORE})
_MONDAY = 0
_PLANNED = 420
"""Colonies of the farm as its store is written out."""
_SUPERS = (BoxState.DRAWN, BoxState.WET, BoxState.CLEAN)


@dataclass(slots=True)
class StoreRoom:
    """What the store does on a day of the sample. It has dice of its own, so that the farm beside it stays the same."""

    farm: Farm
    dice: Random
    plan: Mapping[str, Any] = field(default_factory=dict)
    barn: At = HIVES
    items: dict[str, int] = field(default_factory=dict)
    boxes: dict[tuple[BoxKind, BoxState], int] = field(default_factory=dict)

    def open(self, day: date) -> None:
        """The store as it was when the record began."""
        self.plan = tomllib.loads((FOLDER / "stock.toml").read_text("utf-8"))
        do = self.farm.diary.do
        self.barn = At(Account.STORE, do(add_store, NewStore(self.plan["store"], usual=True)))
        do(add_store, NewStore(self.plan["other_store"]))
        for row in self.plan["item"]:
            self.items[row["name"]] = do(add_item, self._item(row))
        for state in _SUPERS:
            self.boxes[BoxKind.SUPER, state] = do(add_item, self._box(BoxKind.SUPER, state))
        self.boxes[BoxKind.BROOD, BoxState.DRAWN] = do(add_item, self._box(BoxKind.BROOD, BoxState.DRAWN))
        colonies, own = self.farm.scenario.colonies, self.plan["boxes"]
        lines = (
            CountLine(self.boxes[BoxKind.SUPER, BoxState.DRAWN], colonies * own["supers_hundredths"] // 100),
            CountLine(
                self.boxes[BoxKind.BROOD, BoxState.DRAWN],
                colonies * (100 + own["spare_brood_hundredths"]) // 100,
            ),
        )
        do(count_stock, StockTake(day, self.barn, lines, "the books begin"))
        self._put_right(day)
        self._buy(day)

    def work(self, day: date) -> None:
        """On Mondays what runs short is ordered in; on their days wet supers are cleaned and all is counted."""
        today = f"{day:%m-%d}"
        last = self.farm.scenario.today - timedelta(days=self.plan["last_order_days"])
        if day.weekday() == _MONDAY and day < last:
            self._buy(day)
        if today == self.plan["cleaned_on"]:
            self._clean(day)
        if today in self.plan["count_days"]:
            self._count(day)
            self._put_right(day)

    def _buy(self, day: date) -> None:
        there = self._there()
        lines = []
        for row in self.plan["item"]:
            if there.get(self.items[row["name"]], 0) < self._scaled(row["below"]):
                packs = -(-self._scaled(row["buy"]) // row["pack"])
                ends = day + timedelta(days=row["keeps_days"]) if "keeps_days" in row else None
                batch = f"{day:%y%m}-{self.dice.randint(100, 999)}"
                price = packs * row["price_pence"]
                lines.append(Bought(self.items[row["name"]], packs * row["pack"], batch, ends, price))
        if lines:
            self.farm.diary.do(
                buy_stock, Delivery(day, self.barn, tuple(lines), supplier=self.plan["supplier"])
            )

    def _clean(self, day: date) -> None:
        wet = self.boxes[BoxKind.SUPER, BoxState.WET]
        many = self._there().get(wet, 0)
        if many:
            clean = self.boxes[BoxKind.SUPER, BoxState.CLEAN]
            self.farm.diary.do(turn_boxes, Turning(day, self.barn, wet, clean, many, "cleaned by the bees"))

    def _count(self, day: date) -> None:
        """Whoever counts finds a little less than the books say: spilt, broken, or never written down."""
        do, dice, there = self.farm.diary.do, self.dice, self._there()
        for row in self.plan["item"]:
            item, held = self.items[row["name"]], there.get(self.items[row["name"]], 0)
            if row.get("spring_use") and day.month == 3 and held:
                used = min(held, self._scaled(row["spring_use"]))
                do(use_stock, StockUse(day, self.barn, (Taken(item, used),), "wired into frames"))
            elif row["kind"] == ItemKind.JAR and held > 100 and dice.random() < 0.5:
                broken = (Taken(item, dice.randint(2, 24)),)
                do(waste_stock, StockUse(day, self.barn, broken, "broken"))
        there = self._there()
        lines = tuple(
            CountLine(item, max(0, there.get(item, 0) * (1000 - dice.choice((0, 0, 0, 2, 5))) // 1000))
            for item in self.items.values()
        )
        do(count_stock, StockTake(day, self.barn, lines, "stocktaking"))

    def _put_right(self, day: date) -> None:
        """Boxes on hives by the books follow what the hives' own stacks say."""
        with self.farm.diary.ledger.read() as session:
            found = equipment_counts(session)
        drawn = {kind: self.boxes[kind, BoxState.DRAWN] for kind in BoxKind}
        for one in found.on_hives:
            if one.difference:
                ways = (HIVES, self.barn) if one.difference > 0 else (self.barn, HIVES)
                lines = (Taken(drawn[one.box], abs(one.difference)),)
                self.farm.diary.do(
                    move_stock, StockMove(day, *ways, lines, "by the hives' own stacks", accepted=_ACCEPTED)
                )

    def _there(self) -> dict[int, int]:
        with self.farm.diary.ledger.read() as session:
            held = [one for one in balances(session, kinds=PLACES) if one.at == self.barn]
        sums: dict[int, int] = {}
        for one in held:
            sums[one.item_id] = sums.get(one.item_id, 0) + one.quantity
        return sums

    def _scaled(self, many: int) -> int:
        return max(1, many * self.farm.scenario.colonies // _PLANNED)

    def _item(self, row: Mapping[str, Any]) -> NewItem:
        return NewItem(
            row["name"], ItemKind(row["kind"]), Unit(row["unit"]), row["pack"], row["pack_word"],
            low=self._scaled(row["below"]) // 2, lead_days=row["lead_days"], supplier=self.plan["supplier"],
            feed_kind=FeedKind(row["feed_kind"]) if "feed_kind" in row else None,
            sugar_hundredths=row.get("sugar_hundredths"), fits_g=row.get("fits_g"),
        )  # fmt: skip

    def _box(self, kind: BoxKind, state: BoxState) -> NewItem:
        own = self.plan["boxes"]
        size = own["frame_size" if kind is BoxKind.SUPER else "brood_frame_size"]
        name = f"{'Supers' if kind is BoxKind.SUPER else 'Brood boxes'}, National, {state}"
        return NewItem(name, ItemKind.BOX, Unit.PIECE, box=kind, frame_size=size, box_state=state)
