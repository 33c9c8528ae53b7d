"""The one door for text: nothing is markup, nothing is lost."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from beeledger.base.text import tidy
from beeledger.reporting.look.fonts import BODY, CELL, text_width
from beeledger.reporting.look.text import Lines, balanced, clean, paragraphs, wrapped


def test_markup_is_text():
    assert clean("<b>A & B</b>") == "<b>A & B</b>"


def test_control_and_direction_characters_do_not_get_in():
    assert clean("a\x00b\x1b[31m\u202ec\nd") == "a b [31m c d"


@given(st.text(max_size=300), st.floats(25, 400))
def test_wrapping_loses_no_character_and_no_line_is_too_wide(text, room):
    lines = wrapped(text, CELL, room)
    assert "".join(lines).replace(" ", "") == tidy(text).replace(" ", "")
    assert all(text_width(line, CELL) <= room or len(line) == 1 for line in lines)


def test_a_word_of_200_letters_is_broken_to_fit():
    lines = wrapped("x" * 200, CELL, 100)
    assert "".join(lines) == "x" * 200
    assert len(lines) > 5


def test_a_long_word_breaks_after_its_hyphen_where_that_is_late_enough():
    assert wrapped("abcdefgh-ijklm", CELL, 60)[0] == "abcdefgh-"


def test_balanced_lines_leave_no_lonely_last_word():
    text = "Not for infants under 12 months."
    room = text_width("Not for infants under 12", BODY) + 1
    assert wrapped(text, BODY, room) == ("Not for infants under 12", "months.")
    assert balanced(text, BODY, room) == ("Not for infants", "under 12 months.")


def test_line_ends_part_paragraphs_and_blank_lines_fall_away():
    assert paragraphs("a\n\n  \nb  c") == ["a", "b c"]


def test_running_text_splits_with_two_lines_on_either_side():
    lines = Lines("word " * 200, BODY)
    _, height = lines.wrap(200, 1000)
    assert lines.split(200, BODY.leading * 1.9) == []
    first, rest = lines.split(200, height - 1)
    assert rest.wrap(200, 1000)[1] == 2 * BODY.leading
    assert first.wrap(200, 1000)[1] + rest.wrap(200, 1000)[1] == height
