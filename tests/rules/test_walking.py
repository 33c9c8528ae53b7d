"""The walking order of a site."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from beeledger.rules.walking import rewalked


def test_the_whole_walk_is_the_new_order() -> None:
    assert rewalked([1, 2, 3], [3, 1, 2]) == [3, 1, 2]


def test_hives_not_visited_keep_their_places() -> None:
    assert rewalked([1, 2, 3, 4], [4, 2]) == [1, 4, 3, 2]


def test_a_new_hive_comes_after_the_one_walked_before_it() -> None:
    assert rewalked([1, 2, 3], [1, 9, 2]) == [1, 9, 2, 3]
    assert rewalked([1, 2], [9, 1]) == [9, 1, 2]


@given(st.permutations(range(8)), st.lists(st.integers(0, 12), unique=True))
def test_nobody_is_lost_or_doubled_and_the_walk_is_kept(order: list[int], walked: list[int]) -> None:
    new = rewalked(order, walked)
    assert sorted(new) == sorted({*order, *walked})
    assert [hive for hive in new if hive in walked and hive in order] == [
        hive for hive in walked if hive in order
    ]
