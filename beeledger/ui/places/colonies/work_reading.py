"""What the forms of the acts on colonies make of what was typed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from beeledger.base.findings import holds
from beeledger.operations.colony_acts import BoxChange, Dose, Feed
from beeledger.operations.colony_making import Daughter, Gift, Uniting
from beeledger.rules.hive_lists import read_hive_list
from beeledger.rules.rounds.entry import FeedKind, SplitQueen
from beeledger.ui.parts.typed_form import Typed

_LIQUID = (FeedKind.SYRUP_1_1, FeedKind.SYRUP_2_1, FeedKind.SYRUP_READY)


@dataclass(frozen=True, slots=True)
class Hives:
    """The living hives by number, and the site each stands at: what a form may name."""

    ids: Mapping[str, int]
    sites: Mapping[str, str]

    def offered(self, first: str, but: Sequence[str] = ()) -> list[tuple[str, str]]:
        """Hives to choose from, those of one site first."""
        marks = [mark for mark in self.ids if mark not in but]
        marks.sort(key=lambda mark: self.sites[mark] != first)
        return [("", ""), *((mark, f"{mark}  {self.sites[mark]}") for mark in marks)]

    def read(self, typed: Typed, field: str, what: str) -> tuple[int, ...]:
        """The hives named in a field."""
        text = typed.wanted(field, what)
        if text in self.ids:
            return (self.ids[text],)
        found = read_hive_list(text) if text else None
        for finding in found.findings if found else ():
            typed.refuse(field, finding.what, finding.mend)
        marks = found.marks if found else ()
        for mark in marks:
            if mark not in self.ids:
                typed.refuse(field, f"no living hive has the number {mark}")
        return tuple(self.ids[mark] for mark in marks if mark in self.ids)


@dataclass(frozen=True, slots=True)
class Made:
    """New colonies and the day they were made."""

    on: date
    daughters: tuple[Daughter, ...]


@dataclass(frozen=True, slots=True)
class Given:
    """What was given to which hives on a day."""

    on: date
    gift: Gift
    to_ids: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class United:
    """Which hives were united and the day."""

    on: date
    uniting: Uniting


@dataclass(frozen=True, slots=True)
class Fed:
    """What each hive got, and the day."""

    on: date
    feed: Feed


@dataclass(frozen=True, slots=True)
class Dosed:
    """The medicine, the day, and the reason where one is wanted."""

    on: date
    dose: Dose
    reason: str | None


@dataclass(frozen=True, slots=True)
class Boxed:
    """How the boxes stand, from which day."""

    on: date
    change: BoxChange


@dataclass(frozen=True, slots=True)
class Gone:
    """A queen gone: the day and why."""

    on: date
    why: str


def _gift(typed: Typed, colony_id: int, cells: int | None = None) -> Gift:
    return Gift(
        colony_id, typed.whole("brood", 10), typed.whole("bees", 10), typed.whole("stores", 10), cells
    )


def _queen(typed: Typed, field: str) -> SplitQueen | None:
    return SplitQueen(typed.text(field)) if typed.text(field) else None


def _new_marks(typed: Typed, what: str) -> tuple[str, ...]:
    found = read_hive_list(typed.wanted("hives", what))
    for finding in found.findings:
        typed.refuse("hives", finding.what, finding.mend)
    if not found.marks and not holds(typed.findings):
        typed.refuse("hives", what)
    return found.marks


def _site(typed: Typed) -> int:
    text = typed.wanted("site", "choose where it stands")
    return int(text) if text.isdigit() else 0


def read_splitting(colony_id: int) -> Callable[[Typed], Made | None]:
    """New colonies of one."""

    def read(typed: Typed) -> Made | None:
        on, gift, site_id = typed.day("on", needed=True), _gift(typed, colony_id), _site(typed)
        marks = _new_marks(typed, "type the number of each new hive")
        queens = [_queen(typed, "queen" if at == 0 else "rest") for at in range(len(marks))]
        kind = typed.text("kind")
        made = tuple(
            Daughter(mark, site_id, (gift,), kind, queen) for mark, queen in zip(marks, queens, strict=True)
        )
        return Made(on, made) if on and made else None

    return read


def read_nucleus(hives: Hives) -> Callable[[Typed], Made | None]:
    """One nucleus of several hives."""

    def read(typed: Typed) -> Made | None:
        on, site_id = typed.day("on", needed=True), _site(typed)
        givers = hives.read(typed, "from", "type the hives that gave")
        marks = _new_marks(typed, "type its number")
        if len(marks) > 1:
            typed.refuse("hives", "this makes one nucleus", "Make the others one by one")
        gifts = tuple(_gift(typed, giver) for giver in givers)
        if on is None or not marks:
            return None
        return Made(on, (Daughter(marks[0], site_id, gifts, typed.text("kind"), _queen(typed, "queen")),))

    return read


def read_uniting(ids: tuple[int, ...], hives: Hives) -> Callable[[Typed], United | None]:
    """Hives into another."""

    def read(typed: Typed) -> United | None:
        on, into = typed.day("on", needed=True), hives.read(typed, "into", "say into which hive")
        if len(into) > 1:
            typed.refuse("into", "it goes into one hive")
        return United(on, Uniting(ids, into[0], typed.text("queen"))) if on and into else None

    return read


def read_giving(colony_id: int, hives: Hives) -> Callable[[Typed], Given | None]:
    """Frames to other hives."""

    def read(typed: Typed) -> Given | None:
        on, to_ids = typed.day("on", needed=True), hives.read(typed, "to", "say to which hive")
        return Given(on, _gift(typed, colony_id, typed.whole("cells")), to_ids) if on else None

    return read


def read_feeding(typed: Typed) -> Fed | None:
    """What each hive was fed."""
    on, kind, amount = typed.day("on", needed=True), FeedKind(typed.text("kind")), typed.whole("amount", 1000)
    if not amount and not holds(typed.findings):
        typed.refuse("amount", "say how much each hive got")
    liquid = kind in _LIQUID
    feed = Feed(kind, amount if liquid else None, None if liquid else amount)
    return Fed(on, feed) if on else None


def read_dosing(typed: Typed) -> Dosed | None:
    """Medicine in or out."""
    on, pack = (
        typed.day("on", needed=True),
        typed.wanted("medicine", "choose the medicine; add it in Medicines first"),
    )
    pieces = typed.whole("pieces")
    if on is None or not pack.isdigit():
        return None
    return Dosed(on, Dose(int(pack), pieces, typed.text("way") == "out"), typed.text("reason") or None)


def read_boxing(typed: Typed) -> Boxed | None:
    """How the boxes stand."""
    on = typed.day("on", needed=True)
    change = BoxChange(
        typed.text("kind") or None, typed.text("hive_type") or None, _up_to(typed, "brood_boxes", 9),
        _up_to(typed, "brood_frames", 20), None, _up_to(typed, "supers", 20), typed.yes("excluder"),
    )  # fmt: skip
    if change == BoxChange():
        typed.refuse("brood_boxes", "say what is changed")
    return Boxed(on, change) if on else None


def _up_to(typed: Typed, field: str, most: int) -> int | None:
    number = typed.whole(field)
    if number is not None and number > most:
        typed.refuse(field, f"no hive has {number}")
    return number


def read_gone(typed: Typed) -> Gone | None:
    """When and why the queen went."""
    on = typed.day("on", needed=True)
    return Gone(on, typed.text("why") or "lost") if on else None


def read_back(old: str) -> Callable[[Typed], str]:
    """The number it has now; blank for its old one."""

    def read(typed: Typed) -> str:
        mark = typed.text("mark")
        return "" if mark == old else mark

    return read
