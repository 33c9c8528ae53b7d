"""The walking order of a site: tonight's round becomes the next one's order."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import TypeVar

Hive = TypeVar("Hive", bound=Hashable)


def rewalked(order: Sequence[Hive], walked: Sequence[Hive]) -> list[Hive]:
    """``order`` with the hives of a round in the order they were walked.

    Hives that were not visited keep their places between the others; one that is new in the order comes
    after the hive walked before it, or first.
    """
    known = [hive for hive in walked if hive in set(order)]
    turn = iter(known)
    placed = [next(turn) if hive in set(known) else hive for hive in order]
    before: Hive | None = None
    for hive in walked:
        if hive not in placed:
            placed.insert(0 if before is None else placed.index(before) + 1, hive)
        before = hive
    return placed
