"""A round while it is typed: its head and its lines as values that a draft can hold and bring back whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import date
from typing import Any

from beeledger.rules.rounds.entry import EMPTY, Entry, FeedKind, MiteMethod, blank
from beeledger.rules.rounds.normal import Habits, Normal, habits_for
from beeledger.rules.rounds.plain import as_plain, from_plain
from beeledger.rules.rounds.reading import Token, parse


@dataclass(frozen=True, slots=True)
class Swapped:
    """Two hives whose numbers were swapped since a day."""

    mark: str
    other: str
    since: date


@dataclass(frozen=True, slots=True)
class Head:
    """What is said once for the round. Minutes count from local midnight; None is not said."""

    uid: str
    site_id: int
    site: str
    on: date
    start_minute: int | None = None
    end_minute: int | None = None
    crew: str = ""
    weather: str = ""
    source: str = "typed"
    stores_in_frames: bool = False
    feed_kind: FeedKind | None = FeedKind.SYRUP_1_1
    medicine: str | None = None
    mites_method: MiteMethod | None = MiteMethod.WASH
    each_text: str = ""
    """The line of the whole site as typed."""
    each: Entry = EMPTY
    """What was done at every hive alike."""
    note: str = ""
    swaps: tuple[Swapped, ...] = ()
    corrects: int | None = None
    """The posted round that this one corrects; None for a round of its own."""
    seen: int | None = None
    """The version of that round when it was opened."""

    def habits(self, normals: tuple[Normal, ...]) -> Habits:
        """What the marks mean without details on this round."""
        return replace(
            habits_for(self.on, normals),
            stores_in_frames=self.stores_in_frames,
            feed_kind=self.feed_kind,
            medicine=self.medicine,
            mites_method=self.mites_method,
        )


@dataclass(frozen=True, slots=True)
class Line:
    """One hive of the draft. ``typed`` is what its own line says, without what is said for the whole site."""

    mark: str
    colony_id: int | None = None
    typed: Entry = EMPTY
    text: str | None = None
    """The quick line as typed; None when the cells were typed last."""
    accepted: frozenset[str] = frozenset()
    """Findings against the record that the office took over from the sheet."""
    confirmed: frozenset[str] = frozenset()
    """Odd things that the office has looked at."""
    reason: str = ""
    unread: tuple[Token, ...] = ()
    """Marks of ``text`` that were not read."""
    plain: Mapping[str, Any] = field(default_factory=dict, compare=False, repr=False)
    """The same for the draft's file; made once, when the line is."""

    @property
    def empty(self) -> bool:
        """Whether nothing was typed on it."""
        return blank(self.typed) and not self.unread and not (self.text or "").strip()


def line_of(**values: Any) -> Line:
    """A line with its plain form made."""
    line = Line(**values)
    return replace(line, plain=_plain(line))


def changed(line: Line, **values: Any) -> Line:
    """The line with other values, its plain form made anew."""
    new = replace(line, **values)
    return replace(new, plain=_plain(new))


def read_line(line: Line, text: str, habits: Habits) -> Line:
    """The line with ``text`` as its quick line."""
    reading = parse(text, habits)
    return changed(line, typed=reading.entry, text=text, unread=reading.problems)


def body_of(head: Head, lines: Sequence[Line], place: Mapping[str, Any]) -> dict[str, Any]:
    """All of a draft as JSON can hold it; ``place`` is where the typing stood."""
    return {"head": _plain_head(head), "lines": [line.plain for line in lines], "place": dict(place)}


def head_from(body: Mapping[str, Any]) -> Head:
    """The head of a kept draft."""
    kept = dict(body["head"])
    kept["on"] = date.fromisoformat(kept["on"])
    kept["feed_kind"] = FeedKind(kept["feed_kind"]) if kept["feed_kind"] else None
    kept["mites_method"] = MiteMethod(kept["mites_method"]) if kept["mites_method"] else None
    kept["each"] = from_plain(kept["each"])
    kept["swaps"] = tuple(
        Swapped(mark, other, date.fromisoformat(since)) for mark, other, since in kept["swaps"]
    )
    return Head(**kept)


def lines_from(body: Mapping[str, Any], habits: Habits) -> list[Line]:
    """The lines of a kept draft, marks that were not read with them."""
    return [_line_from(kept, habits) for kept in body["lines"]]


def _line_from(kept: Mapping[str, Any], habits: Habits) -> Line:
    text = kept.get("text")
    return line_of(
        mark=kept["mark"],
        colony_id=kept.get("colony"),
        typed=from_plain(kept.get("typed", {})),
        text=text,
        accepted=frozenset(kept.get("accepted", ())),
        confirmed=frozenset(kept.get("confirmed", ())),
        reason=kept.get("reason", ""),
        unread=parse(text, habits).problems if text else (),
    )


def _plain(line: Line) -> dict[str, Any]:
    said: dict[str, Any] = {"mark": line.mark, "colony": line.colony_id, "typed": as_plain(line.typed)}
    if line.text is not None:
        said["text"] = line.text
    for name in ("accepted", "confirmed"):
        if codes := getattr(line, name):
            said[name] = sorted(codes)
    if line.reason:
        said["reason"] = line.reason
    return said


def _plain_head(head: Head) -> dict[str, Any]:
    said = {one.name: getattr(head, one.name) for one in fields(head)}
    said["on"] = head.on.isoformat()
    said["each"] = as_plain(head.each)
    said["swaps"] = [[swap.mark, swap.other, swap.since.isoformat()] for swap in head.swaps]
    return said
