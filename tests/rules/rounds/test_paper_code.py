"""What the corner codes of a round sheet carry, and how one that is lost is mended."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beeledger.rules.rounds.paper import PaperPage
from beeledger.rules.rounds.paper_code import check_sum, corner_words, page_of, read_corner, same_marks

HIVES = st.lists(st.none() | st.integers(1, 5_000_000), max_size=40)


def page(hives: list[int | None]) -> PaperPage:
    return PaperPage(
        2, 14, 739_750, 4711, 815, 17, 31, 837, tuple(hives), tuple(at % 9 for at in range(len(hives)))
    )


@settings(max_examples=60, deadline=None)
@given(HIVES, st.integers(0, 3))
def test_any_three_corners_of_four_say_the_whole_page(hives, lost):
    codes = [read_corner(words) for words in corner_words("24f37f9f", page(hives))]
    kept = [code for at, code in enumerate(codes) if at != lost and code is not None]
    assert page_of(kept) == page(hives)
    assert {code.sheet for code in kept} == {"24f37f9f"}


def test_two_corners_say_nothing():
    codes = [read_corner(words) for words in corner_words("24f37f9f", page([7, 8]))]
    with pytest.raises(ValueError, match="fewer than three"):
        page_of([code for code in codes[:2] if code])


def test_corners_that_do_not_agree_are_refused():
    ours, theirs = (corner_words("24f37f9f", page(hives)) for hives in ([7, 8], [60, 8]))
    codes = [read_corner(words) for words in (ours[0], ours[1], theirs[2])]
    with pytest.raises(ValueError, match="do not agree"):
        page_of([code for code in codes if code])


def test_another_code_is_none_of_ours():
    assert read_corner(b"(01)05012345678900") is None
    assert read_corner(b"") is None


def test_the_check_sum_is_the_published_one():
    # ITU-T V.41 polynomial from zero, "123456789": 0x31C3 (the XMODEM entry of G. Cook's catalogue of CRCs: from memory)
    assert check_sum(["123456789"]) == 0x31C3


def test_a_hive_with_another_mark_since_is_seen():
    printed = PaperPage(1, 14, 0, 0, check_sum(["12", "13", ""]), 0, 2, 837, (7, 8, None), (0, 0, 0))
    assert same_marks(printed, {7: "12", 8: "13"})
    assert not same_marks(printed, {7: "12", 8: "31"})
