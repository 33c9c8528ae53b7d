"""What crews bring home: sheets of notes as plain facts, drawn from a seed, and the hand that types them.

The kinds of facts are those of an ordinary evening; sites, hives and figures are made up here. Three kinds
of sheet: swarm season, after the flow, and an untidy one with splits, a unite, a stranger and swapped numbers.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random
from typing import Any

from beeledger.base.units import frames
from beeledger.rules.rounds.entry import (
    Cause,
    CellsDone,
    CellStage,
    Entry,
    FeedKind,
    MiteMethod,
    Outcome,
    QueenState,
    Split,
    SplitQueen,
)
from beeledger.rules.rounds.marks import english

NORMAL = Entry(outcome=Outcome.LOOKED, queen_state=QueenState.RIGHT, queen_seen=False, eggs=True)
SWARM = replace(NORMAL, cells_stage=CellStage.NONE)
STRIPS = "Fen strips"


@dataclass(frozen=True, slots=True)
class Noted:
    """One hive of a sheet: its number, the facts as an entry, and whether the sheet says "normal"."""

    mark: str
    entry: Entry
    normal: Entry | None = None


def spring_notes(seed: int, hives: int = 25) -> list[Noted]:
    """Swarm season: frames, temper, queen cells, supers added, now and then a dead one."""
    dice = Random(seed)
    return [Noted(mark, _spring_entry(dice), SWARM) for mark in _marks(dice, 500, hives)]


def late_notes(seed: int, hives: int = 32) -> list[Noted]:
    """After the flow: supers off, mites by drop, strips in, feed."""
    dice = Random(seed)
    return [Noted(mark, _late_entry(dice), NORMAL) for mark in _marks(dice, 700, hives)]


def untidy_notes(seed: int, hives: int = 40) -> list[Noted]:
    """Mostly normal, one super; between them all that happens to a crew."""
    dice = Random(seed)
    marks = _marks(dice, 800, hives)
    notes = [Noted(mark, _plain_visit(dice), SWARM) for mark in marks]
    for place, mark in ((15, "990"), (31, "991")):
        notes[place] = Noted(marks[place], _split(mark))
    notes[12] = Noted(
        marks[12], Entry(queen_state=QueenState.QUEENLESS, brood_given_from=marks[10], brood_given_tenths=10)
    )
    notes[17] = Noted(marks[17], Entry(queen_state=QueenState.DRONE_LAYER, united_into=marks[15]))
    notes[3] = Noted(marks[3], Entry(outcome=Outcome.NOT_FOUND))
    notes[27] = Noted(marks[27], Entry(outcome=Outcome.DEAD, cause=Cause.DWINDLED))
    notes[35] = Noted(marks[35], Entry(brood_tenths=50, bees_tenths=60, signs="chalky larvae, few"))
    notes[39] = Noted(marks[39], Entry(brood_tenths=80, question="stores smudged: 2 or 7"))
    return notes


def _marks(dice: Random, first: int, hives: int) -> list[str]:
    number, marks = first, []
    for _ in range(hives):
        number += dice.randint(1, 3)
        marks.append(str(number))
    return marks


def _figures(dice: Random) -> dict[str, Any]:
    brood = dice.randint(3, 10)
    return {
        "brood_tenths": brood * 10,
        "bees_tenths": (brood + dice.randint(1, 3)) * 10,
        "stores_tenths": dice.choice((5, 10, 10, 20, 20, 30, 40)),
        "temper": dice.choice((1, 1, 2, 2, 2, 3, 4)),
        "queen_seen": dice.random() < 0.45,
    }


def _spring_entry(dice: Random) -> Entry:
    chance = dice.random()
    if chance < 0.12:
        return Entry(
            outcome=Outcome.DEAD, cause=dice.choice((Cause.STARVATION, Cause.QUEEN_FAILURE, Cause.WASPS))
        )
    if chance < 0.16:
        return Entry(outcome=Outcome.NOT_OPENED, note="bad tempered, rain")
    entry = replace(SWARM, **_figures(dice), supers_on=1 if dice.random() < 0.45 else None)
    kind = dice.random()
    if kind < 0.18:
        return replace(entry, cells_stage=CellStage.CUPS)
    if kind < 0.3:
        done = dice.choice((CellsDone.LEFT_ONE, CellsDone.KNOCKED_DOWN))
        stage = dice.choice((CellStage.OPEN, CellStage.SEALED))
        return replace(entry, cells_stage=stage, cells_count=dice.randint(1, 9), cells_done=done)
    if kind < 0.36:
        return replace(entry, eggs=False, queen_state=None, cells_stage=CellStage.CUPS)
    return replace(entry, note="woodpecker at the side") if kind > 0.94 else entry


def _late_entry(dice: Random) -> Entry:
    if dice.random() < 0.12:
        return Entry(outcome=Outcome.NOT_OPENED, note="strap rusted shut")
    entry = replace(NORMAL, **_figures(dice), supers_off=dice.choice((None, None, 1, 1, 2)))
    if dice.random() < 0.06:
        entry = replace(entry, queen_seen=False, queen_state=None, eggs=False)
    if dice.random() < 0.5:
        entry = replace(entry, mites_count=dice.randint(3, 60), mites_method=MiteMethod.DROP, mites_days=7)
    if dice.random() < 0.55:
        entry = replace(entry, medicine_in=STRIPS, medicine_in_count=2)
    if dice.random() < 0.5:
        entry = replace(entry, feed_ml=dice.choice((3, 5, 7)) * 1000, feed_kind=FeedKind.SYRUP_2_1)
    return replace(entry, note="floor is worn") if dice.random() < 0.05 else entry


def _plain_visit(dice: Random) -> Entry:
    entry = replace(SWARM, supers_on=1 if dice.random() < 0.65 else None)
    return replace(entry, queen_seen=True) if dice.random() < 0.2 else entry


def _split(mark: str) -> Entry:
    return Entry(
        queen_state=QueenState.CELLS, cells_stage=CellStage.SEALED, cells_count=4,
        split_to=(Split(mark, 30, 40, SplitQueen.SEALED_CELL),),
    )  # fmt: skip


def quick_line(noted: Noted) -> str:
    """The line as a practised hand types it: one letter between two figures parts them as a blank does."""
    entry = noted.entry
    special = _special(entry)
    if special is not None:
        return special + _tail(entry)
    normal = noted.normal is not None and entry.eggs is True and entry.queen_state is noted.normal.queen_state
    letters = (["n"] if normal else []) + (["q"] if entry.queen_seen else [])
    letters += ["e"] if entry.eggs and not normal else []
    none = (
        "" if normal else ("q-" if entry.queen_seen is False else "") + ("e-" if entry.eggs is False else "")
    )
    figures = _four(entry)
    parts = [figure + (letters.pop(0) if letters else " ") for figure in figures[:-1]] + figures[-1:]
    return "".join([*parts, *letters, none, *_cells(entry), *_work(entry), _tail(entry)])


def _special(entry: Entry) -> str | None:
    if entry.outcome is Outcome.DEAD and entry.cause:
        return f"z/{english()['dead'].letter(entry.cause)}"
    return {Outcome.NOT_OPENED: "ou", Outcome.NOT_FOUND: "of", Outcome.STRANGER: "os"}.get(
        entry.outcome or Outcome.LOOKED
    )


def figure(tenths: int) -> str:
    """Frames as they are typed: half a frame is .5."""
    return frames(tenths).removeprefix("0") or "0"


def _four(entry: Entry) -> list[str]:
    kept = [entry.brood_tenths, entry.bees_tenths, entry.stores_tenths]
    known = [figure(value) for value in kept if value is not None]
    return [*known, *([str(entry.temper)] if entry.temper is not None else [])]


def _cells(entry: Entry) -> list[str]:
    if entry.cells_stage in (None, CellStage.NONE):
        return []
    marks = english()
    count = "" if entry.cells_count is None else str(entry.cells_count)
    done = f"/{marks['cells_done'].letter(entry.cells_done)}" if entry.cells_done else ""
    return [f"c{count}{marks['cells'].letter(entry.cells_stage)}{done}"]


def supers(entry: Entry) -> str:
    """Supers on and off in the fewest keys."""
    on = "" if not entry.supers_on else "+" + ("" if entry.supers_on == 1 else str(entry.supers_on))
    off = "" if not entry.supers_off else "-" + ("" if entry.supers_off == 1 else str(entry.supers_off))
    return on + off


def _work(entry: Entry) -> list[str]:
    parts = [supers(entry)]
    parts += (
        [f"q/{english()['queen'].letter(entry.queen_state)}"]
        if _odd_queen(entry) and entry.queen_state
        else []
    )
    parts += (
        [f"x{'' if entry.medicine_in_count == 2 else entry.medicine_in_count}"] if entry.medicine_in else []
    )
    parts += [f"m{entry.mites_count}"] if entry.mites_count is not None else []
    parts += [f"l{entry.feed_ml // 1000}"] if entry.feed_ml else []
    parts += [f"p{split.mark}:b3f4s" for split in entry.split_to]
    parts += [f"j{entry.united_into}"] if entry.united_into else []
    parts += [f"g{entry.brood_given_from}"] if entry.brood_given_from else []
    return parts


def _odd_queen(entry: Entry) -> bool:
    return entry.queen_state not in (None, QueenState.RIGHT)


def _tail(entry: Entry) -> str:
    return "".join(
        sign + words
        for sign, words in (("!", entry.signs), ("?", entry.question), (";", entry.note))
        if words
    )


def note_words(entry: Entry) -> int:
    """How many keys are the words of free notes, which the budget leaves out; their sign is counted."""
    return sum(len(words) for words in (entry.signs, entry.question, entry.note) if words)
