"""The pedigree of a queen as it is drawn in the window and on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from beeledger.base.text import counted
from beeledger.queries.records.queens import QueenName
from beeledger.rules.pedigree import Box


@dataclass(frozen=True, slots=True)
class Pedigree:
    """The boxes of a queen's pedigree, and who the queens in them are."""

    subject: QueenName
    generations: int
    boxes: tuple[Box, ...]
    names: Mapping[int, QueenName]
    both_sides: frozenset[int] = frozenset()
    mated: str = ""
    """How, where and when the subject herself was mated; blank when nobody wrote it down."""
    mated_how: str = ""
    """The same without where and when, for the room of a box."""

    def queens(self, box: Box) -> tuple[QueenName, ...]:
        """Who stands in a box."""
        return tuple(self.names[number] for number in box.queen_ids)

    def is_shared(self, box: Box) -> bool:
        """Whether somebody in the box stands on both sides of the subject."""
        return not self.both_sides.isdisjoint(box.queen_ids)

    @property
    def reach(self) -> str:
        """How far it goes, and what is not in it."""
        return f"{counted(self.generations, 'generation')} drawn; inbreeding is not reckoned"

    @property
    def shared_words(self) -> str:
        """Who stands on both sides; blank when nobody does."""
        names = sorted(self.names[number].words for number in self.both_sides if number in self.names)
        return f"on both sides: {', '.join(names)}" if names else ""


HEADS = ("queen", "parents", "grandparents", "great-grandparents")
"""What the columns are called."""


def box_lines(pedigree: Pedigree, box: Box) -> tuple[str, str, str]:
    """The words of a box with somebody in it: the name, the colour or year beside it, the line below."""
    queens = pedigree.queens(box)
    if len(queens) > 1:
        return ", ".join(one.words for one in queens), "", counted(len(queens), "mother")
    (one,) = queens
    below = f"{one.line} line" if one.line else one.origin or ""
    if one.ended_on is not None:
        below = f"{below}, ended" if below else "ended"
    return one.words, str(one.year or ""), below
