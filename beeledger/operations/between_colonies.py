"""What passes from hive to hive, written: the same for a round's lines and for an act at the desk."""

from __future__ import annotations

from datetime import date

from beeledger.database.audit import OpenAct
from beeledger.model.colonies import ColonyTransfer
from beeledger.operations.colonies import Boxes, usual_boxes
from beeledger.operations.queens import NewQueen, Reign, enthrone, take_queen_away
from beeledger.queries.farm import farm_settings
from beeledger.rules.rounds.entry import SplitQueen
from beeledger.rules.rounds.readback import SPLIT_QUEENS

_CELLS = (SplitQueen.SEALED_CELL, SplitQueen.OPEN_CELL)


def daughter_boxes(act: OpenAct, kind: str) -> Boxes:
    """The one box in which a new colony begins: as many frames as the farm's nuclei have, or a whole hive's."""
    usual, farm = usual_boxes(act), farm_settings(act.session)
    frames = usual.brood_frames if kind == "full" else farm.nucleus_frames
    return Boxes(usual.hive_type, 1, frames, usual.brood_frame, 0, usual.super_frames, excluder=False)


def queen_along(
    act: OpenAct, giver: int, taker: int, on: date, queen: SplitQueen | None, entry_id: int | None = None
) -> None:
    """The queen of the giver goes along, or a virgin is given; of anything else no queen is on record yet."""
    if queen is SplitQueen.QUEEN:
        take_queen_away(act, giver, taker, on, entry_id)
    elif queen is SplitQueen.VIRGIN:
        virgin = NewQueen(hatch_year=on.year, marked=False, origin="a virgin given")
        enthrone(act, [Reign(taker, virgin, on, entry_id)])


def passed(
    kind: str, on: date, giver: int, taker: int, entry_id: int | None = None,
    brood_tenths: int | None = None, bees_tenths: int | None = None, stores_tenths: int | None = None,
    queen: SplitQueen | None = None, cells: int | None = None,
) -> ColonyTransfer:  # fmt: skip
    """What one hive gave another on a day, as a row."""
    return ColonyTransfer(
        kind=kind, on=on, from_colony_id=giver, to_colony_id=taker, entry_id=entry_id, brood_tenths=brood_tenths,
        bees_tenths=bees_tenths, stores_tenths=stores_tenths, cells=1 if queen in _CELLS else cells,
        queen=SPLIT_QUEENS[queen] if queen else None,
    )  # fmt: skip
