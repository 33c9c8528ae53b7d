"""What the rule is told of a colony, and the reason it answers with."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Fact(StrEnum):
    """The kind of fact a reason follows from, by which a person finds it again."""

    LOOK = "look"
    COUNT = "count"
    COURSE = "course"
    FEED = "feed"
    GRAFT = "graft"
    MADE = "made"
    TASK = "task"


@dataclass(frozen=True, slots=True)
class Grafted:
    """A graft whose cells this colony finishes; which of its counts have been made."""

    on: date
    taken: bool = False
    emerged: bool = False
    mated: bool = False


@dataclass(frozen=True, slots=True)
class Fed:
    """The last feed: syrup by volume or not, and the sugar in it where it is known."""

    on: date
    liquid: bool
    sugar_g: int | None = None


@dataclass(frozen=True, slots=True)
class Asked:
    """A task a person asked for at the desk, not yet done."""

    what: str
    asked_on: date | None
    due_on: date


@dataclass(frozen=True, slots=True)
class ColonyFacts:
    """What the rule must know of one colony. None: not looked at, or never.

    ``kind`` is full, nucleus or mating. ``since`` is the day it came into the record. ``looked`` is
    the last time somebody opened it, ``visited`` the last time somebody opened or hefted it,
    ``not_found`` the last time it was looked for in vain; ``queen_state`` (right, virgin, cells, queenless, drone_layer)
    what was then found and ``queen_state_since`` the first look that found it; ``queen_seen`` the
    last look with a queen or eggs. ``cells`` (open, sealed) is what was left in the hive at the last
    look and ``cells_done`` what was done about them. ``mites_hundredths`` is the share of bees with mites by the last count, or, where that was a natural drop,
    ``mites_estimate`` the mites in the colony by it. ``strips_in`` is set while something is in,
    ``strips_out_by`` the end of its course, ``treated`` the day the last treatment ended.
    ``dosed`` holds the days on which the substance of a course of two doses was put in that still runs;
    ``withdrawal_from`` the first day free of the withdrawal written down, ``oxalic_on`` the last oxalic acid,
    ``broodless_on`` the last look that found no brood, if the last did.
    ``next_on`` with ``next_action`` is what the office typed, an empty action meaning "look again".
    """

    colony: int
    kind: str = "full"
    since: date | None = None
    looked: date | None = None
    visited: date | None = None
    not_found: date | None = None
    queen_state: str | None = None
    queen_state_since: date | None = None
    queen_seen: date | None = None
    clipped: bool = False
    cells: str | None = None
    cells_done: str = ""
    bees_tenths: int | None = None
    stores_g: int | None = None
    stores_on: date | None = None
    supers: int = 0
    super_fullness_tenths: int | None = None
    mites_hundredths: int | None = None
    mites_estimate: int | None = None
    mites_on: date | None = None
    strips_in: date | None = None
    strips_out_by: date | None = None
    treated: date | None = None
    next_action: str = ""
    next_on: date | None = None
    question: str = ""
    dosed: tuple[date, ...] = ()
    withdrawal_from: date | None = None
    oxalic_on: date | None = None
    broodless_on: date | None = None
    fed: Fed | None = None
    grafts: tuple[Grafted, ...] = ()
    tasks: tuple[Asked, ...] = ()


@dataclass(frozen=True, slots=True)
class Due:
    """One reason. ``what`` is to be done, ``why`` names the fact; ``minutes`` of work if it is the only one.

    ``fact`` with ``fact_on`` say which kind of fact of which day it follows from.
    """

    colony: int
    code: str
    what: str
    why: str
    due_on: date
    minutes: int
    fact: str = ""
    fact_on: date | None = None
