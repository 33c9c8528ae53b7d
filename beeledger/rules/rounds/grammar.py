"""The grammar of the quick line: for each mark its pattern, and the facts it stands for.

A mark without a figure parts two bare numbers as a blank does (``8q11``). A figure below nought, which no
sheet holds but a cell may, is written with = before it (``b=-3``), so that ``-`` always means none or off.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from beeledger.base.units import to_scale
from beeledger.rules.rounds.entry import (
    Cause,
    CellsDone,
    CellStage,
    FeedKind,
    Heft,
    MiteMethod,
    NextAction,
    Outcome,
    QueenColour,
    QueenState,
    Split,
    SplitQueen,
)
from beeledger.rules.rounds.marks import Mark, Marks
from beeledger.rules.rounds.normal import Habits

Facts = dict[str, Any]
Reader = Callable[[re.Match[str], Habits], Facts]

NUMBER = r"(?:\d{1,9}(?:\.\d{1,4})?|\.\d{1,4})(?!\.?\d)"
SIGNED = rf"=?{NUMBER}|=[-−]{NUMBER}"
NONE = r"[-−](?!\.?\d)"
QUOTED = r'"(?:[^"\\]|\\.)*"'
NAME = rf"\d{{1,12}}|{QUOTED}"
NOT_SAID = "="
"""After an amount: without the usual kind; in place of a count: without the usual count."""
ONE_FRAME_TENTHS = 10

AMOUNTS = {
    "brood": ("brood_tenths", 10),
    "bees": ("bees_tenths", 10),
    "stores_kg": ("stores_g", 1000),
    "stores_frames": ("stores_tenths", 10),
    "fullness": ("super_fullness_tenths", 1),
    "temper": ("temper", 1),
    "feed_left": ("feed_left_ml", 1000),
}
"""Marks that take one figure: the field and its scale."""
WORDS: dict[str, tuple[str, Callable[[str], Any]]] = {
    "outcome": ("outcome", Outcome),
    "queen": ("queen_state", QueenState),
    "colour": ("queen_colour", QueenColour),
    "heft": ("stores_heft", Heft),
}
"""Marks that take one letter for a word."""
FLAGS = {"seen": "queen_seen", "eggs": "eggs", "clearers": "clearers"}
"""Marks that stand alone for yes, and with - for no."""


class Unreadable(Exception):
    """A mark that is known but cannot be read so; the text is the reason for the user, ``mend`` how to type it."""

    def __init__(self, reason: str, mend: str = "") -> None:
        super().__init__(reason)
        self.mend = mend


@dataclass(frozen=True, slots=True)
class Rule:
    """One form of a mark."""

    name: str
    pattern: re.Pattern[str]
    read: Reader


def exact(text: str, scale: int) -> int:
    """A figure as typed, in whole units of 1/``scale``. Unreadable when it is finer than is kept."""
    try:
        return to_scale(text.lstrip("="), scale)
    except ValueError:
        step = "whole numbers" if scale == 1 else f"steps of 1/{scale:,}"
        raise Unreadable(f"{text} is finer than is kept: {step}") from None


def unquoted(text: str) -> str:
    """A name as typed, without its quotation marks."""
    return re.sub(r"\\(.)", r"\1", text[1:-1]) if text.startswith('"') else text


@lru_cache(maxsize=8)
def grammar(marks: Marks) -> tuple[Rule, ...]:
    """All rules for a table of marks; where several match, the longest match is meant."""
    rules = [*_amounts(marks), *_words(marks), *_flags(marks), *_feeds(marks), *_medicines(marks)]
    rules += [_cells(marks), *_supers(marks), _mites(marks), *_dead(marks)]
    rules += [_split(marks), _united(marks), _given(marks), _next(marks)]
    rules.append(_rule("normal", re.escape(marks["normal"].mark), lambda _m, _h: {}))
    rules.append(_rule("bare", NUMBER, lambda _m, _h: {}))
    return tuple(rules)


def _rule(name: str, pattern: str, read: Reader) -> Rule:
    return Rule(name, re.compile(pattern, re.IGNORECASE | re.ASCII), read)


def _letters(mark: Mark) -> str:
    return "|".join(NONE if letter == "-" else re.escape(letter) for letter in mark.words.values())


def _word(mark: Mark, letter: str) -> str:
    return mark.code("-" if letter == "−" else letter)


def _amounts(marks: Marks) -> list[Rule]:
    rules = []
    for name, (field, scale) in AMOUNTS.items():

        def read(match: re.Match[str], _habits: Habits, field: str = field, scale: int = scale) -> Facts:
            return {field: 0 if match[1] in "-−" else exact(match[1], scale)}

        none = "" if name in ("fullness", "temper") else f"|{NONE}"
        rules.append(_rule(name, rf"{re.escape(marks[name].mark)}({SIGNED}{none})", read))
    return rules


def _words(marks: Marks) -> list[Rule]:
    rules = []
    for name, (field, kind) in WORDS.items():
        mark = marks[name]

        def read(
            match: re.Match[str],
            _habits: Habits,
            mark: Mark = mark,
            field: str = field,
            kind: Callable[[str], Any] = kind,
        ) -> Facts:
            return {field: kind(_word(mark, match[1]))}

        rules.append(_rule(name, rf"{re.escape(mark.mark)}({_letters(mark)})", read))
    return rules


def _flags(marks: Marks) -> list[Rule]:
    rules = []
    for name, field in FLAGS.items():

        def read(match: re.Match[str], _habits: Habits, field: str = field) -> Facts:
            if match[2] is not None:
                raise _two_ways(match)
            return {field: match[1] is None}

        rules.append(_rule(name, rf"{re.escape(marks[name].mark)}(?:({NONE})|([-−]{NUMBER}))?", read))
    return rules


def _two_ways(match: re.Match[str]) -> Unreadable:
    """A minus between a yes-or-no mark and a figure belongs to either: neither is guessed."""
    letter, sign, figure = match[0][: match.start(2) - match.start()], match[2][0], match[2][1:]
    return Unreadable(
        f"{match[0]} reads two ways",
        f"{letter} {sign}{figure} is yes, and {figure} supers off; {letter}{sign} {figure} is no, then {figure}",
    )


def _feeds(marks: Marks) -> list[Rule]:
    kinds = marks["feed_kind"]
    supers = re.escape(marks["supers"].mark)
    letters = "|".join(
        rf'{re.escape(letter)}(?![\d"=.]{"|[-+−c]" if letter == supers else ""})'
        for letter in kinds.words.values()
    )

    def read(match: re.Match[str], habits: Habits, field: str, usual: FeedKind | None) -> Facts:
        kind = usual
        if match[2] is not None:
            kind = None if match[2] == NOT_SAID else FeedKind(_word(kinds, match[2]))
        if match[1] is None and match[2] not in (None, NOT_SAID):
            return {"feed_kind": kind}
        if match[1] is not None:
            return {field: exact(match[1], 1000), "feed_kind": kind}
        if field == "feed_g" or habits.feed_ml is None:
            raise Unreadable(f"{match[0]} wants an amount")
        return {field: habits.feed_ml, "feed_kind": kind}

    def by_litre(match: re.Match[str], habits: Habits) -> Facts:
        return read(match, habits, "feed_ml", habits.feed_kind)

    def by_weight(match: re.Match[str], habits: Habits) -> Facts:
        return read(match, habits, "feed_g", habits.solid_kind)

    return [
        _rule(name, rf"{re.escape(marks[name].mark)}({SIGNED})?({letters}|{NOT_SAID})?", reader)
        for name, reader in (("feed_litres", by_litre), ("feed_kg", by_weight))
    ]


def _medicines(marks: Marks) -> list[Rule]:
    signs = marks.signs
    tail = rf"({SIGNED}|{NOT_SAID})?(?:{re.escape(signs.detail)}({QUOTED}|{NONE}))?"
    batch = rf"(?:{re.escape(signs.batch)}({QUOTED}))?"

    def read(match: re.Match[str], habits: Habits, way: str) -> Facts:
        count, name = match[1], match[2]
        if name is None and habits.medicine is None:
            raise Unreadable(f'no usual medicine is set: {marks["medicine_in"].mark}2/"name"')
        usual = habits.medicine_count if count is None else None
        return {
            way: habits.medicine if name is None else _named(name),
            f"{way}_count": usual if count in (None, NOT_SAID) else exact(count, 1),
        }

    def put_in(match: re.Match[str], habits: Habits) -> Facts:
        facts = read(match, habits, "medicine_in")
        return facts | {"medicine_batch": None if match[3] is None else unquoted(match[3])}

    def taken_out(match: re.Match[str], habits: Habits) -> Facts:
        return read(match, habits, "medicine_out")

    mark, out = marks["medicine_in"], marks["medicine_out"]
    return [
        _rule("medicine_in", rf"(?:{re.escape(mark.mark)}|{re.escape(mark.short)}){tail}{batch}", put_in),
        _rule("medicine_out", rf"{re.escape(out.mark)}{tail}", taken_out),
    ]


def _named(text: str) -> str | None:
    return None if text in "-−" else unquoted(text)


def _cells(marks: Marks) -> Rule:
    stages, done = marks["cells"], marks["cells_done"]
    split = re.escape(marks["split"].mark)
    letters = "|".join(
        rf'{letter}(?![\d"])' if letter == split else letter for letter in _letters(stages).split("|")
    )

    def read(match: re.Match[str], _habits: Habits) -> Facts:
        return {
            "cells_stage": None if match[2] is None else CellStage(_word(stages, match[2])),
            "cells_count": None if match[1] is None else exact(match[1], 1),
            "cells_done": None if match[3] is None else CellsDone(_word(done, match[3])),
        }

    detail = rf"(?:{re.escape(marks.signs.detail)}({_letters(done)}))?"
    some = rf"(?=[=.\d{re.escape(marks.signs.detail)}]|{letters})"
    return _rule("cells", rf"{re.escape(stages.mark)}{some}({SIGNED})?({letters})?{detail}", read)


def _supers(marks: Marks) -> list[Rule]:
    mark, plus = re.escape(marks["supers"].mark), re.escape(marks.signs.plus)

    def put_on(match: re.Match[str], _habits: Habits) -> Facts:
        return {"supers_on": 1 if match[1] is None else exact(match[1], 1)}

    def taken_off(match: re.Match[str], _habits: Habits) -> Facts:
        return {"supers_off": 1 if match[1] is None else exact(match[1], 1)}

    return [
        _rule("supers", rf"{mark}?{plus}({SIGNED})?", put_on),
        _rule("supers", rf"{mark}?[-−]({SIGNED})?", taken_off),
    ]


def _mites(marks: Marks) -> Rule:
    mark, slash = marks["mites"], re.escape(marks.signs.detail)
    methods = "|".join(re.escape(mark.letter(method)) for method in MiteMethod)
    extras = "|".join(re.escape(mark.letter(extra)) for extra in ("sample", "days"))
    detail = rf"{slash}(?:(?:{methods})(?:{SIGNED}|{NONE})?|{NONE}|(?:{extras})(?:{SIGNED}))"

    def read(match: re.Match[str], habits: Habits) -> Facts:
        method = habits.mites_method
        if not match[1] and not match[2]:
            raise Unreadable(f"{match[0]} wants a figure: {mark.mark}9")
        bees, days = habits.mite_details(method)
        extra: Facts = {}
        for part in match[2].split(marks.signs.detail)[1:]:
            letter, figure = part[0], part[1:]
            if letter.lower() in (mark.letter("sample"), mark.letter("days")):
                sample = letter.lower() == mark.letter("sample")
                extra["mites_bees" if sample else "mites_days"] = exact(figure, 1)
                continue
            method = None if letter in "-−" else MiteMethod(mark.code(letter))
            bees, days = _sample(method, figure, habits)
        count = None if not match[1] else exact(match[1], 1)
        told = {"mites_count": count, "mites_method": method, "mites_bees": bees, "mites_days": days}
        return told | extra

    return _rule("mites", rf"{re.escape(mark.mark)}(?=[=.\d{slash}])((?:{SIGNED})?)((?:{detail})*)", read)


def _sample(method: MiteMethod | None, figure: str, habits: Habits) -> tuple[int | None, int | None]:
    """Bees and days by a method's own figure: none typed is the usual one, - is none."""
    if not figure:
        return habits.mite_details(method)
    number = None if figure in "-−" else exact(figure, 1)
    return (None, number) if method is MiteMethod.DROP else (number, None)


def _dead(marks: Marks) -> list[Rule]:
    mark = marks["dead"]
    head, letters = re.escape(mark.mark), _letters(mark)

    def dead(match: re.Match[str], _habits: Habits) -> Facts:
        cause = None if match[1] is None else Cause(_word(mark, match[1]))
        return {"outcome": Outcome.DEAD, "cause": cause}

    def cause_alone(match: re.Match[str], _habits: Habits) -> Facts:
        return {"cause": Cause(_word(mark, match[1]))}

    return [
        _rule("dead", rf"{head}(?:{re.escape(marks.signs.detail)}({letters}))?", dead),
        _rule("dead", rf"{head}=({letters})", cause_alone),
    ]


def _split(marks: Marks) -> Rule:
    mark = marks["split"]
    brood, bees = re.escape(marks["brood"].mark), re.escape(marks["bees"].mark)
    takes = rf"(?:{brood}({SIGNED}))?(?:{bees}({SIGNED}))?({_letters(mark)})?"

    def read(match: re.Match[str], _habits: Habits) -> Facts:
        return {
            "split_to": (
                Split(
                    unquoted(match[1]),
                    None if match[2] is None else exact(match[2], 10),
                    None if match[3] is None else exact(match[3], 10),
                    None if match[4] is None else SplitQueen(_word(mark, match[4])),
                ),
            )
        }

    return _rule("split", rf"{re.escape(mark.mark)}({NAME})(?:{re.escape(marks.signs.takes)}{takes})?", read)


def _united(marks: Marks) -> Rule:
    def read(match: re.Match[str], _habits: Habits) -> Facts:
        return {"united_into": unquoted(match[1])}

    return _rule("united", rf"{re.escape(marks['united'].mark)}({NAME})", read)


def _given(marks: Marks) -> Rule:
    def read(match: re.Match[str], _habits: Habits) -> Facts:
        amount = None if match[2] is not None and match[2] in "-−" else ONE_FRAME_TENTHS
        return {
            "brood_given_from": None if match[1] is None else unquoted(match[1]),
            "brood_given_tenths": amount if match[2] is None or amount is None else exact(match[2], 10),
        }

    head, takes = re.escape(marks["given"].mark), re.escape(marks.signs.takes)
    return _rule("given", rf'{head}(?=[\d"{takes}])({NAME})?(?:{takes}({SIGNED}|{NONE}))?', read)


def _next(marks: Marks) -> Rule:
    mark, slash = marks["next"], re.escape(marks.signs.detail)

    def read(match: re.Match[str], _habits: Habits) -> Facts:
        return {
            "next_days": None if not match[1] else exact(match[1], 1),
            "next_action": None if match[2] is None else NextAction(_word(mark, match[2])),
        }

    some = rf"(?=[=.\d]|{slash}[a-z])"
    return _rule("next", rf"{re.escape(mark.mark)}{some}({SIGNED})?(?:{slash}({_letters(mark)}))?", read)
