"""The breeder of the sample farm: the mothers its lines go back to, grafts at the home yard, tags for queens.

Its dice are its own, so that hives and honey fall as they would without it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

from beeledger.operations.grafts import CellCounts, NewGraft, count_cells, post_graft
from beeledger.operations.queen_book import NewMating, add_queen, note_mating, retire_queen
from beeledger.operations.queens import NewQueen
from beeledger.queries.queens import list_queens
from beeledger.queries.records.queens import QueenLine
from beeledger.rules.pedigree import MatingKind
from beeledger.sample.diary import Diary

_GRAFT_DAYS = ((5, 4), (6, 8))
_COUNTED = (
    (1, "taken", (0.65, 0.9)),
    (5, "sealed", (0.85, 1.0)),
    (12, "emerged", (0.85, 1.0)),
    (28, "mated", (0.6, 0.85)),
)
"""Days after the graft, what is counted, and the least and most share that is left of the step before."""
_LAYING_AFTER = timedelta(days=28)
_LARVAE = (24, 30, 36, 40)
_MOTHERS_YEARS, _GRANDMOTHERS_YEARS = 4, 7


@dataclass(slots=True)
class _Batch:
    """A graft under way: its id, its day, its dam, what was counted of it so far."""

    id: int
    on: date
    dam: QueenLine
    counts: dict[str, int]


@dataclass(slots=True)
class Breeder:
    """What the breeder knows: the mother of each line, the grafts, the last tag of each year."""

    dice: Random
    mothers: dict[str, int] = field(default_factory=dict)
    batches: list[_Batch] = field(default_factory=list)
    _last_tags: dict[int, int] = field(default_factory=dict)

    def enter_mothers(self, diary: Diary, lines: tuple[str, ...]) -> None:
        """Before the hives: each line's mother, and the queen whose drones the next line was mated to."""
        day = diary.clock.today()
        drones = [diary.do(add_queen, self._ancestor(day.year - _GRANDMOTHERS_YEARS, line)) for line in lines]
        for place, line in enumerate(lines):
            mother = diary.do(add_queen, self._ancestor(day.year - _MOTHERS_YEARS, line))
            of = drones[(place + 1) % len(lines)]
            mated = date(day.year - _MOTHERS_YEARS, 6, 12 + place)
            diary.do(note_mating, mother, NewMating(MatingKind.DRONES, None, mated, (of,)))
            self.mothers[line] = mother
        for queen in (*drones, *self.mothers.values()):
            diary.do(retire_queen, queen, day, "replaced")

    def opening(self, year: int, line: str | None) -> tuple[str | None, int | None]:
        """Tag and dam of a queen that is there when the record begins: of a line, or of nothing known."""
        return (self.next_tag(year), self.mothers[line]) if line in self.mothers else (None, None)

    def at_hand(self, day: date, line: str) -> NewQueen:
        """A queen for a hive without one: out of the last graft that lays by now, else bought."""
        tag = self.next_tag(day.year)
        ripe = [one for one in self.batches if one.on.year == day.year and one.on + _LAYING_AFTER <= day]
        if not ripe:
            return NewQueen(day.year, marked=True, tag=tag, line=line, origin="bought")
        dam = ripe[-1].dam
        return NewQueen(day.year, marked=True, tag=tag, line=dam.line, origin="own", dam_id=dam.queen_id)

    def next_tag(self, year: int) -> str:
        """The next tag of a year: "25-014"."""
        number = self._last_tags[year] = self._last_tags.get(year, 0) + 1
        return f"{year % 100:02}-{number:03}"

    def work(self, diary: Diary, home: int, day: date) -> None:
        """What the breeder does that day at the home yard: a graft, or the cells of one counted."""
        if (day.month, day.day) in _GRAFT_DAYS:
            self._graft(diary, home, day)
        for batch in self.batches:
            for after, step, shares in _COUNTED:
                if batch.on + timedelta(days=after) == day:
                    self._count(diary, batch, step, shares)

    def _ancestor(self, year: int, line: str) -> NewQueen:
        return NewQueen(year, marked=True, tag=self.next_tag(year), line=line, origin="bought")

    def _graft(self, diary: Diary, home: int, day: date) -> None:
        with diary.ledger.read() as session:
            here = [one for one in list_queens(session) if one.tag and one.line and one.site_id == home]
        ready = sorted(
            (one for one in here if one.year and one.year < day.year), key=lambda one: one.queen_id
        )
        if len(ready) < 2:
            return
        dam, nurse = self.dice.sample(ready, 2)
        larvae = self.dice.choice(_LARVAE)
        number = diary.do(post_graft, NewGraft(day, dam.queen_id, larvae, nurse.colony_id))
        if dam.mating is None:
            mated = date(dam.year or day.year - 1, 6, self.dice.randint(8, 28))
            diary.do(note_mating, dam.queen_id, NewMating(MatingKind.OPEN, home, mated))
        self.batches.append(_Batch(number, day, dam, {"grafted": larvae}))

    def _count(self, diary: Diary, batch: _Batch, step: str, shares: tuple[float, float]) -> None:
        before = list(batch.counts.values())[-1]
        batch.counts[step] = round(before * self.dice.uniform(*shares))
        diary.do(count_cells, batch.id, CellCounts(**batch.counts))
