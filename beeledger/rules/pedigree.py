"""Descent of queens: who stands in which box of a pedigree, and what kind of unknown an empty box is.

A queen has a dam and a drone. The drone has no father, so what stands on a queen's drone side is the
mother of the drones her *dam* was mated to: the record of a mating belongs to the dam. Inbreeding is
not reckoned here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

GENERATIONS = 3
"""Parents, grandparents, great-grandparents: what fits on a screen and a sheet."""


class MatingKind(StrEnum):
    """How a queen was mated, as far as it is known."""

    OPEN = "open"
    DRONES = "drones"
    SINGLE = "single"
    POOLED = "pooled"


class Unknown(StrEnum):
    """Why a box is empty, in the words that stand in it."""

    DAM = "dam not recorded"
    MATING = "mating not recorded"
    OPEN = "open mating"
    POOLED = "pooled semen"
    DRONES = "drone mothers not recorded"


_WITHOUT_MOTHERS = {
    MatingKind.OPEN: Unknown.OPEN,
    MatingKind.POOLED: Unknown.POOLED,
    MatingKind.DRONES: Unknown.DRONES,
    MatingKind.SINGLE: Unknown.DRONES,
}


@dataclass(frozen=True, slots=True)
class Descent:
    """What is recorded of one queen: her dam, and how she herself was mated."""

    dam_id: int | None = None
    mating: MatingKind | None = None
    drone_mothers: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """One box. ``generation`` 0 is the subject; ``place`` counts from the top of its column, from 0.

    A box holds one queen, several mothers of drones, or says why it is empty.
    """

    generation: int
    place: int
    queen_ids: tuple[int, ...] = ()
    unknown: Unknown | None = None

    @property
    def drone_side(self) -> bool:
        """Whether it stands for the drones: the lower of each pair of parents."""
        return self.generation > 0 and self.place % 2 == 1

    @property
    def height(self) -> float:
        """Where its middle stands in its column, from 0 at the top to 1."""
        return (self.place + 0.5) / (1 << self.generation)


def pedigree(subject: int, known: Mapping[int, Descent], generations: int = GENERATIONS) -> tuple[Box, ...]:
    """The boxes of ``subject`` and her ancestors, column by column, each column from the top.

    ``known`` holds the descent of queens by their number; who is missing from it has none recorded.
    Above an empty box, and above drones of several mothers, nothing is drawn. ValueError for less
    than no generation.
    """
    if generations < 0:
        raise ValueError("a pedigree has no fewer generations than none")
    column = [Box(0, 0, (subject,))]
    found = list(column)
    for _ in range(generations):
        column = [parent for box in column for parent in _parents(box, known)]
        found += column
    return tuple(found)


def wanted_next(boxes: Sequence[Box]) -> tuple[int, ...]:
    """The single queens in the last column of these boxes, whose parents come next."""
    last = max(box.generation for box in boxes)
    return tuple(box.queen_ids[0] for box in boxes if box.generation == last and len(box.queen_ids) == 1)


def on_both_sides(boxes: Sequence[Box]) -> frozenset[int]:
    """Queens that stand both on the dam's side and on the drone's side of the subject."""
    sides: tuple[set[int], set[int]] = (set(), set())
    for box in boxes:
        if box.generation:
            sides[box.height > 0.5].update(box.queen_ids)
    return frozenset(sides[0] & sides[1])


def descends_from(queen: int, ancestor: int, known: Mapping[int, Descent]) -> bool:
    """Whether ``ancestor`` is ``queen`` or stands anywhere above her, on either side."""
    waiting, seen = [queen], set[int]()
    while waiting:
        one = waiting.pop()
        if one == ancestor:
            return True
        if one not in seen:
            seen.add(one)
            waiting += _above(one, known)
    return False


def _above(queen: int, known: Mapping[int, Descent]) -> list[int]:
    dam = known.get(queen, Descent()).dam_id
    return [] if dam is None else [dam, *known.get(dam, Descent()).drone_mothers]


def _parents(box: Box, known: Mapping[int, Descent]) -> tuple[Box, ...]:
    if len(box.queen_ids) != 1:
        return ()
    dam = known.get(box.queen_ids[0], Descent()).dam_id
    column, top = box.generation + 1, 2 * box.place
    if dam is None:
        return Box(column, top, unknown=Unknown.DAM), Box(column, top + 1, unknown=Unknown.MATING)
    own = known.get(dam, Descent())
    if own.drone_mothers:
        return Box(column, top, (dam,)), Box(column, top + 1, own.drone_mothers)
    why = Unknown.MATING if own.mating is None else _WITHOUT_MOTHERS[own.mating]
    return Box(column, top, (dam,)), Box(column, top + 1, unknown=why)
