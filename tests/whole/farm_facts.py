"""What may be said on a farm, drawn at random: days, numbers of hives, entries of a round."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from beeledger.rules.rounds.entry import (
    Cause,
    Entry,
    FeedKind,
    MiteMethod,
    Outcome,
    QueenState,
    Split,
    SplitQueen,
)

TODAY = date(2026, 5, 14)

picks = st.integers(0, 50)
days = st.sampled_from([0, 0, 1, 2, 5, 9, 20, 40, 60]).map(lambda back: TODAY - timedelta(days=back))
minutes = st.integers(0, 1439)
marks = st.sampled_from([str(number) for number in range(1, 16)])
splits = st.builds(
    Split, marks, st.sampled_from([10, 20]), st.none(), st.none() | st.sampled_from(SplitQueen)
)
FACTS: dict[str, st.SearchStrategy[Any]] = {
    "cause": st.sampled_from(Cause),
    "queen_state": st.sampled_from(QueenState),
    "brood_tenths": st.integers(0, 110),
    "supers_on": st.integers(0, 2),
    "supers_off": st.integers(0, 2),
    "medicine_in_count": st.just(2),
    "medicine_out_count": st.just(2),
    "split_to": st.tuples(splits),
    "united_into": marks,
}
TOGETHER: tuple[dict[str, st.SearchStrategy[Any]], ...] = (
    {"feed_ml": st.just(2000), "feed_kind": st.just(FeedKind.SYRUP_1_1)},
    {"mites_count": st.integers(0, 20), "mites_method": st.just(MiteMethod.WASH), "mites_bees": st.just(300)},
    {"brood_given_from": marks, "brood_given_tenths": st.just(10)},
    *({name: values} for name, values in FACTS.items()),
)
entries = st.tuples(
    st.sampled_from([Outcome.LOOKED, Outcome.LOOKED, Outcome.LOOKED, *Outcome]),
    st.lists(st.sampled_from(TOGETHER).flatmap(st.fixed_dictionaries), max_size=2),
).map(
    lambda drawn: Entry(
        outcome=drawn[0], **{name: value for facts in drawn[1] for name, value in facts.items()}
    )
)
