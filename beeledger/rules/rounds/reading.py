"""Reading a quick line: the visit to one hive as short marks in any order, into an entry.

The line is the office's own short hand: marks may stand apart or run together, bare numbers fill brood,
bees, stores and temper in that order, and ``;`` begins a note. Nothing is guessed: a mark that is not
understood is named with the reason and what might be meant, and the rest of the line is read.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from beeledger.rules.rounds.entry import Entry, Outcome, filled, over
from beeledger.rules.rounds.grammar import Facts, Rule, Unreadable, exact, grammar
from beeledger.rules.rounds.marks import Marks, english
from beeledger.rules.rounds.normal import Habits
from beeledger.rules.rounds.readback import value_words
from beeledger.rules.rounds.suggest import suggestion

NO_WORDS = "?"
"""The question of a line that was marked for the crew without any words."""
_BARE = {
    "brood": ("brood_tenths", 10),
    "bees": ("bees_tenths", 10),
    "temper": ("temper", 1),
}


@dataclass(frozen=True, slots=True)
class Token:
    """One mark of a line: where it stands in the text and how it was read."""

    start: int
    end: int
    field: str
    """The first field that it fills; "normal" for key n, "" when it was not read."""
    ok: bool
    reads_as: str = ""
    problem: str = ""
    suggestion: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a line says: the entry, and each mark with its place."""

    entry: Entry
    tokens: tuple[Token, ...]

    @property
    def problems(self) -> tuple[Token, ...]:
        """The marks that were not read, in order."""
        return tuple(token for token in self.tokens if not token.ok)

    @property
    def ok(self) -> bool:
        """Whether every mark was read."""
        return not self.problems


@dataclass(slots=True)
class _Line:
    """A line while it is read."""

    text: str
    habits: Habits
    marks: Marks
    facts: Facts = field(default_factory=dict)
    tokens: list[Token] = field(default_factory=list)
    bare: int = 0
    normal: int | None = None
    """Which token is the normal key."""


def parse(text: str, habits: Habits, marks: Marks | None = None) -> Reading:
    """Read a quick line. Never raises: what cannot be read becomes a token with its problem.

    ``habits`` says what marks without details mean; ``write`` under the same habits is the inverse.
    """
    line = _Line(text, habits, marks or english())
    at = 0
    while at < len(text):
        if text[at].isspace():
            at += 1
        elif text[at] in line.marks.signs.text:
            at = _words(line, at)
        else:
            at = _mark(line, at)
    return Reading(_entry(line), tuple(line.tokens))


def longest(text: str, at: int, marks: Marks) -> tuple[Rule, re.Match[str]] | None:
    """The rule that matches most of ``text`` from ``at``; None when no mark begins there."""
    found = [(rule, match) for rule in grammar(marks) if (match := rule.pattern.match(text, at))]
    return max(found, key=lambda pair: pair[1].end(), default=None)


def _mark(line: _Line, at: int) -> int:
    unknown = _unknown_word(line, at)
    found = None if unknown else longest(line.text, at, line.marks)
    if found is None:
        return _not_read(line, at, unknown or _extent(line.text, at, line.marks))
    rule, match = found
    try:
        facts = _bare_facts(line, match[0]) if rule.name == "bare" else rule.read(match, line.habits)
        _take(line, rule, match, {name: value for name, value in facts.items() if value is not None})
    except Unreadable as problem:
        line.tokens.append(
            Token(at, match.end(), "", ok=False, problem=str(problem), suggestion=problem.mend)
        )
    return match.end()


def _take(line: _Line, rule: Rule, match: re.Match[str], facts: Facts) -> None:
    if rule.name == "normal":
        if line.normal is not None:
            raise Unreadable("normal is already said")
        line.normal = len(line.tokens)
        line.tokens.append(_token(match, "normal", f"normal: {value_words(line.habits.normal)}"))
        return
    _merge(line.facts, facts)
    line.tokens.append(_token(match, next(iter(facts), ""), value_words(Entry(**facts))))


def _token(match: re.Match[str], field_name: str, reads_as: str) -> Token:
    return Token(match.start(), match.end(), field_name, ok=True, reads_as=reads_as)


def _merge(facts: Facts, new: Facts) -> None:
    for name, value in new.items():
        if name != "split_to" and facts.get(name, value) != value:
            raise Unreadable(f"already said: {value_words(Entry(**{name: facts[name]}))}")
    for name, value in new.items():
        facts[name] = facts.get(name, ()) + value if name == "split_to" else value


def _bare_facts(line: _Line, text: str) -> Facts:
    order = line.habits.bare
    if line.bare >= len(order):
        raise Unreadable(f"one number too many: bare numbers are {', '.join(order)}")
    name = order[line.bare]
    line.bare += 1
    if name == "stores":
        in_frames = line.habits.stores_in_frames
        return {"stores_tenths": exact(text, 10)} if in_frames else {"stores_g": exact(text, 1000)}
    field_name, scale = _BARE[name]
    return {field_name: exact(text, scale)}


def _unknown_word(line: _Line, at: int) -> int:
    """The end of a whole word that is no run of marks ("brood"), so that it is not read in pieces; else 0."""
    word = re.compile(r"[^\W\d_]{3,}(?=[\s;?!]|$)").match(line.text, at)
    if word is None or (at and not line.text[at - 1].isspace()):
        return 0
    place = at
    while place < word.end():
        found = longest(line.text, place, line.marks)
        if found is None:
            return word.end()
        place = found[1].end()
    return 0


def _extent(text: str, at: int, marks: Marks) -> int:
    """Where a mark that was not understood ends: a letter with its figures, or one run of other signs."""
    stop = re.escape(marks.signs.text)
    run = re.compile(rf"[^\W\d_][\d.,=/+−-]*|[\d.,]+|[^\s\w{stop}]+|.", re.DOTALL).match(text, at)
    assert run is not None  # the last branch takes anything
    return run.end()


def _not_read(line: _Line, at: int, end: int) -> int:
    typed = line.text[at:end]
    hint = suggestion(typed, line.marks, lambda text: _reads(text, line))
    line.tokens.append(Token(at, end, "", ok=False, problem=f"{typed} is no mark", suggestion=hint))
    return end


def _reads(text: str, line: _Line) -> str:
    """How ``text`` would be read on its own; empty when it is no single mark."""
    found = longest(text, 0, line.marks)
    if found is None or found[1].end() != len(text) or found[0].name == "bare":
        return ""
    try:
        facts = found[0].read(found[1], line.habits)
    except Unreadable:
        return ""
    return value_words(Entry(**{name: value for name, value in facts.items() if value is not None}))


def _words(line: _Line, at: int) -> int:
    """The words from ``at`` on: signs, question and note, each to the next such sign after a blank."""
    signs = line.marks.signs
    starts = re.compile(rf"(?:(?<=\s)|(?<![\s\S]))[{re.escape(signs.text)}]")
    begin = at + 1
    following = starts.search(line.text, begin) if begin < len(line.text) else None
    end = following.start() if following else len(line.text)
    words = re.sub(rf"\\([\\{re.escape(signs.text)}])", r"\1", line.text[begin:end])
    name = {signs.disease: "signs", signs.question: "question", signs.note: "note"}[line.text[at]]
    typed: Facts = {name: words}
    said: str | None = getattr(Entry(**typed), name)
    if said is None and name == "question":
        said = _question_of_mark(line, at)
    if said is not None:
        line.facts[name] = f"{line.facts[name]}; {said}" if name in line.facts else said
    shown = len(line.text[:end].rstrip()) if said else at + 1
    line.tokens.append(Token(at, max(shown, at + 1), name, ok=True, reads_as=f"{name} {said or ''}".strip()))
    return end


def _question_of_mark(line: _Line, at: int) -> str:
    """A lone ? right behind a mark asks about that mark."""
    last = line.tokens[-1] if line.tokens else None
    return f"{last.reads_as}?" if last is not None and last.ok and last.end == at else NO_WORDS


def _entry(line: _Line) -> Entry:
    typed = Entry(**line.facts)
    if line.normal is None:
        return typed
    if typed.outcome not in (None, Outcome.LOOKED):
        token = line.tokens[line.normal]
        line.tokens[line.normal] = Token(
            token.start, token.end, "", ok=False, problem="nothing is normal at a hive that was not looked at"
        )
        return typed
    return over(_normal_beside(line.habits.normal, typed), typed)


def _normal_beside(normal: Entry, typed: Entry) -> Entry:
    """The normal without its word on cells when the line has its own."""
    if not any(filled(typed, name) for name in ("cells_stage", "cells_count", "cells_done")):
        return normal
    kept: dict[str, Any] = {"cells_stage": None, "cells_count": None, "cells_done": None}
    return over(Entry(), Entry(**{**{n: getattr(normal, n) for n in normal.__slots__}, **kept}))
