"""The line of the whole site: what was done at every hive alike, a note, numbers that were swapped."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date

from beeledger.base.dates import read_date, short
from beeledger.rules.rounds.entry import Entry, Outcome, fields_filled
from beeledger.rules.rounds.normal import Habits
from beeledger.rules.rounds.readback import read_back
from beeledger.rules.rounds.reading import Token, parse
from beeledger.rules.rounds.sums import OF_ONE_HIVE
from beeledger.ui.places.rounds.state import Head, Swapped

_SWAP = re.compile(r"(?<!\S)([^\s=;]+)=([^\s=;@]+)@(\d{1,2}[./]\d{1,2}(?:[./]\d{2,4})?)")


@dataclass(frozen=True, slots=True)
class SiteReading:
    """What a line of the whole site says."""

    each: Entry
    note: str
    swaps: tuple[Swapped, ...]
    unread: tuple[Token, ...]
    problem: str = ""

    def blocks(self) -> list[tuple[str, str]]:
        """The same in words for under the line."""
        told = [(f"each: {name}", value) for name, value in read_back(self.each)]
        told += [
            ("numbers swapped", f"{one.mark} and {one.other} since {short(one.since)}") for one in self.swaps
        ]
        return told + ([("note of the round", self.note)] if self.note else [])


def read_site_line(text: str, habits: Habits, today: date) -> SiteReading:
    """Read it: the marks of the quick line for each hive, ``416=430@6/5`` for swapped numbers, ``;`` a note."""
    swaps, problem = [], ""
    marks = text.split(";", 1)[0]
    for match in _SWAP.finditer(marks):
        try:
            swaps.append(Swapped(match[1], match[2], read_date(match[3], today)))
        except ValueError as error:
            problem = str(error)
    plain = _SWAP.sub(lambda match: " " * len(match[0]), marks) + text[len(marks) :]
    reading = parse(plain, habits)
    note = reading.entry.note or ""
    each = replace(reading.entry, note=None)
    private = [name for name in fields_filled(each) if name in OF_ONE_HIVE]
    if private:
        problem = "that belongs to one hive, not to the whole site"
    elif each.outcome not in (None, Outcome.LOOKED):
        problem = "that is said of one hive, not of the whole site"
    return SiteReading(each, note, tuple(swaps), reading.problems, problem)


def with_site_line(head: Head, text: str, habits: Habits) -> Head:
    """The head with the whole site's line on it."""
    said = read_site_line(text, habits, head.on)
    return replace(head, each_text=text, each=said.each, note=said.note, swaps=said.swaps)
