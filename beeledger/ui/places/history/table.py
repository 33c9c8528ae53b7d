"""The table of acts: its columns, and an act as a row."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from beeledger.base.dates import long
from beeledger.queries.acts import ActLine
from beeledger.ui.parts.act_words import act_words
from beeledger.ui.widgets.cells import Align, Cell, Column, Row, Run
from beeledger.ui.widgets.look import Token

COLUMNS = (
    Column("number", "Act", sample="99,999", align=Align.RIGHT, sorts=False, spare=1),
    Column("day", "Day", sample="30 Sep 2026", sorts=False),
    Column("time", "Time", sample="23:59", sorts=False, spare=3),
    Column("who", "Who", sample="office", sorts=False, spare=2),
    Column("sentence", "What was done", slack=True, whole=True, sorts=False),
)
"""Not sorted by any head: the acts come page by page, newest first."""


def act_row(line: ActLine) -> Row:
    """An act as it stands in the table; one taken back is pale and says so."""
    local = line.at.astimezone(ZoneInfo(line.zone))
    back = line.taken_back_by is not None
    ink: Token = "ink3" if back else "ink"
    quiet: Token = "ink3" if back else "ink2"
    sentence = act_words(line.sentence)
    runs = (Run("taken back", "ink2", 500, gap=8), Run(sentence, ink)) if back else ()
    cells = (
        Cell(f"{line.id:,}", quiet),
        Cell(long(line.on), quiet),
        Cell(f"{local.hour:02d}:{local.minute:02d}", quiet),  # strftime takes long over thousands of rows
        Cell(line.who, quiet),
        Cell(f"taken back: {sentence}" if back else sentence, ink, runs=runs, tip=sentence),
    )
    return Row(line.id, cells)
