"""Writing an entry as a quick line: the shortest marks that read back as the same entry."""

from __future__ import annotations

import re
from collections.abc import Callable

from beeledger.rules.rounds.entry import Cause, Entry, MiteMethod, Outcome, Split
from beeledger.rules.rounds.grammar import AMOUNTS, FLAGS, NOT_SAID, ONE_FRAME_TENTHS, WORDS
from beeledger.rules.rounds.marks import Marks, english
from beeledger.rules.rounds.normal import Habits
from beeledger.rules.rounds.reading import NO_WORDS

Writer = Callable[[Entry, Habits, Marks], str]


def write(entry: Entry, habits: Habits, marks: Marks | None = None) -> str:
    """The canonical quick line of ``entry``: ``parse(write(entry, habits), habits).entry == entry``.

    Every figure is below a thousand million in its own scale. The normal key and bare numbers are not
    used: the line shows what each figure is.
    """
    table = marks or english()
    return " ".join(text for writer in _WRITERS if (text := writer(entry, habits, table)))


def number(value: int, scale: int) -> str:
    """A figure as the marks take it: 75 by 10 is "7.5"; below nought "=-7.5"."""
    whole, rest = divmod(abs(value), scale)
    tail = f"{rest:0{len(str(scale)) - 1}d}".rstrip("0") if rest else ""
    text = f"{whole}.{tail}" if tail else str(whole)
    return f"=-{text}" if value < 0 else text


def _name(text: str) -> str:
    if re.fullmatch(r"[0-9]{1,12}", text):
        return text
    return _quoted(text)


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _outcome(entry: Entry, _habits: Habits, marks: Marks) -> str:
    dead, cause = marks["dead"], entry.cause
    if entry.outcome is Outcome.DEAD:
        return dead.mark + ("" if cause is None else marks.signs.detail + dead.letter(cause))
    parts = [] if entry.outcome is None else [_letter(marks, "outcome", entry.outcome)]
    parts += [] if cause is None else [f"{dead.mark}={dead.letter(Cause(cause))}"]
    return " ".join(parts)


def _letter(marks: Marks, name: str, code: str) -> str:
    return marks[name].mark + marks[name].letter(code)


def _word(name: str) -> Writer:
    def writer(entry: Entry, _habits: Habits, marks: Marks) -> str:
        value = getattr(entry, WORDS[name][0])
        return "" if value is None else _letter(marks, name, value)

    return writer


def _flag(name: str) -> Writer:
    def writer(entry: Entry, _habits: Habits, marks: Marks) -> str:
        value = getattr(entry, FLAGS[name])
        return "" if value is None else marks[name].mark + ("" if value else marks.signs.none)

    return writer


def _amount(name: str) -> Writer:
    field, scale = AMOUNTS[name]

    def writer(entry: Entry, _habits: Habits, marks: Marks) -> str:
        value = getattr(entry, field)
        return "" if value is None else marks[name].mark + number(value, scale)

    return writer


def _cells(entry: Entry, _habits: Habits, marks: Marks) -> str:
    count = "" if entry.cells_count is None else number(entry.cells_count, 1)
    stage = "" if entry.cells_stage is None else marks["cells"].letter(entry.cells_stage)
    done = entry.cells_done
    detail = "" if done is None else marks.signs.detail + marks["cells_done"].letter(done)
    return f"{marks['cells'].mark}{count}{stage}{detail}" if count or stage or detail else ""


def _supers(entry: Entry, _habits: Habits, marks: Marks) -> str:
    mark, parts = marks["supers"].mark, []
    if entry.supers_on is not None:
        parts.append(f"{mark}{marks.signs.plus}{number(entry.supers_on, 1)}")
    if entry.supers_off is not None:
        parts.append(f"{mark}-{number(entry.supers_off, 1)}")
    return " ".join(parts)


def _feed(entry: Entry, habits: Habits, marks: Marks) -> str:
    kinds, kind = marks["feed_kind"], entry.feed_kind
    letter = NOT_SAID if kind is None else kinds.letter(kind)
    parts = []
    for name, value, usual in (
        ("feed_litres", entry.feed_ml, habits.feed_kind),
        ("feed_kg", entry.feed_g, habits.solid_kind),
    ):
        if value is not None:
            parts.append(f"{marks[name].mark}{number(value, 1000)}{'' if kind is usual else letter}")
    if not parts and kind is not None:
        parts.append(marks["feed_litres"].mark + letter)
    return " ".join(parts)


def _medicine(way: str) -> Writer:
    def writer(entry: Entry, habits: Habits, marks: Marks) -> str:
        name, count = getattr(entry, way), getattr(entry, f"{way}_count")
        batch = entry.medicine_batch if way == "medicine_in" else None
        if name is None and count is None and batch is None:
            return ""
        none, mark = marks.signs.none, marks[way]
        usual = name is not None and name == habits.medicine
        figure = NOT_SAID if count is None else number(count, 1)
        told = "" if usual else marks.signs.detail + (none if name is None else _quoted(name))
        tail = "" if batch is None else marks.signs.batch + _quoted(batch)
        return f"{mark.short or mark.mark}{'' if count == habits.medicine_count else figure}{told}{tail}"

    return writer


def _mites(entry: Entry, habits: Habits, marks: Marks) -> str:
    method, bees, days = entry.mites_method, entry.mites_bees, entry.mites_days
    told = (method, bees, days)
    if entry.mites_count is None and told == (None, None, None):
        return ""
    mark = marks["mites"]
    count = "" if entry.mites_count is None else number(entry.mites_count, 1)
    if count and told == (habits.mites_method, *habits.mite_details(habits.mites_method)):
        return f"{mark.mark}{count}"
    return f"{mark.mark}{count}{_mite_details(entry, marks)}"


def _mite_details(entry: Entry, marks: Marks) -> str:
    """Method with its own figure, then the figure that does not go with the method."""
    mark, signs = marks["mites"], marks.signs
    method, bees, days = entry.mites_method, entry.mites_bees, entry.mites_days
    own, letter, figure = "", signs.none, ""
    if method is not None:
        drop = method is MiteMethod.DROP
        own, letter = "days" if drop else "sample", mark.letter(method)
        value = days if drop else bees
        figure = signs.none if value is None else number(value, 1)
    extras = "".join(
        f"{signs.detail}{mark.letter(name)}{number(value, 1)}"
        for name, value in (("sample", bees), ("days", days))
        if value is not None and name != own
    )
    return f"{signs.detail}{letter}{figure}{extras}"


def _splits(entry: Entry, _habits: Habits, marks: Marks) -> str:
    return " ".join(_split(split, marks) for split in entry.split_to)


def _split(split: Split, marks: Marks) -> str:
    takes = ""
    if split.brood_tenths is not None:
        takes += marks["brood"].mark + number(split.brood_tenths, 10)
    if split.bees_tenths is not None:
        takes += marks["bees"].mark + number(split.bees_tenths, 10)
    if split.queen is not None:
        takes += marks["split"].letter(split.queen)
    return f"{marks['split'].mark}{_name(split.mark)}{marks.signs.takes if takes else ''}{takes}"


def _united(entry: Entry, _habits: Habits, marks: Marks) -> str:
    return "" if entry.united_into is None else marks["united"].mark + _name(entry.united_into)


def _given(entry: Entry, _habits: Habits, marks: Marks) -> str:
    source, amount = entry.brood_given_from, entry.brood_given_tenths
    if source is None and amount is None:
        return ""
    head = marks["given"].mark + ("" if source is None else _name(source))
    if source is not None and amount == ONE_FRAME_TENTHS:
        return head
    return head + marks.signs.takes + (marks.signs.none if amount is None else number(amount, 10))


def _next(entry: Entry, _habits: Habits, marks: Marks) -> str:
    days, action = entry.next_days, entry.next_action
    if days is None and action is None:
        return ""
    detail = "" if action is None else marks.signs.detail + marks["next"].letter(action)
    return marks["next"].mark + ("" if days is None else number(days, 1)) + detail


def _words(name: str, sign: str) -> Writer:
    def writer(entry: Entry, _habits: Habits, marks: Marks) -> str:
        words: str | None = getattr(entry, name)
        start: str = getattr(marks.signs, sign)
        if words is None:
            return ""
        if name == "question" and words == NO_WORDS:
            return start
        safe = words.replace("\\", "\\\\")
        return start + re.sub(rf"(^|\s)([{re.escape(marks.signs.text)}])", r"\1\\\2", safe)

    return writer


_WRITERS: tuple[Writer, ...] = (
    _outcome,
    _word("queen"),
    _flag("seen"),
    _word("colour"),
    _flag("eggs"),
    _amount("brood"),
    _amount("bees"),
    _amount("stores_kg"),
    _amount("stores_frames"),
    _word("heft"),
    _amount("temper"),
    _cells,
    _supers,
    _amount("fullness"),
    _flag("clearers"),
    _feed,
    _amount("feed_left"),
    _medicine("medicine_in"),
    _medicine("medicine_out"),
    _mites,
    _splits,
    _united,
    _given,
    _next,
    _words("signs", "disease"),
    _words("question", "question"),
    _words("note", "note"),
)
