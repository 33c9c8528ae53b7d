"""Harvest: supers taken, weighed, extracted into drums, run together; the balance of the season always in view.

Reads: queries.takes.takes, queries.honey.lots, queries.honey.season_balance, queries.trace.forward, queries.rounds.elsewhere, queries.sites.open_sites
Acts: operations.takes.record_take, operations.takes.weigh_take, operations.honey.extract_run, operations.honey.blend, operations.honey.read_lot, operations.honey_lots.sink_honey, operations.honey_lots.open_lot, operations.honey_lots.hold_lot, operations.honey_lots.free_lot
Computes: rules.honey.moisture_from_ri, rules.honey_composition.judge
Prints: nothing
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from dataclasses import replace
from datetime import date
from functools import partial
from typing import Any, ClassVar

from PySide6.QtCore import Qt

from beeledger.base.dates import long
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, listed
from beeledger.base.units import kilograms
from beeledger.operations.act import Done
from beeledger.operations.honey import NewBlend, blend, extract_run, read_lot
from beeledger.operations.honey_lots import free_lot, hold_lot, open_lot, sink_honey
from beeledger.operations.takes import NewTake, NewTakeLine, record_take, weigh_take
from beeledger.queries.honey import LotLine
from beeledger.queries.rounds import elsewhere
from beeledger.queries.sites import open_sites
from beeledger.queries.takes import OpenTake
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.table_place import TablePlace
from beeledger.ui.parts.typed_form import TypedForm
from beeledger.ui.places.harvest.acts import (
    HoldTyped,
    TakeTyped,
    blend_form,
    hold_form,
    open_form,
    read_form,
    sink_form,
    take_form,
)
from beeledger.ui.places.harvest.lots import LotsPane
from beeledger.ui.places.harvest.reading import Harvest, harvest, went_from
from beeledger.ui.places.harvest.scale import ScalePane
from beeledger.ui.places.harvest.table import TAKE_COLUMNS, balance_parts, take_row
from beeledger.ui.places.harvest.turns import extraction_of, weighing_of
from beeledger.ui.widgets.balance_line import BalanceLine
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.words import Words

_NOTHING = "Choose a take at the left to weigh its supers, or weighed takes to extract them. Ctrl+N writes a new take."

_NO_TAKES = (
    "No supers wait. A posted round that takes supers off puts them here; Ctrl+N writes a take of its own."
)


class Here(TablePlace):
    """The honey on its way from the hives to the drums."""

    key: ClassVar[str] = "harvest"
    title: ClassVar[str] = "Harvest"
    reads: ClassVar[frozenset[str]] = frozenset(
        {"take", "take_line", "honey_lot", "honey_transfer", "reading", "site", "farm_setting"}
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.found: Harvest | None = None
        self._wanted: int | None = None
        self._build()
        self._lay_out()
        self._connect()
        self.setFocusProxy(self.takes)

    def refresh(self) -> None:
        """Read what waits, what is stored, and the balance since the first of January."""
        since = date(self.desk.clock.today().year, 1, 1)
        self.desk.read(harvest, since, owner=self, then=self._show, key="harvest")

    def show_what(self, what: object) -> None:
        """A lot by its id."""
        if isinstance(what, int):
            self._wanted = what
            self._choose_wanted()

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Left: supers taken, waiting for the scale or the extractor. Middle: what is typed at the scale, Enter "
            "after each figure. Right: the drums and tanks.</p><p>Every drum gets its share of each take that went into "
            "the run, so a jar leads back to its sites. What is not found again is written as loss: the line at the top "
            "always balances to the gram.</p><p>Full supers and drums are heavier than one person should lift.</p>"
        )

    def leave(self) -> bool:
        """Typed weights are not thrown away unseen."""
        if self.scale.is_begun():
            self.desk.say(
                "Weights are typed and not written yet", "watch", "Write them, or take them out with Delete"
            )
            return False
        return True

    def take(self) -> None:
        """Open the form for supers taken."""

        def offered(sites: Any) -> None:
            self._open(take_form(sites, self.desk.clock.today()), "take", self._resolve)

        self.desk.read(open_sites, owner=self, then=offered, key="sites")

    def read_one(self) -> None:
        """Open the form for a reading of the chosen lot."""
        self._for_one(read_form, "read", read_lot)

    def send_out(self) -> None:
        """Open the form for honey that leaves the chosen lot."""
        self._for_one(sink_form, "out", sink_honey)

    def hold_or_free(self) -> None:
        """Open the form that holds the chosen lot, or frees it."""
        if len(self.lots.chosen()) == 1:
            form = hold_form(self.lots.chosen()[0], self.desk.clock.today())
            self._open(form, "hold", self._hold)

    def run_together(self) -> None:
        """Open the form for a blend of the chosen lots."""
        if self.lots.chosen():
            form = blend_form(self.lots.chosen(), self.desk.clock.today())
            self._open(form, "blend", partial(self._act, blend))

    def buy(self) -> None:
        """Open the form for honey bought, or there before."""
        self._open(open_form(self.desk.clock.today()), "bought", partial(self._act, open_lot))

    def jar(self) -> None:
        """Go to Batches with the chosen lot."""
        if len(self.lots.chosen()) == 1:
            self.desk.open_place("batches", ("jar", self.lots.chosen()[0].id))

    def write_scale(self) -> None:
        """Write what was typed at the scale."""
        chosen, today, turns = self._chosen_takes(), self.desk.clock.today(), self.scale.turns
        if not self.scale.drums:
            self._write(weigh_take, weighing_of(chosen[0].id, today, turns))
            return
        wax, lot_ids = self.scale.wax_g(), [take.lot_id for take in chosen if take.lot_id is not None]
        self._write(extract_run, extraction_of(lot_ids, today, turns, wax or 0, finish=True))

    def _write(self, operation: Callable[..., str], new: object) -> None:
        def done(_done: Done) -> None:
            self.scale.stop(_NOTHING)
            self.takes.setFocus(Qt.FocusReason.OtherFocusReason)

        def refused(refusal: Refused) -> None:
            self.scale.say_refused(refusal.findings[0].sentence())

        self.desk.act(operation, new, owner=self, then=done, refused=refused)

    def _show(self, found: Harvest) -> None:
        self.found = found
        rows = [take_row(take, found.supers.get(take.lot_id or 0)) for take in found.takes]
        self.takes.set_rows(rows)
        waiting = sum(take.lot_id is None for take in found.takes)
        supers = counted(sum(take.supers for take in found.takes), "super")
        words = f"{supers}: {waiting} to weigh, {len(found.takes) - waiting} to extract"
        self.foot.say([Run(words if found.takes else "no supers wait", "ink", 600)])
        self.lots.show_lots(found.stores)
        parts, words = balance_parts(found.balance)
        self.balance.say(parts, words, met=found.balance.difference_g == 0)
        held = sum(found.balance.held_g.get(kind, 0) for kind in ("drum", "tank", "bucket"))
        self.set_subtitle(f"{kilograms(held)} kg in store" if found.stores else "")
        self._choose_wanted()
        if rows and not self.takes.chosen() and self.side.form() is None:
            self.takes.choose([rows[0].id])
        if not self.scale.is_touched():
            self._offer()

    def _choose_wanted(self) -> None:
        if self._wanted is not None and self._wanted in self.lots.lines:
            self.lots.table.choose([self._wanted])
            self._wanted = None

    def _chosen_takes(self) -> list[OpenTake]:
        if self.found is None:
            return []
        chosen = set(self.takes.chosen())
        return [take for take in self.found.takes if take.id in chosen]

    def _takes_chosen(self, _ids: list[Hashable]) -> None:
        if self.scale.is_begun():
            self.desk.say(
                "Weights are typed and not written yet", "watch", "Write them, or take them out with Delete"
            )
        else:
            self.side.close_form()
            self._offer()

    def _offer(self) -> None:
        """What the chosen takes are ready for: the scale, the extractor, or nothing."""
        chosen = self._chosen_takes()
        if len(chosen) == 1 and chosen[0].lot_id is None:
            take = chosen[0]
            title = f"Weigh {counted(take.supers, 'super')} from {take.site}"
            self.scale.weigh(
                title, f"Taken {long(take.on)}. Empty: the boxes of a turn with frames and dry comb."
            )
        elif chosen and all(take.lot_id is not None for take in chosen):
            self._offer_run(chosen)
        else:
            self.scale.stop(_NOTHING if self.found and self.found.takes else _NO_TAKES)

    def _offer_run(self, chosen: list[OpenTake]) -> None:
        assert self.found is not None
        lots = [self.found.supers[take.lot_id] for take in chosen if take.lot_id in self.found.supers]
        sites = listed(list(dict.fromkeys(take.site for take in chosen)))
        note = "Each drum gets its share of every take. What does not come out is written as loss."
        kind = lots[0].honey_kind if len({lot.honey_kind for lot in lots}) == 1 else "blossom"
        self.scale.extract(f"Extract {sites}", note, sum(lot.left_g for lot in lots), kind)

    def _opened(self, _row: object) -> None:
        """Enter on a take goes to the first field at the scale."""
        field = self.scale.name if self.scale.drums else self.scale.tare
        if not field.isHidden():
            field.setFocus(Qt.FocusReason.OtherFocusReason)

    def _lot_chosen(self, _ids: list[Hashable]) -> None:
        chosen = self.lots.chosen()
        if len(chosen) == 1:
            self.desk.read(went_from, chosen[0].id, owner=self, then=self.lots.show_went, key="went")

    def _resolve(self, form: TypedForm, typed: TakeTyped) -> None:
        """Find the hives of a take by their marks, then write it."""

        def found(hives: Mapping[str, Any]) -> None:
            unknown = [mark for mark, _ in typed.hives if mark not in hives]
            if unknown:
                what = f"no hive carries {listed(unknown)}"
                form.show_findings([Finding("take.mark", Grade.REFUSED, what, "", Where(field="hives"))])
                return
            reason = typed.reason or None
            lines = [NewTakeLine(count, hives[mark].colony_id, reason=reason) for mark, count in typed.hives]
            lines += [NewTakeLine(typed.whole, reason=reason)] if typed.whole else []
            new = NewTake(
                typed.site_id, typed.on, tuple(lines), typed.note or None, form.asked, typed.licence
            )
            self.post(form, record_take, new)

        self.desk.read(elsewhere, [mark for mark, _ in typed.hives], owner=self, then=found, key="marks")

    def _hold(self, form: TypedForm, typed: HoldTyped) -> None:
        self.post(form, free_lot if typed.free else hold_lot, typed.lot_id, typed.why)

    def _for_one(
        self, make: Callable[[LotLine, date], TypedForm], name: str, operation: Callable[..., str]
    ) -> None:
        if len(self.lots.chosen()) == 1:
            form = make(self.lots.chosen()[0], self.desk.clock.today())
            self._open(form, name, partial(self._act, operation))

    def _open(self, form: TypedForm, name: str, ready: Callable[[TypedForm, Any], None]) -> None:
        if self.scale.is_begun():
            self.desk.say(
                "Weights are typed and not written yet", "watch", "Write them, or take them out with Delete"
            )
            return
        self.open_form(form, name, lambda thing: ready(form, thing))

    def _act(self, operation: Callable[..., str], form: TypedForm, new: Any) -> None:
        if isinstance(new, NewBlend):
            new = replace(new, accepted=form.asked)
        self.post(form, operation, new)

    def _build(self) -> None:
        self.balance = BalanceLine()
        self.takes = RecordTable(TAKE_COLUMNS)
        self.takes.setObjectName("harvest.takes")
        self.foot = TableFoot()
        self.scale = ScalePane()
        self.scale.stop(_NOTHING)
        self.take_card(self.scale, back_to=self.takes)
        self.lots = LotsPane()

    def _lay_out(self) -> None:
        band = Band(Words("Supers taken", weight=600), right=[self.button("new", "New take", self.take)])
        left = Stack(band, self.takes, self.foot, grows=self.takes)
        panes = Panes(left, self.side, self.lots)
        panes.share(366, 494, 396)
        for at, weight in enumerate((0, 1, 0)):
            panes.setStretchFactor(at, weight)
        self.fill(self.balance, panes)

    def _connect(self) -> None:
        self.takes.chosen_changed.connect(self._takes_chosen)
        self.takes.opened.connect(self._opened)
        self.lots.table.chosen_changed.connect(self._lot_chosen)
        self.lots.bought.clicked.connect(lambda _on=False: self.buy())
        self.scale.written.connect(self.write_scale)
        acts: tuple[tuple[str, str, Callable[[], None], Button | None], ...] = (
            ("Ctrl+N", "supers taken", self.take, None), ("Ctrl+E", "read the chosen lot", self.read_one, self.lots.read),
            ("Ctrl+T", "run the chosen lots together", self.run_together, self.lots.blend),
            ("Ctrl+J", "jar the chosen lot", self.jar, self.lots.jar),
            ("Ctrl+O", "honey that leaves the chosen lot", self.send_out, self.lots.out),
            ("Ctrl+H", "hold the chosen lot, or free it", self.hold_or_free, self.lots.hold),
        )  # fmt: skip
        for chord, words, act, button in acts:
            self.command(chord, words, act, button)
