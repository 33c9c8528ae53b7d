"""Queens as the list, the card and the grafts show them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from beeledger.rules.pedigree import MatingKind

MATING_WORDS: Mapping[MatingKind, str] = {
    MatingKind.OPEN: "open",
    MatingKind.DRONES: "drones of known mothers",
    MatingKind.SINGLE: "single drone",
    MatingKind.POOLED: "pooled semen",
}


@dataclass(frozen=True, slots=True)
class QueenName:
    """A queen in few words."""

    queen_id: int
    tag: str | None
    year: int | None
    marked: bool | None
    line: str | None = None
    ended_on: date | None = None
    end_cause: str | None = None
    hive: str | None = None
    """The number of the hive she heads."""
    colony_id: int | None = None
    origin: str | None = None

    @property
    def words(self) -> str:
        """Her tag, else her hive, else her year."""
        if self.tag:
            return self.tag
        if self.hive:
            return f"of hive {self.hive}"
        return f"of {self.year}" if self.year else "without a tag"


@dataclass(frozen=True, slots=True)
class QueenLine:
    """One row of the list of queens."""

    queen_id: int
    tag: str | None
    year: int | None
    marked: bool | None
    clipped: bool | None
    line: str | None
    origin: str | None
    note: str | None
    dam_id: int | None
    dam: str
    """What the dam is called; blank when none is recorded."""
    mating: MatingKind | None
    mated_at: str
    mated_on: date | None
    colony_id: int | None
    """The colony she heads now."""
    hive: str | None
    site_id: int | None
    site: str
    since: date | None
    state: str | None
    """How that colony last stood for a queen, since she heads it; None: nobody wrote it down."""
    state_on: date | None
    ended_on: date | None
    end_cause: str | None

    @property
    def name(self) -> str:
        """Her tag, else her hive, else her year."""
        return self.brief.words

    @property
    def brief(self) -> QueenName:
        """She in few words."""
        return QueenName(
            self.queen_id, self.tag, self.year, self.marked, self.line, self.ended_on, self.end_cause, self.hive, self.colony_id, self.origin,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Headed:
    """A colony she headed, from a day until a day."""

    colony_id: int
    hive: str | None
    since: date
    until: date | None
    why_ended: str | None


@dataclass(frozen=True, slots=True)
class Mated:
    """How she was mated."""

    kind: MatingKind
    site_id: int | None
    site: str
    on: date | None
    note: str | None
    drone_mothers: tuple[QueenName, ...] = ()


@dataclass(frozen=True, slots=True)
class ColonySays:
    """One figure that was recorded of her colonies while she headed them: its mean and on how many it rests."""

    mean: float | None = None
    count: int = 0


@dataclass(frozen=True, slots=True)
class ColoniesSay:
    """What was recorded of her colonies while she headed them. A mean of nothing is None, never 0."""

    temper: ColonySays = ColonySays()
    """From 1 to 5."""
    brood_tenths: ColonySays = ColonySays()
    mites_hundredths: ColonySays = ColonySays()
    """Counts by wash and roll only."""
    cells: ColonySays = ColonySays()
    """Share of the looks that said whether there were queen cells (no cups) at which there were."""
    honey_g: int | None = None
    """Estimates of the supers taken; None when nobody estimated any."""
    supers: int = 0
    takes: int = 0


@dataclass(frozen=True, slots=True)
class QueenCard:
    """Everything on the card of one queen."""

    line: QueenLine
    tenures: tuple[Headed, ...]
    mated: Mated | None
    daughters: tuple[QueenName, ...]
    sisters: tuple[QueenName, ...]
    says: ColoniesSay


@dataclass(frozen=True, slots=True)
class Graft:
    """One graft with the counts of its cells."""

    graft_id: int
    on: date
    dam: QueenName
    finisher_id: int | None
    finisher: str | None
    grafted: int | None
    taken: int | None
    sealed: int | None
    emerged: int | None
    mated: int | None
    note: str | None


@dataclass(frozen=True, slots=True)
class QueenChoices:
    """What the forms look typed words up in: tags, hive numbers, sites, lines."""

    tags: Mapping[str, int] = field(default_factory=dict)
    hives: Mapping[str, int] = field(default_factory=dict)
    heads: Mapping[str, int] = field(default_factory=dict)
    """The queen that heads each living hive, by its number."""
    sites: tuple[tuple[int, str], ...] = ()
    lines: tuple[str, ...] = ()
