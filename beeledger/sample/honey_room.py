"""The honey room of the sample: supers on the scale, the extractor, drums, tanks, jars, and jars sold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from beeledger.base.dates import MONTHS
from beeledger.operations.dispatches import DispatchLine, NewDispatch, post_dispatch
from beeledger.operations.honey import (
    Filled,
    NewBlend,
    NewExtraction,
    NewReading,
    blend,
    extract_run,
    read_lot,
)
from beeledger.operations.honey_lots import Draw, Spent
from beeledger.operations.labels import LabelCount, NewBatch, jar_batch, print_labels, weigh_jars
from beeledger.operations.takes import NewWeighing, Weighed, weigh_take
from beeledger.queries.honey import LotLine, lots
from beeledger.queries.jars import jar_lots
from beeledger.queries.takes import OpenTake, takes
from beeledger.sample.farm import Farm

HEATHER, BLOSSOM = "ling_heather", "blossom"
_FRIDAY = 4
_JARS_WEIGHED = 50
_PARTLY = 0.3
"""How full a super is when nobody estimated it."""


@dataclass(slots=True)
class HoneyRoom:
    """What the honey room does on a day of the sample."""

    farm: Farm
    drums: int = 0
    sent: int = 0
    plan: Mapping[str, Any] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Take the plan out of the scenario."""
        self.plan = self.farm.scenario.honey
        self.drums = self.plan["drum"]["first_number"]

    def work(self, day: date) -> None:
        """Weigh, on Fridays extract, on their days jar, and sell."""
        if 5 <= day.month <= 10:
            self._weigh(day)
            if day.weekday() == _FRIDAY:
                self._extract(day)
        for jarring in self.plan["jarring"]:
            if f"{day:%m-%d}" == jarring["on"]:
                self._jar(jarring, day)
        for bulk in self.plan["sales"]["bulk"]:
            if f"{day:%m-%d}" == bulk["on"]:
                self._sell_drums(bulk["drums"], day)
        if day.toordinal() % self.plan["sales"]["every_days"] == 0:
            self._sell(day)

    def _weigh(self, day: date) -> None:
        with self.farm.diary.ledger.read() as session:
            waiting = takes(session, unweighed=True)
        for take in reversed(waiting):
            if (day - take.on).days >= self.plan["scale"]["weighed_after_days"]:
                self._put_on_scale(take, day)

    def _put_on_scale(self, take: OpenTake, day: date) -> None:
        full_g, stack = 11_500, self.plan["scale"]["stack_supers"]
        honey = round((take.estimate_g or full_g * take.supers * _PARTLY) * self.farm.dice.gauss(0.97, 0.04))
        turns = -(-take.supers // stack)
        weighed = []
        for turn in range(turns):
            boxes = min(stack, take.supers - turn * stack)
            empty = boxes * self.plan["scale"]["empty_super_g"]
            net = max(500, honey * boxes // take.supers)
            # The scale shows 50 grams.
            weighed.append(Weighed((empty + net) // 50 * 50, empty))
        moor = next((site for site in self.farm.scenario.sites if "heather" in site.flows), None)
        heather = moor is not None and self.farm.site_ids[moor.code] == take.site_id
        kind = HEATHER if heather else BLOSSOM
        self.farm.diary.do(weigh_take, NewWeighing(take.id, day, tuple(weighed), honey_kind=kind))

    def _extract(self, day: date) -> None:
        with self.farm.diary.ledger.read() as session:
            supers = lots(session, ("supers",))
        for kind in (BLOSSOM, HEATHER):
            batch = [lot for lot in supers if lot.honey_kind == kind]
            if sum(lot.left_g for lot in batch) >= self.plan["drum"]["least_g"]:
                self._run(batch, kind, day)

    def _run(self, batch: Sequence[LotLine], kind: str, day: date) -> None:
        held = sum(lot.left_g for lot in batch)
        drum = self.plan["drum"]
        left = held * self.plan["scale"]["keeps_super_hundredths"] // 10_000
        filled = []
        while left >= 5_000:
            net = min(left, drum["full_g"] - self.farm.dice.randint(0, 30) * 100) // 100 * 100
            filled.append(self._drum(net, kind))
            left -= net
        wax = Spent("wax", held * drum["wax_hundredths"] // 10_000, "with the cappings")
        run = NewExtraction(day, tuple(lot.id for lot in batch), tuple(filled), (wax,), honey_kind=kind)
        self.farm.diary.do(extract_run, run)

    def _drum(self, net_g: int, kind: str) -> Filled:
        moisture, tare = self.plan["moisture"], self.plan["drum"]["tare_g"]
        mean = moisture["heather_hundredths" if kind == HEATHER else "mean_hundredths"]
        read = round(self.farm.dice.gauss(mean, moisture["spread_hundredths"]) / 10) * 10
        name = f"drum {self.drums}"
        self.drums += 1
        return Filled(name, net_g + tare, tare, moisture_hundredths=read)

    def _jar(self, jarring: Mapping[str, Any], day: date) -> None:
        with self.farm.diary.ledger.read() as session:
            drums = [lot for lot in lots(session, ("drum",)) if not lot.hold]
        chosen = sorted((lot for lot in drums if lot.honey_kind == jarring["honey"]), key=lambda lot: lot.id)
        # One drum is kept back for whoever asks for honey of the year.
        chosen = chosen[: min(jarring["drums"], len(chosen) - (jarring["honey"] == BLOSSOM))]
        if not chosen:
            return
        do, jar_g = self.farm.diary.do, jarring["jar_g"]
        tank = do(
            blend,
            NewBlend(
                day,
                tuple(Draw(lot.id, lot.left_g) for lot in chosen),
                f"tank, {MONTHS[day.month - 1]} {day.year}",
            ),
        )
        mean = round(sum(lot.moisture_hundredths or 1760 for lot in chosen) / len(chosen) / 10) * 10
        do(read_lot, NewReading(tank, "moisture", day, mean, source="own refractometer"))
        grams = sum(lot.left_g for lot in chosen)
        spilt = 400 + 10 * self.farm.dice.randint(0, 60)
        jars = (grams - spilt) // (jar_g + 1)
        new = NewBatch(
            tank, day, jar_g, jars, jarring["product"], drawn_g=grams,
            spent=(Spent("foam", spilt, "skimmed and left in the tank"),),
        )  # fmt: skip
        self._finish(do(jar_batch, new), jars, jar_g)

    def _finish(self, batch: int, jars: int, jar_g: int) -> None:
        """Weigh some jars, print and stick the labels."""
        dice, do = self.farm.dice, self.farm.diary.do
        weights = [round(10 * dice.gauss(jar_g + 1.4, 0.9)) for _ in range(min(_JARS_WEIGHED, jars))]
        do(weigh_jars, batch, weights)
        spoiled = dice.randint(2, 9)
        do(print_labels, LabelCount(batch, jars + 20, jars, spoiled))

    def _sell(self, day: date) -> None:
        """Cartons of the oldest jars to one of the shops."""
        sales = self.plan["sales"]
        with self.farm.diary.ledger.read() as session:
            stock = [lot for lot in jar_lots(session, with_jars=True) if lot.since < day]
        if not stock:
            return
        oldest = min(stock, key=lambda lot: (lot.since, lot.lot_id))
        least, most = sales["cartons"]
        jars = min(oldest.left, sales["carton_jars"] * self.farm.dice.randint(least, most))
        line = DispatchLine(oldest.lot_id, jars)
        self._send(NewDispatch(day, (line,), self.farm.dice.choice(self._buyers())))

    def _sell_drums(self, many: int, day: date) -> None:
        """Drums to the packer, the newest first; the farm jars what is older, and keeps the half."""
        with self.farm.diary.ledger.read() as session:
            drums = [lot for lot in lots(session, ("drum",)) if not lot.hold and lot.honey_kind == BLOSSOM]
        lines = tuple(DispatchLine(lot.id) for lot in drums[: min(many, len(drums) // 2)])
        if lines:
            self._send(NewDispatch(day, lines, self.plan["sales"]["packer"], note="sold in the drum"))

    def _send(self, new: NewDispatch) -> None:
        self.sent += 1
        self.farm.diary.do(post_dispatch, replace(new, reference=f"D{new.on:%y}-{self.sent:04d}"))

    def _buyers(self) -> list[str]:
        packer = self.plan["sales"]["packer"]
        return [
            row["name"]
            for row in self.farm.scenario.parties
            if "customer" in row["roles"] and row["name"] != packer
        ]
