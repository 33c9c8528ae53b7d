"""Acts of every room drawn at random from what a ledger holds: what a desk might do next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from random import Random
from typing import Any

from sqlalchemy import select

from beeledger.base.findings import Finding, Grade
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony, HiveMark
from beeledger.model.honey import HoneyLot, Take
from beeledger.model.sites import Site
from beeledger.operations.colonies import end_colonies, found_colonies, give_mark, hives_at
from beeledger.operations.hive_marks import swap_marks
from beeledger.operations.honey import Filled, NewExtraction, extract_run
from beeledger.operations.honey_lots import NewLot, open_lot
from beeledger.operations.labels import NewBatch, jar_batch
from beeledger.operations.moves import post_move
from beeledger.operations.parties import NewParty, add_party
from beeledger.operations.rounds import Line, RoundToPost, post_round
from beeledger.operations.sites import NewSite, add_site, change_site
from beeledger.operations.takes import NewTake, NewTakeLine, NewWeighing, Weighed, record_take, weigh_take
from beeledger.queries.move_checks import finding_key
from beeledger.queries.records.move_desk import Carried, NewMove
from beeledger.rules.rounds.entry import Entry, Outcome

Accept = Callable[[list[Finding]], tuple[Any, ...]]


@dataclass(frozen=True, slots=True)
class Wish:
    """One act: what, with what, and what is said when it is asked whether that is meant."""

    operation: Callable[..., str]
    said: tuple[Any, ...]
    accept: Accept | None = None

    def again(self, found: list[Finding]) -> Wish | None:
        """The same with everything accepted that can be; None where something cannot."""
        if self.accept is None or any(one.grade is Grade.REFUSED for one in found):
            return None
        return Wish(self.operation, self.accept([one for one in found if one.grade is Grade.AGAINST]))


@dataclass(slots=True)
class Chance:
    """Draws acts for one desk."""

    ledger: Ledger
    dice: Random
    today: date
    name: str
    numbers: int = 0
    held: dict[str, list[Any]] = field(default_factory=dict)

    def wish(self) -> Wish:
        """The next act, made of rows that were there a moment ago."""
        with self.ledger.read() as session:
            self.held = {
                "sites": list(session.scalars(select(Site.id))),
                "hives": list(session.scalars(select(Colony.id).where(Colony.ended_on.is_(None)))),
                "marks": list(session.scalars(select(HiveMark.mark).where(HiveMark.until_on.is_(None)))),
                "lots": list(session.scalars(select(HoneyLot.id))),
                "takes": list(session.scalars(select(Take.id))),
            }
        rounds = [self._round] * 4
        kinds = [*rounds, self._move, self._move, self._take, self._weigh, self._lot, self._extract, self._jar,
                 self._party, self._hives, self._site, self._change, self._swap, self._mark, self._end]  # fmt: skip
        return self.dice.choice(kinds)()

    def _one(self, kind: str) -> Any:
        held = self.held[kind]
        return self.dice.choice(held) if held else 1

    def _day(self) -> date:
        return self.today - timedelta(days=self.dice.choice([0, 0, 0, 1, 3, 10]))

    def _next(self) -> int:
        self.numbers += 1
        return self.numbers

    def _round(self) -> Wish:
        lines = []
        for colony in {self._one("hives") for _ in range(self.dice.randint(1, 6))}:
            facts: dict[str, Any] = {"brood_tenths": self.dice.randrange(0, 110, 10)}
            facts |= self.dice.choice(
                [{}, {"supers_on": 1}, {"supers_off": 1}, {"temper": 2}, {"eggs": True}]
            )
            lines.append(Line(Entry(outcome=Outcome.LOOKED, **facts), colony_id=colony))
        uid = f"00000000-0000-4000-8000-{self.dice.getrandbits(48):012x}"
        new = RoundToPost(uid, self._one("sites"), self._day(), tuple(lines))

        def accept(asked: list[Finding]) -> tuple[Any, ...]:
            codes = frozenset(found.code for found in asked)
            kept = (replace(line, accepted=codes, reason="as the sheet says") for line in new.lines)
            return (replace(new, lines=tuple(kept)),)

        return Wish(post_round, (new,), accept)

    def _move(self) -> Wish:
        hives = tuple(Carried(number) for number in sorted({self._one("hives"), self._one("hives")}))
        left = self.dice.randint(0, 1300)
        new = NewMove(
            self._one("sites"), self._one("sites"), self._day(), left, left + 60, hives, exempt=True
        )

        def accept(asked: list[Finding]) -> tuple[Any, ...]:
            return (replace(new, accepted=frozenset(finding_key(found) for found in asked)),)

        return Wish(post_move, (new,), accept)

    def _take(self) -> Wish:
        line = NewTakeLine(self.dice.randint(1, 3), self._one("hives"))
        new = NewTake(self._one("sites"), self._day(), (line,))

        def accept(asked: list[Finding]) -> tuple[Any, ...]:
            codes = frozenset(found.code for found in asked)
            return (replace(new, lines=(replace(line, reason="marked as feed"),), accepted=codes),)

        return Wish(record_take, (new,), accept)

    def _weigh(self) -> Wish:
        net = self.dice.randint(1_000, 20_000)
        return Wish(
            weigh_take, (NewWeighing(self._one("takes"), self.today, (Weighed(net + 7_500, 7_500),)),)
        )

    def _lot(self) -> Wish:
        return Wish(open_lot, (NewLot("old drum", self._day(), self.dice.randint(5_000, 30_000)),))

    def _extract(self) -> Wish:
        filled = (Filled("drum", self.dice.randint(2_000, 20_000), 1_000),)
        return Wish(extract_run, (NewExtraction(self.today, (self._one("lots"),), filled, finish=True),))

    def _jar(self) -> Wish:
        new = NewBatch(self._one("lots"), self.today, 340, self.dice.randint(1, 20))

        def accept(asked: list[Finding]) -> tuple[Any, ...]:
            return (replace(new, accepted=frozenset(found.code for found in asked)),)

        return Wish(jar_batch, (new,), accept)

    def _party(self) -> Wish:
        return Wish(
            add_party, (NewParty(f"Grower {self.name} {self._next()}", ("grower",), phone="01487 000"),)
        )

    def _hives(self) -> Wish:
        marks = [f"{self.name}{self._next()}" for _ in range(3)]
        return Wish(found_colonies, (hives_at(self._one("sites"), self._day(), marks, queen_year=2025),))

    def _site(self) -> Wish:
        return Wish(add_site, (NewSite(f"Drove {self.name} {self._next()}"),))

    def _change(self) -> Wish:
        new = NewSite(f"Drove {self.name} {self._next()}", capacity=self.dice.randint(1, 60))
        return Wish(change_site, (self._one("sites"), new))

    def _swap(self) -> Wish:
        return Wish(swap_marks, (self._one("marks"), self._one("marks"), self._day()))

    def _mark(self) -> Wish:
        return Wish(
            give_mark,
            (self._one("hives"), self.dice.choice(["7", f"{self.name}{self._next()}"]), self._day()),
        )

    def _end(self) -> Wish:
        return Wish(end_colonies, ([self._one("hives")], self.today, "died"))
