"""The forms of Queens, and what each makes of what was typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial

from beeledger.base.dates import long
from beeledger.base.text import folded
from beeledger.operations.grafts import STEPS, CellCounts, NewGraft
from beeledger.operations.queen_book import NewMating
from beeledger.operations.queens import NewQueen
from beeledger.queries.records.queens import MATING_WORDS, Graft, QueenCard, QueenChoices, QueenLine
from beeledger.rules.pedigree import MatingKind
from beeledger.ui.parts.typed_form import Typed, TypedForm
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field, note_editor

_YES_NO = (("", "not known"), ("yes", "yes"), ("no", "no"))
_WHY = ("replaced", "failing", "drone layer", "superseded", "lost", "bad temper", "sold")
_WHO = "her tag, or hive 12"
_DAY = 150


@dataclass(frozen=True, slots=True)
class Introduction:
    """Into which colony a queen is put, when, and why the one before went."""

    colony_id: int
    on: date
    why: str


@dataclass(frozen=True, slots=True)
class Ending:
    """When a queen ended and of what."""

    on: date
    why: str


def queen_form(choices: QueenChoices, today: date, line: QueenLine | None = None) -> TypedForm:
    """A queen entered or described anew."""
    title = f"Describe queen {line.name}" if line else "New queen"
    note = "An empty field means not known."
    form = TypedForm(title, "Keep" if line else "Enter", partial(_queen, choices, line), today, note)
    form.add_side_by_side(
        {"tag": Field("Tag", width=_DAY, prompt="26-014"), "year": Field("Year she hatched", width=_DAY)}
    )
    form.add_side_by_side(
        {
            "marked": Field("Marked", editor=Choice(_YES_NO)),
            "clipped": Field("Clipped", editor=Choice(_YES_NO)),
        }
    )
    form.add_side_by_side({"line": Field("Line"), "origin": Field("Where from")})
    form.add("dam", Field("Dam", prompt=_WHO))
    form.add("note", Field("Note", editor=note_editor(), message=False))
    if line is not None:
        form.set_values(_queen_values(line))
    else:
        form.set_values({"year": str(today.year)})
    return form


def mating_form(choices: QueenChoices, today: date, card: QueenCard) -> TypedForm:
    """How a queen was mated."""
    note = "The mothers of the drones are known at a mating station or with insemination; else it is open."
    form = TypedForm(
        f"The mating of queen {card.line.name}", "Keep", partial(_mating, choices, card), today, note
    )
    kinds = [(kind.value, words) for kind, words in MATING_WORDS.items()]
    form.add("kind", Field("How", editor=Choice(kinds)))
    form.add_side_by_side({
        "site": Field("At", editor=Choice([("", ""), *((str(number), name) for number, name in choices.sites)])),
        "on": Field("Day", width=_DAY, prompt="12 June"),
    })  # fmt: skip
    form.add("mothers", Field("Mothers of the drones", prompt="23-007, 23-009 or hive 12"))
    form.add("note", Field("Note", editor=note_editor(), message=False))
    if card.mated is not None:
        mated = card.mated
        form.set_values({
            "kind": mated.kind.value, "site": str(mated.site_id or ""), "on": long(mated.on) if mated.on else "",
            "mothers": ", ".join(one.words for one in mated.drone_mothers), "note": mated.note or "",
        })  # fmt: skip
    return form


def introduction_form(choices: QueenChoices, today: date, line: QueenLine) -> TypedForm:
    """A queen put into a colony."""
    note = "The queen that colony has on record ends that day."
    form = TypedForm(
        f"Put queen {line.name} into a hive", "Put in", partial(_introduction, choices), today, note
    )
    form.add_side_by_side({"hive": Field("Hive", width=_DAY), "on": Field("Day", long(today), width=_DAY)})
    form.add(
        "why", Field("Why the one before went", _WHY[0], editor=Choice([(w, w) for w in _WHY], free=True))
    )
    form.caution("Stings can kill those who are allergic: have help and medicine in reach.")
    return form


def end_form(_choices: QueenChoices, today: date, line: QueenLine) -> TypedForm:
    """A queen ended with a cause."""
    note = "Nothing is erased: she stays in the pedigrees of her daughters."
    form = TypedForm(f"End queen {line.name}", "End with this cause", _ending, today, note)
    form.add("on", Field("Day", long(today), width=_DAY))
    form.add("why", Field("Cause", editor=Choice([("", "choose"), *((w, w) for w in _WHY)], free=True)))
    return form


def graft_form(choices: QueenChoices, today: date, line: QueenLine | None = None) -> TypedForm:
    """Larvae grafted from a queen."""
    note = "Larvae of 12 to 24 hours. The days that follow are reckoned from this one."
    form = TypedForm("New graft", "Post", partial(_graft, choices, line), today, note)
    form.add_side_by_side({"on": Field("Day", long(today), width=_DAY), "dam": Field("From", prompt=_WHO)})
    form.add_side_by_side(
        {"grafted": Field("Larvae grafted", width=_DAY), "finisher": Field("Finisher hive", width=_DAY)}
    )
    form.add("note", Field("Note", editor=note_editor(), message=False))
    if line is not None:
        form.set_values({"dam": line.name})
    return form


def counts_form(_choices: QueenChoices, today: date, graft: Graft) -> TypedForm:
    """The cells of a graft counted."""
    note = "Empty: not counted yet. Nought: counted, and none was left."
    form = TypedForm(f"Cells of the graft of {long(graft.on)}", "Keep", _counts, today, note)
    names = ("Grafted", "Cells taken", "Sealed", "Virgins emerged", "Mated and laying")
    for step, name in zip(STEPS, names, strict=True):
        number = getattr(graft, step)
        form.add(step, Field(name, "" if number is None else str(number), width=_DAY))
    return form


def _queen_values(line: QueenLine) -> dict[str, str]:
    yes = {True: "yes", False: "no", None: ""}
    return {
        "tag": line.tag or "", "year": str(line.year or ""), "marked": yes[line.marked], "clipped": yes[line.clipped],
        "line": line.line or "", "origin": line.origin or "", "dam": line.dam, "note": line.note or "",
    }  # fmt: skip


def _queen(choices: QueenChoices, line: QueenLine | None, typed: Typed) -> NewQueen:
    kept = {folded(line.dam): line.dam_id} if line and line.dam_id is not None else {}
    return NewQueen(
        typed.whole("year"), typed.yes("marked"), typed.yes("clipped"), typed.text("tag") or None,
        typed.text("line") or None, typed.text("origin") or None,
        _queen_of(typed, "dam", typed.text("dam"), choices, kept), typed.text("note") or None,
    )  # fmt: skip


def _mating(choices: QueenChoices, card: QueenCard, typed: Typed) -> NewMating:
    known = card.mated.drone_mothers if card.mated else ()
    kept = {folded(one.words): one.queen_id for one in known}
    words = [part.strip() for part in typed.text("mothers").split(",") if part.strip()]
    mothers = [_queen_of(typed, "mothers", word, choices, kept) for word in words]
    site = typed.text("site")
    return NewMating(
        MatingKind(typed.text("kind") or MatingKind.OPEN), int(site) if site.isdecimal() else None, typed.day("on"),
        tuple(number for number in mothers if number is not None), typed.text("note") or None,
    )  # fmt: skip


def _introduction(choices: QueenChoices, typed: Typed) -> Introduction | None:
    on, hive = typed.day("on", needed=True), typed.wanted("hive", "type the hive's number")
    colony = _hive_of(typed, "hive", hive, choices)
    return Introduction(colony, on, typed.text("why") or _WHY[0]) if on and colony is not None else None


def _ending(typed: Typed) -> Ending | None:
    on, why = typed.day("on", needed=True), typed.wanted("why", "an end needs its cause")
    return Ending(on, why) if on and why else None


def _graft(choices: QueenChoices, line: QueenLine | None, typed: Typed) -> NewGraft | None:
    on, who = typed.day("on", needed=True), typed.wanted("dam", "type whose larvae they are")
    kept = {folded(line.name): line.queen_id} if line else {}
    dam = _queen_of(typed, "dam", who, choices, kept)
    finisher = _hive_of(typed, "finisher", typed.text("finisher"), choices)
    grafted = typed.whole("grafted")
    if on is None or dam is None:
        return None
    return NewGraft(on, dam, grafted, finisher, typed.text("note") or None)


def _counts(typed: Typed) -> CellCounts:
    return CellCounts(*(typed.whole(step) for step in STEPS))


def _queen_of(typed: Typed, field: str, word: str, choices: QueenChoices, kept: dict[str, int]) -> int | None:
    """The queen that is meant: by tag, by the hive she heads, or the one that stood there before."""
    plain = folded(word)
    if not plain:
        return None
    found = kept.get(plain) or _by_name(choices.tags, plain)
    if found is None:
        mark = plain.removeprefix("of ").removeprefix("hive ").strip()
        found = _by_name(choices.heads, mark) if mark != plain else None
    if found is None:
        typed.refuse(field, f"no queen is called {word}", "Type her tag, or hive and its number")
    return found


def _hive_of(typed: Typed, field: str, word: str, choices: QueenChoices) -> int | None:
    if not word:
        return None
    found = _by_name(choices.hives, folded(word))
    if found is None:
        typed.refuse(field, f"no living hive carries the number {word}")
    return found


def _by_name(names: Mapping[str, int], plain: str) -> int | None:
    return next((number for name, number in names.items() if folded(name) == plain), None)
