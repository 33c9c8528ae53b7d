"""What might have been meant by a mark that was not understood."""

from __future__ import annotations

from collections.abc import Callable
from difflib import get_close_matches

from beeledger.base.text import folded
from beeledger.rules.rounds.marks import Marks

_HELP = "F1 lists them all"
_SHORTEST_WORD = 3


def suggestion(typed: str, marks: Marks, reads: Callable[[str], str]) -> str:
    """For y3 "t3 is temper 3 of 5", by the key beside it; for a word its mark; else where the list is.

    ``reads`` says how a text would be read on its own, empty when it is no mark.
    """
    if typed.isalpha() and len(typed) >= _SHORTEST_WORD:
        return _by_word(typed, marks)
    for key in _beside(typed[0].lower(), marks.keyboard):
        meant = key + typed[1:]
        if words := reads(meant):
            return f"{meant} is {words}"
    return _with_figure(typed, reads) or _HELP


def _with_figure(typed: str, reads: Callable[[str], str]) -> str:
    """A mark typed without its figure."""
    words = reads(f"{typed}2")
    return f"a figure is missing: {typed}2 is {words}" if words else ""


def _by_word(typed: str, marks: Marks) -> str:
    listed = [mark for mark in marks.marks if mark.mark and mark.shows]
    names = {word: mark for mark in reversed(listed) for word in _names(f"{mark.head} {mark.meaning}")}
    close = get_close_matches(folded(typed), list(names), n=1)
    return f"{names[close[0]].shows}: {names[close[0]].meaning}" if close else _HELP


def _names(meaning: str) -> list[str]:
    words = folded(meaning).replace(",", " ").replace(":", " ").split()
    return [word for word in words if len(word) >= _SHORTEST_WORD]


def _beside(key: str, keyboard: tuple[str, ...]) -> list[str]:
    """The keys around ``key``, those of its own row first."""
    for number, row in enumerate(keyboard):
        place = row.find(key)
        if place < 0 or not key:
            continue
        near = list(row[max(place - 1, 0) : place] + row[place + 1 : place + 2])
        for other in (number - 1, number + 1):
            if 0 <= other < len(keyboard):
                near += keyboard[other][max(place - 1, 0) : place + 2]
        return near
    return []
