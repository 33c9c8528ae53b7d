"""The words of the trade as this program uses them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WordMeant:
    """One word, other names of the same thing, what it means here, and the places where it is met."""

    word: str
    meaning: str
    where: str
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Glossary:
    """All of them, in order of the alphabet."""

    words: tuple[WordMeant, ...]
