"""Hive numbers as a crew types them on a telephone: "12-18, 21, 40x".

The form is our own:

- numbers or marks, parted by commas, semicolons, full stops with a blank, blanks, lines or "and";
- ``12-18`` (also ``12 to 18``, ``P12-P18``, ``P12-18``) means all of that stretch. Where the hives that
  stand at the site are known, those of the stretch that do not stand there are left out and named;
- an ``x`` after a number or a stretch, or "not" or "except" before it, means left behind: ``12-18 15x``
  is 12, 13, 14, 16, 17 and 18. What is left behind is listed, so that the sheet agrees with the field;
- a mark of the site is taken as it stands there, whatever its form (a pallet place "P3-2");
- a mark that is not known stays in and is asked about, for the record may be the one that is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.text import counted, listed

_PARTS = re.compile(r"[,;\s&+]+|\.(?=\s|$)")
_TO = re.compile(r"(?<=[0-9])\s*(?:[-–—−]|\bto\b|\.\.)\s*(?=[0-9A-Za-z])", re.IGNORECASE)
_BLANK_X = re.compile(r"(?<=[0-9])\s+X\b")
_STRETCH = re.compile(r"([A-Z]*)(\d+)-([A-Z]*)(\d+)(X?)")
_MARK = re.compile(r"([A-Z]*\d+[A-WYZ]?|[A-WYZ]{1,2})(X?)")
_NOT = frozenset({"NOT", "EXCEPT", "BUT", "WITHOUT"})
_FILL = frozenset({"AND", "HIVE", "HIVES", "NO", "NOS", "NUMBERS", ""})


@dataclass(frozen=True, slots=True)
class HiveList:
    """Marks to act on and marks left behind, each in the order typed, and what was odd."""

    marks: tuple[str, ...]
    left_behind: tuple[str, ...]
    findings: tuple[Finding, ...]


def stretches(marks: Iterable[str]) -> str:
    """Marks in their order as a person writes them, three or more numbers in a row joined: "12–14, 21"."""
    parts: list[list[str]] = []
    for mark in marks:
        last = parts[-1][-1] if parts else ""
        if last.isdecimal() and mark.isdecimal() and len(last) <= len(mark) and int(mark) == int(last) + 1:
            parts[-1].append(mark)
        else:
            parts.append([mark])
    return ", ".join(f"{part[0]}–{part[-1]}" if len(part) > 2 else ", ".join(part) for part in parts)


def read_hive_list(text: str, standing: Collection[str] | None = None) -> HiveList:
    """Read a typed list of hives; ``standing`` are the marks at the site, None when not known.

    Never raises: what cannot be read is a refused finding that names the word.
    """
    reader = _Reader({mark.upper(): mark for mark in standing} if standing is not None else None)
    joined = _BLANK_X.sub("X", _TO.sub("-", text.upper().strip()))
    behind = False
    for word in _PARTS.split(joined):
        if word in _NOT:
            behind = True
        elif word not in _FILL:
            reader.read(word, behind=behind)
            behind = False
    return reader.result()


class _Reader:
    """Collects the words of one list."""

    def __init__(self, standing: dict[str, str] | None) -> None:
        self.standing = standing
        self.wanted: dict[str, None] = {}
        self.behind: dict[str, None] = {}
        self.findings: list[Finding] = []

    def read(self, word: str, *, behind: bool) -> None:
        match = None
        if self.standing is not None and word in self.standing:
            marks = [self.standing[word]]
        elif match := _STRETCH.fullmatch(word):
            marks = list(self._stretch(match, word))
        elif match := _MARK.fullmatch(word):
            marks = [self._known(match[1])]
        else:
            self._say(
                "list.word", Grade.REFUSED, f"{word.lower()} is no hive number", "Write 12, 12-18 or 40x"
            )
            return
        if behind or (match is not None and match[match.lastindex or 0] == "X"):
            self.behind.update(dict.fromkeys(marks))
            return
        if again := [mark for mark in marks if mark in self.wanted]:
            self._say("list.twice", Grade.NOTED, f"{listed(again)} named twice, taken once", "")
        self.wanted.update(dict.fromkeys(marks))

    def result(self) -> HiveList:
        marks = tuple(mark for mark in self.wanted if mark not in self.behind)
        return HiveList(marks, tuple(self.behind), tuple(self.findings))

    def _stretch(self, match: re.Match[str], word: str) -> Iterator[str]:
        head, first, second_head, last, _ = match.groups()
        start, end = int(first), int(last)
        longest: int = table("rules", "moves.toml")["list"]["longest_range"]
        if second_head not in ("", head):
            self._say("list.stretch", Grade.REFUSED, f"{word} begins and ends with other letters", "")
        elif end < start:
            meant = first[: -len(last)] + last
            mend = f"Write {head}{first}-{meant} if that is meant"
            mend = mend if int(meant) > start else "Write the smaller number first"
            self._say("list.stretch", Grade.REFUSED, f"{word} runs backwards", mend)
        elif end - start >= longest:
            what = f"{word} would be {counted(end - start + 1, 'hive')}"
            self._say("list.stretch", Grade.REFUSED, what, f"A stretch is {longest} at most")
        else:
            width = len(first) if first.startswith("0") else 0
            yield from self._there([f"{head}{number:0{width}d}" for number in range(start, end + 1)], word)

    def _there(self, marks: list[str], word: str) -> list[str]:
        if self.standing is None:
            return marks
        missing = [mark for mark in marks if mark not in self.standing]
        if len(missing) == len(marks):
            self._say(
                "list.nobody", Grade.AGAINST, f"None of {word} stands at the site", "Look at the numbers"
            )
        elif missing:
            words = listed(missing) if len(missing) <= 6 else counted(len(missing), "hive")
            self._say("list.gap", Grade.NOTED, f"Of {word}, {words} not at the site and left out", "")
        return [self.standing[mark] for mark in marks if mark in self.standing]

    def _known(self, mark: str) -> str:
        if self.standing is None:
            return mark
        if mark not in self.standing:
            what = f"The record has no hive {mark} at the site"
            self._say("list.unknown", Grade.AGAINST, what, "Look at the number, or correct where it stands")
        return self.standing.get(mark, mark)

    def _say(self, code: str, grade: Grade, what: str, mend: str) -> None:
        self.findings.append(Finding(code, grade, what, mend, Where(field="hives")))
