"""The two tables of the harvest, and the balance of the season as a line."""

from __future__ import annotations

from beeledger.base.dates import short
from beeledger.base.units import kilograms, per_cent
from beeledger.queries.honey import LotLine, SeasonBalance
from beeledger.queries.takes import OpenTake
from beeledger.ui.widgets.balance_line import Part
from beeledger.ui.widgets.cells import BLANK, Align, Cell, Column, Row
from beeledger.ui.widgets.marks import Mark

TAKE_COLUMNS = (
    Column("site", "Site", slack=True, whole=True),
    Column("on", "Taken", sample="30 Sep", spare=1),
    Column("supers", "Supers", sample="99", align=Align.RIGHT, spare=2),
    Column("kg", "Honey", unit="kg", sample="9,999.9", align=Align.RIGHT, spare=3),
    Column("state", "State", sample="to extract", marks=True),
)
LOT_COLUMNS = (
    Column("name", "Drum or tank", slack=True, whole=True),
    Column("left", "Left", unit="kg", sample="9,999.9", align=Align.RIGHT),
    Column("water", "Water", unit="%", sample="99.9", align=Align.RIGHT, spare=1),
    Column("state", "State", sample="to read", marks=True),
)
_HELD_WORDS = {
    "supers": "in supers",
    "drum": "in drums",
    "tank": "in tanks",
    "bucket": "in buckets",
    "jarring": "in jars",
}


def take_row(take: OpenTake, supers: LotLine | None) -> Row:
    """Supers that wait: estimated until they stood on the scale."""
    if supers is not None:
        honey, state = Cell(kilograms(supers.left_g), weight=600), Cell("to extract", "ink2")
    elif take.estimate_g is not None:
        honey = Cell(f"{kilograms(take.estimate_g, 0)} est.", "ink2")
        state = Cell("to weigh", "watch", mark=Mark.TODAY)
    else:
        honey, state = BLANK, Cell("to weigh", "watch", mark=Mark.TODAY)
    name = Cell(
        take.site, weight=600, tip=f"{take.reasons} taken for a written reason" if take.reasons else ""
    )
    cells = (name, Cell(short(take.on), "ink2"), Cell(f"{take.supers:,}"), honey, state)
    grams = supers.left_g if supers is not None else take.estimate_g
    return Row(take.id, cells, (take.site.casefold(), take.on, take.supers, grams, state.text))


def lot_row(lot: LotLine) -> Row:
    """A drum, bucket or tank that holds honey."""
    water = lot.moisture_hundredths
    if lot.hold:
        state = Cell("held", "now", mark=Mark.HELD, tip=lot.hold)
    elif water is None and lot.kind != "tank":
        state = Cell("to read", "watch", mark=Mark.ODD)
    else:
        state = BLANK
    cells = (
        Cell(lot.name, weight=600), Cell(kilograms(lot.left_g)), Cell("" if water is None else per_cent(water)), state,
    )  # fmt: skip
    return Row(
        lot.id, cells, (lot.name.casefold(), lot.left_g, water, state.text), f"{lot.name} {lot.honey_kind}"
    )


def balance_parts(balance: SeasonBalance) -> tuple[list[Part], str]:
    """The season's line: what was there and came in = what is held + what was spent."""
    parts = [
        Part(kilograms(balance.before_g, 3), "held 1 Jan", "kg"),
        Part(kilograms(balance.came_g, 3), "came in", "kg", sign="+"),
    ]
    sign = "="
    for kind, words in _HELD_WORDS.items():
        if grams := balance.held_g.get(kind, 0):
            parts.append(Part(kilograms(grams, 3), words, "kg", sign=sign))
            sign = "+"
    out = {sink: grams for sink, grams in balance.spent_g.items() if sink in ("dispatch", "gift", "rent")}
    lost = sum(balance.spent_g.values()) - sum(out.values())
    for grams, words in ((sum(out.values()), "gone out"), (lost, "wax, foam, loss")):
        if grams:
            parts.append(Part(kilograms(grams, 3), words, "kg", sign=sign))
            sign = "+"
    if balance.difference_g == 0:
        return parts, "balances to the gram"
    return parts, f"{kilograms(abs(balance.difference_g), 3)} kg not accounted for"
