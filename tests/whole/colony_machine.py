"""The same farm with the acts of the desk on its colonies: split, united, helped, fed, treated, brought back."""

from __future__ import annotations

from datetime import date

from hypothesis import strategies as st
from hypothesis.stateful import rule

from beeledger.base.findings import Finding
from beeledger.model.colonies import Colony
from beeledger.model.medicines import Medicine
from beeledger.model.sites import Site
from beeledger.operations.colony_acts import (
    BoxChange,
    Dose,
    Feed,
    bring_back,
    change_boxes,
    feed_colonies,
    treat_colonies,
)
from beeledger.operations.colony_making import (
    Daughter,
    Gift,
    Uniting,
    give_frames,
    make_nucleus,
    split_colony,
    unite_colonies,
)
from beeledger.operations.colony_work import Answers
from beeledger.rules.rounds.entry import FeedKind, SplitQueen
from tests.whole.farm_facts import days, marks, picks
from tests.whole.farm_machine import Farm

several = st.lists(picks, min_size=1, max_size=3)
queens = st.none() | st.sampled_from(SplitQueen)
tenths = st.none() | st.sampled_from([10, 25])


class FarmOfColonies(Farm):
    """Every rule is one act on colonies; what is asked about is accepted, as the office would."""

    def some(self, which: list[int]) -> list[int]:
        return sorted({self.pick(one, Colony) for one in which})

    @rule(
        which=picks,
        site=picks,
        names=st.lists(marks, min_size=1, max_size=2),
        on=days,
        queen=queens,
        again=st.booleans(),
    )
    def split_a_colony(
        self, which: int, site: int, names: list[str], on: date, queen: SplitQueen | None, again: bool
    ) -> None:
        gift = Gift(self.pick(which, Colony), 20, 30)
        made = tuple(
            Daughter(mark, self.pick(site, Site), (gift,), queen=queen if at == 0 else None)
            for at, mark in enumerate(names)
        )
        self.settle(split_colony, lambda asked: (on, made, _answers(asked)), again)

    @rule(which=several, site=picks, mark=st.none() | marks, on=days, queen=queens, again=st.booleans())
    def make_a_nucleus(
        self, which: list[int], site: int, mark: str | None, on: date, queen: SplitQueen | None, again: bool
    ) -> None:
        gifts = tuple(Gift(number, 10) for number in self.some(which))
        made = Daughter(mark, self.pick(site, Site), gifts, queen=queen)
        self.settle(make_nucleus, lambda asked: (on, made, _answers(asked)), again)

    @rule(which=several, into=picks, on=days, stays=st.sampled_from(["into", "from"]), again=st.booleans())
    def unite_colonies(self, which: list[int], into: int, on: date, stays: str, again: bool) -> None:
        new = Uniting(tuple(self.some(which)), self.pick(into, Colony), stays)
        self.settle(unite_colonies, lambda asked: (on, new, _answers(asked)), again)

    @rule(which=picks, to=several, brood=tenths, cells=st.none() | st.just(1), on=days, again=st.booleans())
    def give_a_frame(
        self, which: int, to: list[int], brood: int | None, cells: int | None, on: date, again: bool
    ) -> None:
        gift = Gift(self.pick(which, Colony), brood, cells=cells)
        self.settle(give_frames, lambda asked: (on, gift, self.some(to), _answers(asked)), again)

    @rule(which=several, on=days, kind=st.sampled_from(FeedKind), again=st.booleans())
    def feed_some(self, which: list[int], on: date, kind: FeedKind, again: bool) -> None:
        feed = Feed(kind, 2000)
        self.settle(feed_colonies, lambda asked: (self.some(which), on, feed, _answers(asked)), again)

    @rule(which=several, on=days, pack=picks, out=st.booleans(), again=st.booleans())
    def treat_some(self, which: list[int], on: date, pack: int, out: bool, again: bool) -> None:
        dose = Dose(self.pick(pack, Medicine), 2, out)
        self.settle(treat_colonies, lambda asked: (self.some(which), on, dose, _answers(asked)), again)

    @rule(
        which=several,
        on=days,
        supers=st.none() | st.integers(0, 3),
        brood=st.none() | st.just(2),
        again=st.booleans(),
    )
    def change_some_boxes(
        self, which: list[int], on: date, supers: int | None, brood: int | None, again: bool
    ) -> None:
        change = BoxChange(brood_boxes=brood, supers=supers)
        self.settle(change_boxes, lambda asked: (self.some(which), on, change, _answers(asked)), again)

    @rule(which=picks, mark=st.none() | marks, again=st.booleans())
    def bring_one_back(self, which: int, mark: str | None, again: bool) -> None:
        number = self.pick(which, Colony, Colony.ended_on.is_not(None))
        self.settle(bring_back, lambda asked: (number, mark, _answers(asked)), again)


def _answers(asked: list[Finding]) -> Answers:
    return Answers(frozenset(found.code for found in asked), "as the office said" if asked else None)
