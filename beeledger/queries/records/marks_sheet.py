"""The sheet of the quick line's marks, to lie beside the keyboard or in the van."""

from __future__ import annotations

from dataclasses import dataclass

Pair = tuple[str, str]
"""A mark as typed, and what it means."""


@dataclass(frozen=True, slots=True)
class MarksSheet:
    """All marks in the order of their table, then the letters that some of them take."""

    marks: tuple[Pair, ...]
    letters: tuple[tuple[str, tuple[Pair, ...]], ...]
    examples: tuple[Pair, ...] = ()
    """A line as typed, and how it is read back."""
