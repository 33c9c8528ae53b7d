"""The drums and tanks at the right: what each holds, and where the chosen one's honey went."""

from __future__ import annotations

from collections.abc import Sequence

from beeledger.base.dates import short
from beeledger.base.text import counted
from beeledger.base.units import kilograms
from beeledger.queries.honey import LotLine
from beeledger.queries.trace import Onward
from beeledger.ui.places.harvest.table import LOT_COLUMNS, lot_row
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.flow import Flow
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.section import Section
from beeledger.ui.widgets.words import RunWords, Words


class LotsPane(Stack):
    """Lots with honey in them; the buttons act on the chosen ones."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: dict[int, LotLine] = {}
        self.table = RecordTable(LOT_COLUMNS)
        self.table.setObjectName("harvest.lots")
        self.foot = TableFoot(self.table)
        self.held = RunWords(shorten=True)
        self.went = FactRows(middle_at=120)
        self.went_section = Section("Where it went", self.went)
        self.read = Button("Reading")
        self.blend = Button("Run together")
        self.jar = Button("Jar")
        self.out = Button("Send out")
        self.hold = Button("Hold")
        self.bought = Button("Bought in")
        self.off = Words("", role="small", ink="ink3", wrap=True)
        self._lay_out()
        self.table.chosen_changed.connect(lambda _ids: self._arm())

    def show_lots(self, lots: Sequence[LotLine]) -> None:
        """Show other lots."""
        self.lines = {lot.id: lot for lot in lots}
        self.table.set_rows([lot_row(lot) for lot in lots])
        self.foot.say([Run(counted(len(lots), "lot"), "ink", 600)])
        self.foot.set_sums({"left": kilograms(sum(lot.left_g for lot in lots))} if lots else {})
        self._arm()

    def chosen(self) -> list[LotLine]:
        """The chosen lots in the order shown."""
        return [
            self.lines[number]
            for number in self.table.chosen()
            if isinstance(number, int) and number in self.lines
        ]

    def show_went(self, onward: Sequence[Onward]) -> None:
        """Where the chosen lot's honey went; nothing for a lot that has given none."""
        self.went.say([_went(each) for each in onward] or [Fact("Nothing has left it yet", ink="ink2")])
        self.went_section.say(counted(len(onward), "step") if onward else "")

    def _arm(self) -> None:
        lots = self.chosen()
        one, some = "Choose one drum or tank", "Choose the drums to run together"
        for button, ready, reason in (
            (self.read, len(lots) == 1, one), (self.blend, bool(lots), some), (self.jar, len(lots) == 1, one),
            (self.out, len(lots) == 1, one), (self.hold, len(lots) == 1, one),
        ):  # fmt: skip
            if ready:
                button.on()
            else:
                button.off(reason)
        self.off.setText(f"{one}; several run together" if not lots else one if len(lots) > 1 else "")
        self.off.setVisible(len(lots) != 1)
        self.hold.setText("Free" if len(lots) == 1 and lots[0].hold else "Hold")
        held = lots[0].hold if len(lots) == 1 else None
        self.held.say([Run(held, "now", mark=Mark.HELD, small=True)] if held else [])
        self.held.setVisible(bool(held))
        self.went_section.setVisible(len(lots) == 1)

    def _lay_out(self) -> None:
        buttons = {
            "read": self.read, "blend": self.blend, "jar": self.jar, "out": self.out, "hold": self.hold,
            "bought": self.bought,
        }  # fmt: skip
        for name, button in buttons.items():
            button.setObjectName(f"harvest.lots.{name}")
        row = Flow(gap=6)
        row.set_widgets(*buttons.values())
        row.setContentsMargins(look.px(12), look.px(8), look.px(12), look.px(8))
        self.off.setContentsMargins(look.px(16), look.px(6), look.px(16), 0)
        self.add(Band(Words("Drums and tanks", weight=600)))
        self.add(self.table, 1)
        self.add(self.foot)
        self.add(self.held)
        self.add(self.went_section)
        self.add(self.off)
        self.add(row)


def _went(onward: Onward) -> Fact:
    jars = f"{onward.jars:,} jars" if onward.jars else onward.party
    day = short(onward.on) if onward.on else ""
    return Fact(
        onward.name, f"{kilograms(onward.grams)} kg", middle=", ".join(part for part in (jars, day) if part)
    )
