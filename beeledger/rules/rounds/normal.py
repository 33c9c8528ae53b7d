"""What the farm calls normal, and its habits: what a mark means when it is typed without its details."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from beeledger.base.resources import table
from beeledger.rules.rounds.entry import Entry, FeedKind, MiteMethod
from beeledger.rules.rounds.plain import from_plain

_LIQUID = (FeedKind.SYRUP_1_1, FeedKind.SYRUP_2_1, FeedKind.SYRUP_READY)


@dataclass(frozen=True, slots=True)
class Normal:
    """What key n fills in one season, which begins on ``month``/``day`` and lasts until the next one."""

    name: str
    month: int
    day: int
    entry: Entry


@cache
def shipped_normals() -> tuple[Normal, ...]:
    """The seasons and their normal that ship with the program; a farm sets its own."""
    rows = table("rules", "rounds.toml")["normal"]
    return tuple(Normal(row["name"], row["month"], row["day"], from_plain(row["fills"])) for row in rows)


def normal_for(day: date, normals: tuple[Normal, ...] | None = None) -> Normal:
    """The normal of the season that ``day`` lies in. ``normals`` must not be empty."""
    seasons = sorted(shipped_normals() if normals is None else normals, key=lambda n: (n.month, n.day))
    begun = [season for season in seasons if (season.month, season.day) <= (day.month, day.day)]
    return begun[-1] if begun else seasons[-1]


@dataclass(frozen=True, slots=True)
class Habits:
    """What the quick line fills in by itself. Each is a setting of the farm, and can be set for one round."""

    normal: Entry
    bare: tuple[str, ...]
    """Fields that numbers without a letter fill, in this order."""
    stores_in_frames: bool
    """Whether a bare number of stores means frames (else kilograms)."""
    feed_kind: FeedKind | None
    """The usual syrup."""
    solid_kind: FeedKind | None
    """The usual feed by weight."""
    feed_ml: int | None
    """What the syrup mark means without a figure; None wants one."""
    medicine: str | None
    """The usual medicine; None until the farm has named one."""
    medicine_count: int | None
    mites_method: MiteMethod | None
    mites_bees: int | None
    mites_days: int | None

    def mite_details(self, method: MiteMethod | None) -> tuple[int | None, int | None]:
        """Usual bees in the sample and days on the board for a count by ``method``."""
        if method is MiteMethod.DROP:
            return None, self.mites_days
        return (None if method is None else self.mites_bees), None

    def after(self, entry: Entry) -> Habits:
        """The habits once ``entry`` has been typed: feed, medicine and mite count go on as on that line."""
        return replace(
            self,
            feed_kind=entry.feed_kind if entry.feed_kind in _LIQUID else self.feed_kind,
            solid_kind=self.solid_kind if entry.feed_kind in (None, *_LIQUID) else entry.feed_kind,
            feed_ml=entry.feed_ml or self.feed_ml,
            medicine=entry.medicine_in or self.medicine,
            medicine_count=entry.medicine_in_count or self.medicine_count,
            mites_method=entry.mites_method or self.mites_method,
            mites_bees=entry.mites_bees or self.mites_bees,
            mites_days=entry.mites_days or self.mites_days,
        )


def habits_for(day: date, normals: tuple[Normal, ...] | None = None) -> Habits:
    """The habits that ship with the program, with the normal of the season of ``day``."""
    row = table("rules", "rounds.toml")["habits"]
    return Habits(
        normal=normal_for(day, normals).entry,
        bare=tuple(row["bare"]),
        stores_in_frames=row["stores_in_frames"],
        feed_kind=FeedKind(row["feed_kind"]),
        solid_kind=FeedKind(row["solid_kind"]),
        feed_ml=None,
        medicine=None,
        medicine_count=row["medicine_count"],
        mites_method=MiteMethod(row["mites_method"]),
        mites_bees=row["mites_bees"],
        mites_days=row["mites_days"],
    )
