"""The list of batches: its columns, and a batch as a row."""

from __future__ import annotations

from beeledger.queries.records.batch_card import BatchLine
from beeledger.rules.weighing_reference import plan_for
from beeledger.ui.widgets.cells import Align, Cell, Column, Row
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

COLUMNS = (
    Column("mark", "Lot mark", sample="SB26-0143-57"),
    Column("product", "Product", slack=True, whole=True, spare=2),
    Column("jars", "Jars", sample="9,999", align=Align.RIGHT, spare=1),
    Column("state", "State", sample="weigh 999", marks=True),
)


def batch_row(line: BatchLine) -> Row:
    """A batch in the list."""
    mark, words, ink = state_of(line)
    cells = (
        Cell(line.lot_mark, weight=600),
        Cell(line.product, weight=500),
        Cell(f"{line.jars:,}"),
        Cell(words, ink, mark=mark),
    )
    day = line.jarred_on.strftime("%d %B %Y")
    search = f"{line.lot_mark} L {line.lot_mark} {line.product} {line.jar_g} g {day} {words}"
    return Row(line.id, cells, (line.lot_mark, line.product.casefold(), line.jars, words), search)


def state_of(line: BatchLine) -> tuple[Mark | None, str, Token]:
    """What a batch waits for, in a word; what is in order has no mark."""
    short = weights_wanted(line) - line.weighed
    if line.hold:
        return Mark.HELD, "held", "now"
    if line.is_sold_out:
        return None, "sold out", "ink2"
    if not line.printed:
        return Mark.TODAY, "to label", "watch"
    if short > 0:
        return Mark.ODD, f"weigh {short}", "watch"
    return None, "in stock", "ink2"


def weights_wanted(line: BatchLine) -> int:
    """How many jars the weighing check wants: the first sample of the plan, all of a small batch."""
    plan = plan_for(line.jars)
    return min(line.jars, plan.first if plan is not None else line.jars)
