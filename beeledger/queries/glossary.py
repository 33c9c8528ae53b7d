"""Looking a word of the trade up. The words are no part of the ledger: they ship with the program."""

from __future__ import annotations

from beeledger.base.resources import table
from beeledger.base.text import folded
from beeledger.queries.records.glossary import Glossary, WordMeant


def glossary() -> Glossary:
    """Every word, in order of the alphabet."""
    kept = table("words", "glossary.toml")["word"]
    return Glossary(
        tuple(
            WordMeant(one["word"], one["meaning"], one["where"], tuple(one.get("also", ()))) for one in kept
        )
    )


def words_like(typed: str) -> list[WordMeant]:
    """Words that begin so, by any of their names, before those that only hold it; all where nothing is typed."""
    wanted = folded(typed)
    every = glossary().words
    if not wanted:
        return list(every)
    begins = [one for one in every if any(name.startswith(wanted) for name in _names(one))]
    holds = [one for one in every if one not in begins and any(wanted in name for name in _names(one))]
    return begins + holds


def _names(one: WordMeant) -> list[str]:
    return [folded(name) for name in (one.word, *one.also)]
