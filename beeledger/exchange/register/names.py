"""Names of sites: as they are shown, and which site a hive row means."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from beeledger.base.resources import table
from beeledger.base.text import folded, tidy
from beeledger.exchange.tables import Cell

_SMALL = {"of", "the", "and", "on", "in", "at", "by", "y", "yr", "le", "de"}


def site_key(text: str) -> str:
    """For comparing names: without case, accents, blanks at the ends and punctuation."""
    return " ".join(re.findall(r"[^\W_]+", folded(text).replace("'", "").replace("’", "")))


def display_name(text: str) -> str:
    """A name as it is shown: SHOUTED or all in small letters becomes Title Case."""
    name = tidy(text)
    if name not in (name.upper(), name.lower()) or not re.search(r"[^\W\d_]{2}", name):
        return name
    words = name.lower().split(" ")
    return " ".join(word if place and word in _SMALL else _capital(word) for place, word in enumerate(words))


def _capital(word: str) -> str:
    return "-".join(part[:1].upper() + part[1:] for part in word.split("-"))


@dataclass(frozen=True, slots=True)
class Meant:
    """The site a name means; ``near`` when it is not written so on the list."""

    name: str
    near: bool = False


class SiteNames:
    """The names of the site list, and the ways hive rows write them."""

    def __init__(self, names: Iterable[tuple[str, str]]) -> None:
        """``names`` are pairs of name and code ("" when the list gives none)."""
        pairs = list(names)
        self._by_key = {site_key(name): name for name, _ in pairs}
        self._by_code = {site_key(code): name for name, code in pairs if site_key(code)}

    def __bool__(self) -> bool:
        return bool(self._by_key)

    def exact(self, value: Cell) -> str | None:
        """The listed name that is written here but for case, blanks and punctuation; or its code."""
        key = site_key(_words(value))
        return self._by_key.get(key) or self._by_code.get(key)

    def meant(self, value: Cell) -> Meant | None:
        """The site meant: exact, else the only one a few letters or a cut-off word away."""
        if found := self.exact(value):
            return Meant(found)
        key = site_key(_words(value))
        limits = table("rules", "register.toml")["names"]
        near: list[str] = []
        if len(key) >= limits["near_least_length"]:
            near = [known for known in self._by_key if letters_apart(key, known) <= limits["near_letters"]]
        if not near and len(key) >= limits["cut_off_least_length"]:
            near = [known for known in self._by_key if _is_cut_off(key, known)]
        return Meant(self._by_key[near[0]], near=True) if len(near) == 1 else None

    def nearest(self, value: Cell) -> str | None:
        """The listed name that is least unlike, for a suggestion; None when none is like it."""
        key = site_key(_words(value))
        best = min(self._by_key, key=lambda known: letters_apart(key, known), default=None)
        if best is None or letters_apart(key, best) > max(len(best), len(key)) // 2:
            return None
        return self._by_key[best]


def _words(value: Cell) -> str:
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    return "" if value is None else str(value)


def _is_cut_off(short: str, full: str) -> bool:
    parts, whole = short.split(), full.split()
    if len(parts) > len(whole):
        return False
    return all(known.startswith(part) for part, known in zip(parts, whole, strict=False))


def letters_apart(first: str, second: str) -> int:
    """Letters to change, add, drop or swap with a neighbour to make one of the other.

    The optimal string alignment distance (Damerau, *A technique for computer detection and
    correction of spelling errors*, CACM 7 (1964), with Levenshtein's insertions and deletions).
    """
    before: list[int] = []
    last = list(range(len(second) + 1))
    for i, letter in enumerate(first, start=1):
        line = [i]
        for j, other in enumerate(second, start=1):
            cost = min(last[j] + 1, line[j - 1] + 1, last[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == second[j - 2] and first[i - 2] == other:
                cost = min(cost, before[j - 2] + 1)
            line.append(cost)
        before, last = last, line
    return last[-1]
