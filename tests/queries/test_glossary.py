"""The words of the trade: each of them said, findable by any of its names, and none missing from the screens."""

from __future__ import annotations

import pytest

from beeledger.queries.glossary import glossary, words_like


def test_the_words_stand_in_order_once_each_with_a_sentence():
    words = glossary().words
    assert len(words) >= 60
    names = [one.word for one in words]
    assert names == sorted(set(names), key=str.casefold)
    assert [one.word for one in words if not one.meaning.endswith(".")] == []


@pytest.mark.parametrize(
    ("typed", "word"), [("hef", "heft"), ("VARROA", "mites"), ("nuc", "nucleus"), ("lot mark", "lot mark")]
)
def test_a_word_is_found_by_the_beginning_of_any_of_its_names(typed: str, word: str):
    assert words_like(typed)[0].word == word


def test_what_begins_so_stands_before_what_only_holds_it():
    assert [one.word for one in words_like("super")][:2] == ["super", "supersedure"]
    assert words_like("qqq") == []
    assert len(words_like("")) == len(glossary().words)


def test_what_can_hurt_is_said_with_its_caution():
    (brood,) = words_like("foul brood")
    assert "bee inspector" in brood.meaning
    (left,) = words_like("disposal")
    assert "label" in left.meaning
