"""Jars of a lot: pieces and grams that sum, whoever counted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.rules.jars import counts_of, grams_of, jars_left, jars_of


def test_grams_are_the_nearest_number_of_jars() -> None:
    # By hand: 34,150 g in 100 jars are 341.5 g each; 8,196 g are 24.0 of them, 512 g 1.4993, 512.25 g 1.5.
    assert [jars_of(grams, 100, 34_150) for grams in (8_196, 512, 513, 0)] == [24, 1, 2, 0]
    assert jars_of(500, 100, 0) == 0
    with pytest.raises(ValueError, match="below nought"):
        jars_of(-1, 100, 34_150)


def test_what_was_counted_is_believed_and_the_rest_reckoned() -> None:
    assert jars_left(100, 34_150, 33, 8_196) == 43


def test_the_last_jar_takes_the_last_gram() -> None:
    # Largest remainders: 33 of 100 jars of 34,150 g are 11,269.5 g; the tie goes to the jars that leave.
    assert (grams_of(33, 100, 34_150), grams_of(67, 67, 22_880)) == (11_270, 22_880)
    with pytest.raises(ValueError, match="11 of 10 jars"):
        grams_of(11, 10, 3_400)


@given(
    rows=st.lists(st.tuples(st.integers(1, 5_000), st.booleans(), st.integers(1, 12)), max_size=8),
    filled=st.integers(1, 500),
    jars_g=st.integers(50, 200_000),
)
def test_reckoned_rows_sum_to_what_is_reckoned_of_the_whole(rows, filled, jars_g) -> None:
    grams = [each for each, _, _ in rows]
    counts = [count if counted else None for _, counted, count in rows]
    found = counts_of(grams, counts, filled, jars_g)
    loose = sum(each for each, counted, _ in rows if not counted)
    counted_out = sum(count for _, counted, count in rows if counted)
    assert filled - sum(found) == jars_left(filled, jars_g, counted_out, loose)
    assert [c for c, known in zip(found, counts, strict=True) if known is not None] == [
        c for c in counts if c is not None
    ]
