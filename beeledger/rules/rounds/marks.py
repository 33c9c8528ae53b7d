"""The marks of the quick line, read from a table of words, so that another language can have its own."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from typing import Any

from beeledger.base.resources import table


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark: what is typed, how it is listed on F1, and the column it stands under."""

    name: str
    mark: str
    shows: str
    meaning: str
    head: str
    unit: str = ""
    short: str = ""
    words: dict[str, str] = field(default_factory=dict)
    """Code of a word (``sealed``) to the letter typed for it (``s``)."""

    def letter(self, code: str) -> str:
        """The letter for the word ``code``."""
        return self.words[code]

    def code(self, letter: str) -> str:
        """The word that ``letter`` (in either case) stands for."""
        return next(code for code, typed in self.words.items() if typed == letter.lower())


@dataclass(frozen=True, slots=True)
class Signs:
    """The single signs that join, part and end marks."""

    none: str
    plus: str
    detail: str
    takes: str
    batch: str
    disease: str
    question: str
    note: str

    @property
    def text(self) -> str:
        """The signs that begin words to the end of the line."""
        return self.disease + self.question + self.note


@dataclass(frozen=True, eq=False)
class Marks:
    """The whole table. Compared by identity: it is read once and kept."""

    language: str
    keyboard: tuple[str, ...]
    signs: Signs
    by_name: dict[str, Mark]

    def __getitem__(self, name: str) -> Mark:
        """The mark called ``name``."""
        return self.by_name[name]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All marks in the order of the table."""
        return tuple(self.by_name.values())


def read_marks(data: dict[str, Any]) -> Marks:
    """Marks from a table in the shape of ``resources/words/marks.toml``.

    Raises KeyError or TypeError when a part is missing, ValueError when one mark stands for two words.
    """
    marks = tuple(Mark(**row) for row in data["mark"])
    for mark in marks:
        if len(set(mark.words.values())) != len(mark.words):
            raise ValueError(f"the mark {mark.name} has one letter for two words")
    named = {mark.name: mark for mark in marks}
    return Marks(data["language"], tuple(data["keyboard"]), Signs(**data["signs"]), named)


@cache
def english() -> Marks:
    """The marks that ship with the program."""
    return read_marks(table("words", "marks.toml"))


def marks_list(marks: Marks | None = None) -> list[tuple[str, str]]:
    """What F1 and the printed sheet of marks show: the mark as typed and its meaning, in order."""
    listed = (marks or english()).marks
    return [(mark.shows, mark.meaning) for mark in listed if mark.shows]


def words_list(name: str, marks: Marks | None = None) -> list[tuple[str, str]]:
    """Every letter that the mark ``name`` takes, as typed, with its word: ("z/s", "starvation").

    KeyError when there is no such mark; empty when it takes no letters.
    """
    table_of_marks = marks or english()
    mark = table_of_marks[name]
    joint = table_of_marks.signs.detail if name in ("dead", "mites", "next") else ""
    return [(f"{mark.mark}{joint}{letter}", code.replace("_", " ")) for code, letter in mark.words.items()]


def head_marks(marks: Marks | None = None) -> dict[str, str]:
    """For the second line of the grid's heads: the column's head to its mark and unit ("b frames")."""
    heads: dict[str, str] = {}
    for mark in (marks or english()).marks:
        if mark.head and mark.mark and mark.head not in heads:
            heads[mark.head] = f"{mark.short or mark.mark} {mark.unit}".strip()
    return heads
